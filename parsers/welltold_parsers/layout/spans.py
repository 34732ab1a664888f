"""Heads that span several columns: "DISSOLVED" over aluminium, copper and zinc."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from .cells import Cell, Line
from .column import Column
from .dates import is_date
from .head_cells import SAMPLE_ROLES, STRONG
from .tables import Table
from .tokens import analyte_in, unit_of
from .words import head_of

_FRACTION = re.compile(r"(?i)(?:total(?: recoverable)?|dissolved|filtered|unfiltered)\b")
_OFF = 6.0
"""Points by which a head may miss the middle of what it spans."""
_EDGE = 3.0
_SEVERAL = 2


def spanned_fractions(table: Table) -> dict[int, Cell]:
    """Return the head that says "total" or "dissolved" of each column that one spans."""
    found: dict[int, Cell] = {}
    for line in table.heads:
        sheet = line.sheet is not None
        for cell, columns in merged(line, table.columns) if sheet else spans(line, table.columns):
            if _FRACTION.match(cell.text) and len(columns) > 1:
                found.update(dict.fromkeys(columns, cell))
    return found


def merged(line: Line, columns: Sequence[Column]) -> Iterator[tuple[Cell, range]]:
    """Yield the merged cells of a sheet's head with the columns that each stands over."""
    for cell in line.cells:
        if cell.source is not None and cell.source.columns > 1:
            yield cell, _touched(cell, columns)


def spans(line: Line, columns: Sequence[Column]) -> Iterator[tuple[Cell, range]]:
    """Yield the cells of a head line with the columns that each stands over."""
    over = [_touched(cell, columns) for cell in line.cells]
    for number, (cell, own) in enumerate(zip(line.cells, over, strict=True)):
        before = [r.stop for r in over[:number] if r]
        behind = [r.start for r in over[number + 1 :] if r]
        first = max(before, default=0)
        stop = min(behind, default=len(columns))
        if own and first <= own.start and own.stop <= stop:
            yield cell, _widest(cell, own, columns, range(first, stop))


def _touched(cell: Cell, columns: Sequence[Column]) -> range:
    """Return the columns that a cell overlaps."""
    at = [i for i, c in enumerate(columns) if min(c.right, cell.right) > max(c.left, cell.left)]
    return range(at[0], at[-1] + 1) if at else range(0)


def _widest(cell: Cell, own: range, columns: Sequence[Column], free: range) -> range:
    """Return the widest run of columns round a cell that it stands in the middle of."""
    best = own
    for start in range(free.start, own.start + 1):
        for stop in range(own.stop, free.stop + 1):
            middle = (columns[start].left + columns[stop - 1].right) / 2
            if abs(middle - cell.middle) <= _OFF and stop - start > len(best):
                best = range(start, stop)
    if best == own and abs(columns[own.start].left - cell.left) < _EDGE:
        return range(own.start, free.stop)
    return best


def over_names(cell: Cell, heads: Sequence[Line]) -> bool:
    """Whether a head stands over several samples that have numbers of their own: "Wells"."""
    below = [
        c
        for line in heads
        for c in line.cells
        if line.top > cell.top and min(c.right, cell.right) > max(c.left, cell.left)
    ]
    named = [c for c in below if any(x.isdigit() for x in c.text) and any(map(str.isalpha, c.text))]
    plain = not any(head_of(c.text) or is_date(c.text) or unit_of(c.text) for c in below)
    return len(named) > 1 and plain and not any(x.isdigit() for x in cell.text)


def spread_over_days(heads: Sequence[Line], columns: Sequence[Column]) -> None:
    """Give the names of samples on a page to all their days: "MW-1" over March and June."""
    for upper, lower in pairwise(heads):
        if upper.sheet is not None:
            return
        days = [i for i, c in enumerate(columns) if any(_is_day(h, lower) for h in c.head_cells)]
        groups = [(cell, [i for i in own if i in days]) for cell, own in spans(upper, columns)]
        groups = [(cell, own) for cell, own in groups if len(own) > 1]
        covered = sorted(i for _, own in groups for i in own)
        if (
            len(groups) < _SEVERAL
            or all(len(own) == 1 for _, own in groups)
            or covered != days
            or not all(_names(*g, columns) for g in groups)
        ):
            continue
        for cell, own in groups:
            for column in (columns[i] for i in own):
                rest = [h for h in column.head_cells if h.line is not upper]
                column.head_cells[:] = [cell, *rest]


def _is_day(cell: Cell, line: Line) -> bool:
    return cell.line is line and is_date(cell.text)


def _names(cell: Cell, own: Sequence[int], columns: Sequence[Column]) -> bool:
    """Whether a head may be the name of a sample over its days, which are told apart."""
    head = head_of(cell.text)
    plain = head is None or head.score < STRONG or head.role in SAMPLE_ROLES
    days = {columns[i].head_cells[-1].text for i in own}
    named = plain and not is_date(cell.text) and analyte_in(cell.text) is None
    return named and unit_of(cell.text) is None and len(days) == len(own)
