"""Dates and times as labs print them, to ISO 8601."""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache
from typing import NamedTuple

_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january ene enero",
            "feb february febrero",
            "mar march marzo",
            "apr april abr abril",
            "may mayo",
            "jun june junio",
            "jul july julio",
            "aug august ago agosto",
            "sep sept september septiembre setiembre",
            "oct october octubre",
            "nov november noviembre",
            "dec december dic diciembre",
        ),
        start=1,
    )
    for name in names.split()
}
_ISO = re.compile(r"(?<!\d)(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)")
_NUMBERS = re.compile(r"(?<!\d)(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?!\d)")
_DAY_MONTH = re.compile(
    r"(?i)(?<!\d)(\d{1,2})[-\s./]*(?:de\s+)?([a-z]{3,10})\.?[-\s./,]*(?:de\s+)?(\d{4}|\d{2})(?!\d)"
)
_MONTH_DAY = re.compile(
    r"(?i)\b([a-z]{3,10})\.?[-\s]*(\d{1,2})(?:st|nd|rd|th)?[,\s-]+(\d{4}|\d{2})(?!\d)"
)
_PACKED = re.compile(
    r"^(\d{2})(\d{2})(\d{2})$|^(\d{4})(\d{2})(\d{2})(?=$|\s+\d{4}(?: [A-Z]{2,4})?$)"
)
_TIME = re.compile(
    r"(?i)(?<![\d:])(\d{1,2})[:h](\d{2})(?::\d{2}(?:\.\d+)?)?\s*([ap])?\.?m?\.?(?![\d:])"
)
_TIME_PACKED = re.compile(r"(?<!\d)([01]\d|2[0-3])([0-5]\d)(?!\d)")
_BEFORE_HOUR = re.compile(r"(?is:.{,3})|(?i:[\s,;@]*(?:hour|hr|time|at)\b[\s:.]*)")
"""What may stand between a day and its hour: "4/6/26 Hour 0815"."""


_DASHED = re.compile(r"\d{1,2}-\d{1,2}-(?:19|20)\d\d(?: |$)")
"""A day with dashes and a whole year, and nothing before it: no number of a sample."""


class Stamp(NamedTuple):
    """A date, perhaps with a time."""

    iso: str
    ambiguous: bool
    """The day and the month could be taken for each other."""
    start: int
    end: int
    """Which part of the text it was."""


_HOUR = re.compile(
    r"(?i)(?:[01]\d|2[0-3]):?[0-5]\d(?: ?(?:hrs?|h))?|\d:[0-5]\d|\d?\d:[0-5]\d ?[ap]\.?m\.?"
)


@lru_cache(maxsize=8192)
def stamp(text: str, *, day_first: bool = False, packed: bool = False) -> Stamp | None:
    """Return the first date in a text, with the time behind it; None where there is none.

    ``packed`` also takes a bare 190308 or 20190308, which only a head of a date column warrants.
    """
    if not any(c.isdigit() for c in text):
        return None
    found = _iso(text) or _numbers(text, day_first=day_first) or _named(text)
    if not found and packed:
        found = _packed(text)
    if not found:
        return None
    day, ambiguous, start, end = found
    clock, end = _clock(text, end)
    return Stamp(f"{day.isoformat()}T{clock}" if clock else day.isoformat(), ambiguous, start, end)


def time_of(text: str) -> str | None:
    """Return a time of day alone as HH:MM."""
    clock, _ = _clock(text, 0)
    return clock


def is_date(text: str) -> bool:
    """Whether a text is a date, with or without a time, and nothing else."""
    found = stamp(text)
    return found is not None and found.start <= 1 and len(text) - found.end <= 5


def settles_day_first(text: str) -> bool | None:
    """Return True or False where a printed date can only be read one way, else None."""
    match = _NUMBERS.search(text)
    if not match or (match[2] != "/" and not _DASHED.match(text)):
        return None
    first, second = int(match[1]), int(match[3])
    if first > 12 >= second:
        return True
    return False if second > 12 >= first else None


_Found = tuple[date, bool, int, int]


def _date(year: int, month: int, day: int) -> date | None:
    if year < 100:
        year += 2000 if year < 70 else 1900
    if not 1950 <= year <= 2100:
        return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _iso(text: str) -> _Found | None:
    match = _ISO.search(text)
    if not match:
        return None
    day = _date(int(match[1]), int(match[2]), int(match[3]))
    return (day, False, match.start(), match.end()) if day else None


def _numbers(text: str, *, day_first: bool) -> _Found | None:
    match = _NUMBERS.search(text)
    if not match:
        return None
    first, second, year = int(match[1]), int(match[3]), int(match[4])
    either = first <= 12 and second <= 12 and first != second and match[2] != "."
    first_is_day = first > 12 or (second <= 12 and (day_first or match[2] == "."))
    day = _date(year, second, first) if first_is_day else _date(year, first, second)
    return (day, either, match.start(), match.end()) if day else None


def _named(text: str) -> _Found | None:
    for pattern, order in ((_DAY_MONTH, (1, 2)), (_MONTH_DAY, (2, 1))):
        for match in pattern.finditer(text):
            month = _MONTHS.get(match[order[1]].lower())
            if month is None:
                continue
            day = _date(int(match[3]), month, int(match[order[0]]))
            if day:
                return day, False, match.start(), match.end()
    return None


def _packed(text: str) -> _Found | None:
    match = _PACKED.match(text.strip())
    if not match:
        return None
    parts = [int(g) for g in match.groups() if g]
    day = _date(*parts)
    return (day, False, 0, match.end()) if day else None


def _clock(text: str, start: int) -> tuple[str | None, int]:
    match = _TIME.search(text, start)
    if match:
        hour, minute = int(match[1]), int(match[2])
        half = (match[3] or "").lower()
        if half == "p" and hour < 12:
            hour += 12
        if half == "a" and hour == 12:
            hour = 0
        if hour < 24 and minute < 60:
            return f"{hour:02d}:{minute:02d}", match.end()
    packed = _TIME_PACKED.search(text, start)
    if packed and start and _BEFORE_HOUR.fullmatch(text, start, packed.start()):
        return f"{packed[1]}:{packed[2]}", packed.end()
    return None, start


def is_hour(text: str) -> bool:
    """Whether a text is an hour and nothing else: "0810", "8:10 AM"."""
    return text[:1].isdigit() and _HOUR.fullmatch(text) is not None
