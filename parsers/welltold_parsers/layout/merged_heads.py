"""Heads of a sheet on two rows, where one of the upper row stands over several of the lower.

"Lead (ppb)" over "First draw" and "Flush 30 s": merged in a workbook, followed by an empty cell in
a separated file.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .columns import Column
from .draws import draw_of
from .heads import head_analyte
from .tokens import value_of
from .words import head_key


def completes_merged(line: Line, main: Line) -> bool:
    """Whether a row of a sheet is the lower part of the head above it."""
    if line.sheet is None or line.sheet != main.sheet or any(map(_valued, line.cells)):
        return False
    down = max((c.source.rows for c in main.cells if c.source is not None), default=1)
    if line.index < main.index + down:
        return True
    return line.index == main.index + 1 and all(map(_is_draw, line.cells))


def spread(heads: Sequence[Line], columns: Sequence[Column]) -> None:
    """Give an analyte in an upper head to every column of the lower head that it stands over."""
    for upper, lower in pairwise(heads):
        if upper.sheet is None:
            return
        below = {c.left for c in lower.cells}
        own = {c.left for c in upper.cells}
        for cell, edge in _reach(upper, lower):
            if head_analyte(cell.text) is None:
                continue
            for column in columns:
                if cell.left < column.left < edge and column.left in below - own:
                    column.head_cells.insert(0, cell)


def _reach(upper: Line, lower: Line) -> list[tuple[Cell, float]]:
    """Return each cell of the upper head with the column where it ends."""
    if not all(map(_is_draw, lower.cells)):
        return [(cell, cell.right) for cell in upper.cells]
    starts = [*(c.left for c in upper.cells[1:]), lower.cells[-1].right]
    return list(zip(upper.cells, starts, strict=True))


def _is_draw(cell: Cell) -> bool:
    return draw_of(head_key(cell.text)) is not None


def _valued(cell: Cell) -> bool:
    return value_of(cell.text) is not None
