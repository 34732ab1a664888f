"""Days of a data file in several columns: year and day of the year, or year, month and day."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date, timedelta

from .cells import Cell
from .tables import Table
from .words import head_key

_YEAR = frozenset(
    {"year", "yr", "yyyy", "sample year", "sampling year", "jahr", "año", "ano", "jaar"}
)
_OF_YEAR = frozenset(
    {
        "day of year",
        "dayof year",
        "dayofyear",
        "doy",
        "yday",
        "julian day",
        "jday",
        "julian",
        "day number",
        "year day",
        "yearday",
    }
)
_MONTH = frozenset({"month", "mon", "mo", "mm", "sample month", "sampling month", "monat", "mes"})
_DAY = frozenset({"day", "dd", "day of month", "sample day", "sampling day", "tag", "dia", "día"})
_FIRST, _LAST = 1900, 2100
_LONGEST_YEAR = 366


def day_columns(table: Table, taken: Collection[int]) -> tuple[int, ...]:
    """Return the columns of year and day of the year, or of year, month and day; () for none.

    All their numbers must make days.
    """
    keys = {head_key(c.head): i for i, c in enumerate(table.columns) if i not in taken and c.head}
    year, of_year = _one(keys, _YEAR), _one(keys, _OF_YEAR)
    month, day = _one(keys, _MONTH), _one(keys, _DAY)
    for columns in ((year, of_year), (year, month, day)):
        known = tuple(i for i in columns if i is not None)
        if len(known) == len(columns) and _all_days(table, known):
            return known
    return ()


def day_in(cells: Sequence[Cell | None], columns: Sequence[int]) -> str | None:
    """Return the day that the cells of these columns make, in ISO 8601."""
    texts = [c.text for i in columns if (c := cells[i]) is not None]
    if len(texts) != len(columns) or not all(t.isascii() and t.isdigit() for t in texts):
        return None
    year, *rest = map(int, texts)
    if not _FIRST <= year <= _LAST:
        return None
    try:
        if len(rest) > 1:
            return date(year, *rest).isoformat()
    except ValueError:
        return None
    made = date(year, 1, 1) + timedelta(days=min(rest[0], _LONGEST_YEAR + 1) - 1)
    return made.isoformat() if made.year == year else None


def _one(keys: dict[str, int], words: frozenset[str]) -> int | None:
    return next((i for key, i in keys.items() if key in words), None)


def _all_days(table: Table, columns: Sequence[int]) -> bool:
    rows = [table.cells(line) for line in table.lines]
    told = [row for row in rows if all(row[i] is not None for i in columns)]
    return bool(told) and all(day_in(row, columns) is not None for row in told)
