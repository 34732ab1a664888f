"""The letterhead: who hands a report over, as a small TOML file, with a logo beside it.

It is bounded in every direction, so that it can neither push a health concern down the page nor
make a page heavy. Nothing of it enters the findings or the published JSON.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from .errors import LetterheadError
from .logo import Logo, load_logo
from .own_text import near, own_text, told

LONGEST_LINE = 60
MOST_ADDRESS_LINES = 4
LONGEST_CLOSING = 400
PROMISES = frozenset({
    "safe", "safely", "pure", "guarantee", "guaranteed", "guarantees", "harmless",
    "seguro", "segura", "puro", "pura", "garantiza", "garantizado", "garantizada",
    "garantizamos", "inofensivo", "inofensiva",
})  # fmt: skip
"""Words that a closing paragraph may not hold: the report beside it promises no such thing."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """Name, address and closing words; "" and () for what was not given."""

    name: str = ""
    address: tuple[str, ...] = ()
    phone: str = ""
    email: str = ""
    web: str = ""
    logo: Logo | None = None
    closing: str = ""


KNOWN = tuple(field.name for field in fields(Letterhead))


def load_letterhead(path: str | Path) -> Letterhead:
    """Return the letterhead of a TOML file; FileMissingError, LetterheadError."""
    name = str(path)
    text = own_text(path, _wrong(name, told("the_file"), told("not_text")))
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _wrong(name, "TOML", told("toml", problem=error)) from None
    if not raw:
        raise _wrong(name, told("the_file"), told("letterhead_empty"))
    for key in raw:
        if key not in KNOWN:
            raise _wrong(name, key, told("letterhead_key", near=near(key, KNOWN)))
    return Letterhead(**{key: _value(name, key, value) for key, value in raw.items()})


def logo_file(path: Path) -> Path | None:
    """Return the logo's file of a letterhead that was loaded before, if it has one."""
    logo = tomllib.loads(path.read_text("utf-8-sig")).get("logo")
    return path.parent / logo if logo else None


def _value(path: str, key: str, value: Any) -> Any:
    """Return the value of one key as the letterhead holds it."""
    if key == "address":
        return _address(path, value)
    longest = LONGEST_CLOSING if key == "closing" else LONGEST_LINE
    text = _line(path, key, value, None if key == "logo" else longest)
    promised = PROMISES & {*re.findall(r"\w+", text.lower())} if key == "closing" else ()
    if promised:
        raise _wrong(path, key, told("letterhead_promise", word=repr(min(promised))))
    return load_logo(Path(path).parent / text, path) if key == "logo" else text


def _address(path: str, value: Any) -> tuple[str, ...]:
    if not isinstance(value, list):
        raise _wrong(path, "address", told("letterhead_lines", example='["12 Millrace Road"]'))
    if len(value) > MOST_ADDRESS_LINES:
        raise _wrong(
            path, "address", told("letterhead_most_lines", n=len(value), most=MOST_ADDRESS_LINES)
        )
    return tuple(_line(path, "address", line, LONGEST_LINE) for line in value)


def _line(path: str, key: str, value: Any, longest: int | None) -> str:
    """Return one line of text, its white space as single blanks."""
    if not isinstance(value, str):
        raise _wrong(path, key, told("letterhead_quotes"))
    text = " ".join(value.split())
    if longest is not None and len(text) > longest:
        raise _wrong(path, key, told("letterhead_letters", n=len(text), most=longest))
    return text


def _wrong(path: str, key: str, problem: str) -> LetterheadError:
    return LetterheadError(path, key, problem, ", ".join(KNOWN))
