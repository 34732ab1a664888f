"""One section of a user's file of levels: its keys, and complaints that name line and key."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from .errors import LevelsFileError
from .own_text import near, told

LONGEST = 90
"""Characters of a text that goes into sentences."""


@dataclass(frozen=True, slots=True)
class Section:
    """The keys of one section, and how to complain about one of them."""

    path: str
    title: str
    """``pack``, or ``level 2``."""
    lines: Mapping[str, int]
    """On which line each key stands; under "" the section's own line."""
    values: Mapping[str, object]

    def wrong(self, key: str, problem: str, known: str) -> LevelsFileError:
        """Return the error that names the line, the section and the key."""
        line = self.lines.get(key) or self.lines.get("", 1)
        place = told("line_key", line=line, key=f"{self.title}{f', {key}' if key else ''}")
        return LevelsFileError(self.path, place, problem, known)

    def only(self, known: Iterable[str]) -> None:
        """Complain about a key that is not known."""
        for key in self.values:
            if key not in known:
                problem = told("unknown_name", near=near(key, known))
                raise self.wrong(key, problem, ", ".join(known))

    def text(self, key: str, known: str) -> str:
        """Return one line of text that must be there; ``known`` says what may stand."""
        value = self.values.get(key)
        if not isinstance(value, str) or not value.strip() or not value.isprintable():
            raise self.wrong(key, told("missing" if value is None else "not_line"), known)
        if len(value) > LONGEST:
            raise self.wrong(key, told("too_long", most=LONGEST), known)
        return value.strip()

    def choice(self, key: str, known: Iterable[str]) -> str:
        """Return one word of a closed list."""
        value = self.text(key, ", ".join(known))
        if value not in known:
            problem = told("unknown_here", value=f'"{value}"', near=near(value, known))
            raise self.wrong(key, problem, ", ".join(known))
        return value

    def number(self, key: str) -> Decimal | None:
        """Return a number from 0 up, or None where the key is left out."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong(key, told("not_number"), told("number_such"))
        number = Decimal(value)
        if not number.is_finite() or not 0 <= number < Decimal(10) ** 9:
            known = told("range_below", high=1000000000)
            raise self.wrong(key, told("out_of_range", value=value), known)
        return number

    def flag(self, key: str) -> bool:
        """Return true or false; false where the key is left out."""
        value = self.values.get(key, False)
        if not isinstance(value, bool):
            raise self.wrong(key, told("not_yes_or_no"), "true, false")
        return value

    def day(self, key: str) -> date | None:
        """Return a date, or None where the key is left out."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, datetime) or not isinstance(value, date):
            raise self.wrong(key, told("not_date"), told("date_such", example="2026-03-01"))
        return value


def lines_of(text: str, header: str, number: int) -> Mapping[str, int]:
    """Return the line of each key in the ``number``-th section that begins with ``header``.

    The section's own line stands under "".
    """
    found: dict[str, int] = {}
    seen = -1
    for at, line in enumerate(text.splitlines(), start=1):
        if line.lstrip().startswith("["):
            if found:
                break
            seen += line.strip().startswith(header)
            if seen == number and line.strip().startswith(header):
                found[""] = at
        elif found and (key := re.match(r"\s*([\w-]+)\s*=", line)):
            found[key.group(1)] = at
    return found
