"""Reads the stage files, ``data/stages/NAME.toml``: one file a stage, all that is known of it.

The grammar stands in ``data/stage_template.toml``. A file that does not keep to it is refused with
its name and line (`DataFileError`); nothing is filled in for it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from importlib.resources import files
from typing import Any

from .errors import DataFileError

STATUS = frozenset({"verified", "practice", "memory"})
PRACTICE, MEMORY = "common practice, no source", "from memory, unverified"
"""Citations that go with a status; every other one names what was read, or a computation."""
_WORDS, _TEXT, _TRUTH, _NUMBER = "a list of words", "a text", "true or false", "a number"
_SOURCED = {"citation": _TEXT, "status": _TEXT}
_STAGE = {
    "place": _TEXT,
    "treats": _WORDS,
    "needs": _WORDS,
    "raises": _WORDS,
    "backwash": _TRUTH,
    "salt": _TRUTH,
    "chemical": _TRUTH,
    "waste": _TEXT,
    "cautions": _WORDS,
    **_SOURCED,
}
_ORDER = {"number": _NUMBER, "why": _TEXT, **_SOURCED}
_CONDITION = {"fact": _TEXT, "op": _TEXT, "beyond": _TEXT, **_SOURCED}
_MAY = {"for": _TEXT, "value": _NUMBER, "unit": _TEXT, "basis": _TEXT, "ask": _TEXT}
_EFFECT = {"do": _TEXT, **_SOURCED}
_HEADERS = re.compile(r"^\[(?:order\]|\[condition\]\]|\[effect\]\])", re.MULTILINE)


@cache
def stage_names() -> tuple[str, ...]:
    """Return the name of every stage, in alphabetical order."""
    folder = files("welltold") / "data" / "stages"
    names = (entry.name for entry in folder.iterdir())
    return tuple(sorted(name.removesuffix(".toml") for name in names if name.endswith(".toml")))


@cache
def stage_file(stage: str) -> Mapping[str, Any]:
    """Return one stage file, numbers as Decimal; KeyError for no such stage, DataFileError."""
    if stage not in stage_names():
        raise KeyError(stage)
    text = (files("welltold") / "data" / "stages" / f"{stage}.toml").read_text("utf-8")
    return read_stage(f"stages/{stage}.toml", text)


def read_stage(name: str, text: str) -> Mapping[str, Any]:
    """Return the text of a stage file as it is written, checked; DataFileError."""
    try:
        raw = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"line (\d+)", str(error))
        raise DataFileError(name, int(line[1]) if line else 1, str(error)) from None
    tables = {"order", "condition", "effect"}
    top = {key: value for key, value in raw.items() if key not in tables}
    _Part(name, 1).check(top, _STAGE, {"standard": _TEXT})
    parts = iter(_parts(name, text))
    # tables stand in the file in this order; the template says so
    _next(parts, name).check(raw.get("order", {}), _ORDER, {})
    for condition in raw.get("condition", ()):
        _next(parts, name).check(condition, _CONDITION, _MAY)
    for effect in raw.get("effect", ()):
        _next(parts, name).check(effect, _EFFECT, None)
    return raw


@dataclass(frozen=True, slots=True)
class _Part:
    """One table of a file, with the line at which it begins."""

    file: str
    line: int

    def check(
        self, table: Mapping[str, Any], must: Mapping[str, str], may: Mapping[str, str] | None
    ) -> None:
        """Complain about a key that is missing, unknown or of the wrong kind; DataFileError."""
        for key in must:
            if key not in table:
                raise self.wrong(f"{key} is missing")
        for key, value in table.items():
            kind = must.get(key) or (may or {}).get(key)
            if kind is None and may is not None:
                raise self.wrong(f"{key} is not a known key")
            if kind is not None and not _is(kind, value):
                raise self.wrong(f"{key} is not {kind}")
        self.check_source(str(table["citation"]), str(table["status"]))

    def check_source(self, citation: str, status: str) -> None:
        """Complain about a citation that does not go with its status; DataFileError."""
        if status not in STATUS:
            raise self.wrong(f"status: {status!r} is not one of {', '.join(sorted(STATUS))}")
        if not citation:
            raise self.wrong("citation is empty")
        said = {PRACTICE: "practice", MEMORY: "memory"}.get(citation)
        if said is not None and said != status:
            raise self.wrong(f"{citation!r} is not {status}")

    def wrong(self, problem: str) -> DataFileError:
        """Return the error that names this place."""
        return DataFileError(self.file, self.line, problem)


def _parts(name: str, text: str) -> list[_Part]:
    return [_Part(name, text.count("\n", 0, at.start()) + 1) for at in _HEADERS.finditer(text)]


def _next(parts: Iterator[_Part], name: str) -> _Part:
    return next(parts, _Part(name, 1))


def _is(kind: str, value: object) -> bool:
    if kind == _TRUTH:
        return isinstance(value, bool)
    if kind == _NUMBER:
        return isinstance(value, int | Decimal) and not isinstance(value, bool)
    if kind == _TEXT:
        return isinstance(value, str) and value != ""
    return isinstance(value, list) and all(isinstance(one, str) and one for one in value)
