"""Heads whose one-line cells stand at half height beside cells of two lines.

"Analyte" and "Unit" are set in the middle between "First" and "Draw": three lines that overlap.
The middle one joins the lowest, so that the head is read as lines one above the other.
"""

from __future__ import annotations

from .cells import Cell, Line
from .tokens import value_of
from .words import head_of

_KNOWN = 0.9


def without_ladders(lines: list[Line]) -> list[Line]:
    """Return the lines of a page with the middle of each such head moved to its lowest line."""
    taken: set[int] = set()
    for at in range(1, len(lines) - 1):
        upper, middle, lower = lines[at - 1], lines[at], lines[at + 1]
        # lines of print lie apart: hardly any page comes further than this
        if middle.top >= upper.bottom - 1 or lower.top >= middle.bottom - 1:
            continue
        if at - 1 not in taken and _is_ladder(upper, middle, lower):
            _move(middle, lower)
            taken.add(at)
    return [line for at, line in enumerate(lines) if at not in taken] if taken else lines


def _is_ladder(upper: Line, middle: Line, lower: Line) -> bool:
    outer = (*upper.cells, *lower.cells)
    if any(_beside(c, o) for c in middle.cells for o in outer):
        return False
    if not all(any(_beside(c, o) for o in upper.cells) for c in lower.cells):
        return False
    if any(value_of(c.text) is not None for c in middle.cells):
        return False
    return any((h := head_of(c.text)) is not None and h.score >= _KNOWN for c in middle.cells)


def _beside(one: Cell, other: Cell) -> bool:
    return min(one.right, other.right) - max(one.left, other.left) > 0.5


def _move(middle: Line, lower: Line) -> None:
    for cell in middle.cells:
        cell.line = lower
    lower.cells = sorted((*lower.cells, *middle.cells), key=lambda c: c.left)
