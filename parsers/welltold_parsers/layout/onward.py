"""Whether lines without a head go on with the table of the page before."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .column import Column
from .tables import Table
from .tokens import analyte_in, unit_of, value_of

_ENOUGH = 0.6
"""The share of the lines, and of a line's cells, that must fit the columns."""


def goes_on(
    lines: Sequence[Line], table: Table, samples: Sequence[int], values: Sequence[int]
) -> bool:
    """Whether these lines are rows of a table with one sample a row.

    ``samples`` are the columns that name the sample, ``values`` those that hold results.
    """
    rows = [line for line in lines if len(line.cells) >= 3]
    if not rows or len(rows) < 0.5 * len(lines) or not samples or not values:
        return False
    if len(rows) == 1 and len(samples) < 2:
        return False
    elsewhere = rows[0].sheet is not None and rows[0].sheet not in {h.sheet for h in table.heads}
    if elsewhere and _own_head(rows[0], table, values):
        return False
    good = sum(_fits(line, table, samples, values) for line in rows)
    return good >= _ENOUGH * len(rows)


def _own_head(line: Line, table: Table, values: Sequence[int]) -> bool:
    """Whether the first row of another sheet has words where this table has its results."""
    found = [c for i in values if (c := table.cells(line)[i]) is not None]
    return bool(found) and not any(map(_valued, found))


def _fits(line: Line, table: Table, samples: Sequence[int], values: Sequence[int]) -> bool:
    if line.sheet is None:
        inside = sum(_one_column(cell, table.columns) for cell in line.cells)
        if inside < _ENOUGH * len(line.cells):
            return False
    cells = table.cells(line)
    name = cells[samples[0]]
    if name is None or analyte_in(name.text) is not None:
        return False
    return any(_valued(cells[i]) for i in values)


def _one_column(cell: Cell, columns: Sequence[Column]) -> bool:
    return sum(min(cell.right, c.right) - max(cell.left, c.left) > 0.8 for c in columns) == 1


def _valued(cell: Cell | None) -> bool:
    return (
        cell is not None
        and value_of(cell.text, letters=True) is not None
        and unit_of(cell.text) is None
    )
