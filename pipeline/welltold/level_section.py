"""One section of a user's file of levels: its keys, and complaints that name line and key."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from difflib import get_close_matches

from .errors import LevelsFileError

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
        place = f"line {line}, {self.title}{f', {key}' if key else ''}"
        return LevelsFileError(self.path, place, problem, known)

    def only(self, known: Iterable[str]) -> None:
        """Complain about a key that is not known."""
        for key in self.values:
            if key not in known:
                raise self.wrong(key, f"is not a known name{near(key, known)}", ", ".join(known))

    def text(self, key: str, known: str) -> str:
        """Return one line of text that must be there; ``known`` says what may stand."""
        value = self.values.get(key)
        if not isinstance(value, str) or not value.strip() or not value.isprintable():
            raise self.wrong(key, "is missing" if value is None else "is not a line of text", known)
        if len(value) > LONGEST:
            raise self.wrong(key, f"is longer than {LONGEST} characters", known)
        return value.strip()

    def choice(self, key: str, known: Iterable[str]) -> str:
        """Return one word of a closed list."""
        value = self.text(key, ", ".join(known))
        if value not in known:
            problem = f'"{value}" is not known here{near(value, known)}'
            raise self.wrong(key, problem, ", ".join(known))
        return value

    def number(self, key: str) -> Decimal | None:
        """Return a number from 0 up, or None where the key is left out."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, bool) or not isinstance(value, int | Decimal):
            raise self.wrong(key, "is not a number", "a number without quotes, such as 0.005")
        number = Decimal(value)
        if not number.is_finite() or not 0 <= number < Decimal(10) ** 9:
            raise self.wrong(key, f"{value} is out of range", "0 to less than 1000000000")
        return number

    def flag(self, key: str) -> bool:
        """Return true or false; false where the key is left out."""
        value = self.values.get(key, False)
        if not isinstance(value, bool):
            raise self.wrong(key, "is neither true nor false", "true, false")
        return value

    def day(self, key: str) -> date | None:
        """Return a date, or None where the key is left out."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, datetime) or not isinstance(value, date):
            raise self.wrong(key, "is not a date", "a date without quotes, such as 2026-03-01")
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


def near(word: str, known: Iterable[str]) -> str:
    """Return a question for the nearest known word, to stand behind a complaint."""
    found = get_close_matches(word, list(known), n=1)
    return f' (did you mean "{found[0]}"?)' if found else ""
