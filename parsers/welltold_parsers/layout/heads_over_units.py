"""Sets heads over their units where both stand in one order but not over each other.

Heads on end stand in the middle of their narrow columns, and what is filled in on the left of them.
A row of units below, one for each head, tells which column each head belongs to.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word
from .cells import Cell, Line
from .head_cells import head_analyte
from .tokens import unit_of
from .words import head_of

_FEWEST = 3
_APART = 30.0
"""Points that a head may stand aside of its unit."""


def set_over_units(heads: Sequence[Line]) -> None:
    """Move the names of a page's head to the units below them, if they belong together in order."""
    if heads[0].sheet is not None or len(heads) < 2:
        return
    for upper, lower in pairwise(heads):
        units = [c for c in lower.cells if _is_unit(c)]
        names = [c for c in upper.cells if head_analyte(c.text) is not None]
        if len(units) < len(lower.cells) - 1 or len(units) != len(names) or len(units) < _FEWEST:
            continue
        pairs = list(zip(names, units, strict=True))
        beside = any(a.right < b.left or b.right < a.left for a, b in pairs)
        near = all(abs(a.middle - b.middle) < _APART for a, b in pairs)
        if beside and near:
            moved = {id(name): _moved(name, unit) for name, unit in pairs}
            upper.cells = [moved.get(id(c), c) for c in upper.cells]


def _is_unit(cell: Cell) -> bool:
    """Whether a cell is a unit, and not the word "Units" before them."""
    head = head_of(cell.text)
    stub = head is not None and head.role == "unit"
    return not stub and unit_of(cell.text.strip("()[]")) is not None


def _moved(name: Cell, unit: Cell) -> Cell:
    box = (unit.left, name.top, unit.right, name.bottom)
    word = Word(name.text, unit.left, name.top, unit.right, name.bottom)
    return Cell(name.text, box, name.line, (word,), name.source)
