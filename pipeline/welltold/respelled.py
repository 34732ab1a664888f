"""What a spreadsheet program makes of a cell that nobody changed.

Opening and saving a CSV turns 12.0 into 12, 2026-11-02 into 11/2/2026, 3-11 into 11-Mar and
1234567890123 into 1.23457E+12, and may replace letters outside ASCII. None of this is a change by
a person; everything else is.
"""

from __future__ import annotations

import re
from collections import Counter
from decimal import Decimal

_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_DATE = re.compile(
    r"(?P<day>\d{1,4}[-/. ](?:\d{1,2}|[a-z]{3,9})(?:[-/. ]\d{1,4})?|[a-z]{3}-\d{2})?"
    r"[ t]?(?:(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::\d{2}(?:\.\d+)?)? ?(?:[ap]m)?z?)?"
)
_NUMBER = re.compile(r"[-+]?[\d,]*\.?\d+(?:e[-+]?\d+)?|\(\d[\d,]*\.?\d*\)")
_SHOWN = Decimal("1e-5")
"""A spreadsheet shows a long number as 1.23457E+12: six digits."""


def same_cell(written: str, found: str) -> bool:
    """Whether ``found`` is what was ``written``, or what a spreadsheet program makes of it."""
    one, other = _plain(written), _plain(found)
    if one == other:
        return True
    first, second = _number(one), _number(other)
    if first is not None and second is not None:
        near = abs(first - second) <= abs(first) * _SHOWN
        return first == second or ("e" in other and near)
    return _same_date(one, other) or _lost_letters(one, other)


def guarded(text: str) -> str:
    """Return a cell's text so that no spreadsheet program takes it for a formula."""
    risky = re.match(r"[=@\t].|[-+][^\d.,\s]", text, re.DOTALL)
    return f"'{text}" if risky else text


def _plain(text: str) -> str:
    return " ".join(text.removeprefix("'").split()).casefold()


def _number(text: str) -> Decimal | None:
    if not _NUMBER.fullmatch(text):
        return None
    bare = text.replace(",", "")
    # A spreadsheet program takes (5) for a negative number, as bookkeepers do.
    return Decimal(f"-{bare[1:-1]}" if bare.startswith("(") else bare)


def _lost_letters(written: str, found: str) -> bool:
    """Whether only letters outside ASCII were replaced, each by one to three others."""
    if written.isascii():
        return False
    pattern = "".join(re.escape(c) if c.isascii() else ".{1,3}" for c in written)
    return re.fullmatch(pattern, found) is not None


def _same_date(written: str, found: str) -> bool:
    one, other = _DATE.fullmatch(written), _DATE.fullmatch(found)
    if not (one and other and written and found):
        return False
    clocks = {(int(m["hour"]) % 12, m["minute"]) for m in (one, other) if m["hour"]}
    less, more = sorted((_day(one["day"]), _day(other["day"])), key=Counter.total)
    return less <= more and len(clocks) < 2


def _day(text: str | None) -> Counter[int]:
    """Return the numbers of a date in any order; a year counts without its century."""
    parts = re.findall(r"\d+|[a-z]+", text or "")
    numbers = [_month(part) if part.isalpha() else int(part) % 100 for part in parts]
    return Counter(numbers)


def _month(name: str) -> int:
    return _MONTHS.index(name[:3]) + 1 if name[:3] in _MONTHS else 0
