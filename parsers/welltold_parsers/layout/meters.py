"""What a data file tells of meters and not of a sample: how they were checked, what they logged."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise

from .cells import Cell
from .dates import stamp, time_of
from .sheet_names import column_words
from .tables import Table
from .words import head_key

_CHECKS = 3
"""So many heads that name a check of a meter make the file one that keeps them."""
_FEWEST = 8
_LONGEST = timedelta(hours=1)


def meter_columns(table: Table) -> frozenset[int]:
    """Return the columns that tell how meters were checked: "pH Probe Ser No.", "Turb Zero Chk".

    "Pre" and "Post" say so only in a file that plainly keeps such checks; elsewhere they are
    the water before and behind a filter.
    """
    words = [frozenset(head_key(c.head).split()[1:]) for c in table.columns]
    plain, more = column_words("meter"), column_words("meter_more")
    if sum(bool(w & plain) for w in words) < _CHECKS:
        return frozenset()
    return frozenset(i for i, w in enumerate(words) if w & (plain | more))


def is_log(
    rows: Sequence[Sequence[Cell | None]], roles: Mapping[str, int], slugs: Collection[str | None]
) -> bool:
    """Whether rows are what a logger wrote by its clock: every so many minutes, readings of meters.

    ``slugs``: what the columns of results measure.
    """
    day, hour = roles.get("collected"), roles.get("collected_time")
    if day is None or len(rows) < _FEWEST or not set(slugs) <= column_words("logged"):
        return False
    moments = [_moment(row[day], row[hour] if hour is not None else None) for row in rows]
    if any(m is None for m in moments):
        return False
    steps = {b - a for a, b in pairwise(m for m in moments if m is not None)}
    return len(steps) == 1 and timedelta(0) < min(steps) <= _LONGEST


def _moment(day: Cell | None, hour: Cell | None) -> datetime | None:
    found = stamp(day.text) if day is not None else None
    if found is None:
        return None
    clock = time_of(hour.text) if hour is not None else None
    iso = f"{found.iso}T{clock}" if clock and "T" not in found.iso else found.iso
    return datetime.fromisoformat(iso) if "T" in iso else None
