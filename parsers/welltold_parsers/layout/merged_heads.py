"""Heads of a sheet on two rows, where one of the upper row stands over several of the lower.

"Lead (ppb)" over "First draw" and "Flush 30 s": merged in a workbook, followed by an empty cell in
a separated file.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .column import Column
from .dates import is_date
from .draws import draw_of
from .head_cells import head_analyte
from .tokens import value_of
from .words import head_key, split_unit


def completes_merged(line: Line, main: Line) -> bool:
    """Whether a row of a sheet is the lower part of the head above it."""
    if line.sheet is None or line.sheet != main.sheet or any(map(_valued, line.cells)):
        return False
    down = max((c.source.rows for c in main.cells if c.source is not None), default=1)
    if line.index < main.index + down:
        return True
    return line.index == main.index + 1 and all(map(_is_draw, line.cells))


def groups_in(line: Line, heads: Sequence[Line]) -> list[Cell]:
    """Return the merged cells of a sheet's head that only group tests: "Inorganics" over five.

    One with a unit, "Metals (ug/L)", says something of each.
    """
    lower = heads[at + 1] if (at := heads.index(line)) + 1 < len(heads) else None
    if lower is None:
        return []
    found = []
    for cell in line.cells:
        below = [c for c in lower.cells if cell.left <= c.left < cell.right]
        named = sum(head_analyte(c.text) is not None for c in below)
        if named > 1 and split_unit(cell.text)[1] is None:
            found.append(cell)
    return found


def spread(heads: Sequence[Line], columns: Sequence[Column]) -> None:
    """Give an upper head to every column of the lower head that it stands over.

    Only an analyte over ways to draw, a way to draw over a bottle and its analyte, or a sample over
    days: other heads of groups, such as
    "Metals (ug/L)", say nothing of one column.
    """
    for upper, lower in pairwise(heads):
        if upper.sheet is None:
            return
        own = {c.left for c in upper.cells}
        for cell, edge in zip(upper.cells, _edges(upper, lower), strict=True):
            below = [c for c in lower.cells if cell.left <= c.left < edge]
            told = _drawn(cell, below) or _draws(cell, below) or all(map(_is_day, below))
            if len(below) < 2 or not told:
                continue
            places = {c.left for c in below} - own
            for column in columns:
                if column.left in places:
                    column.head_cells.insert(0, cell)


def _drawn(cell: Cell, below: Sequence[Cell]) -> bool:
    merged = cell.source is not None and cell.source.columns > 1
    return (merged or all(map(_is_draw, below))) and head_analyte(cell.text) is not None


def _draws(cell: Cell, below: Sequence[Cell]) -> bool:
    """Whether a cell tells how the water of a result and its bottle below was drawn."""
    return _is_draw(cell) and any(head_analyte(c.text) is not None for c in below)


def _edges(upper: Line, lower: Line) -> list[float]:
    """Return the column where each cell of the upper head ends: merged, or before the next."""
    ends = [*(c.left for c in upper.cells[1:]), lower.cells[-1].right]
    return [
        cell.right if cell.source is not None and cell.source.columns > 1 else max(end, cell.right)
        for cell, end in zip(upper.cells, ends, strict=True)
    ]


def _is_day(cell: Cell) -> bool:
    return cell.is_date or is_date(cell.text)


def _is_draw(cell: Cell) -> bool:
    return draw_of(head_key(cell.text)) is not None


def _valued(cell: Cell) -> bool:
    return value_of(cell.text) is not None
