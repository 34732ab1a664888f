"""Heads that are rows of keys only: "Lab no. | T-501 | T-502" over "Calcium | mg/L | 41 | 12".

No word says "Analyte" or "Result"; the lowest row of keys is taken for the head, those above it
stack onto it.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .head_cells import SAMPLE_ROLES
from .heads import HeadLine
from .stacked_heads import at_rest
from .tokens import analyte_in, is_number, unit_of, value_of
from .words import head_of

_AHEAD = 6
"""Lines under the keys in which the rows of tests must begin."""
_ROWS = 2
_SURE = 0.95


def key_head(lines: Sequence[Line], at: int) -> HeadLine | None:
    """Return the head of samples in columns whose lowest row of keys is the line at this index."""
    if not _keys(lines[at]) or (at + 1 < len(lines) and _keys(lines[at + 1])):
        return None
    named = lines[at].cells[1:]
    below = lines[at + 1 : at + 1 + _AHEAD]
    if sum(_row(line, named) for line in below) < _ROWS:
        return None
    return HeadLine("rows", at)


def _keys(line: Line) -> bool:
    """Whether a line of a page is a key of samples and what it says of two or more of them."""
    first, others = line.cells[0], line.cells[1:]
    if line.sheet is not None or len(others) < 2 or at_rest(line):
        return False
    head = head_of(first.text)
    if head is None or head.score < _SURE or head.role not in SAMPLE_ROLES:
        return False
    return not any(_announces(c) for c in others)


def key_cells(heads: Sequence[Line]) -> list[Cell]:
    """Return the keys of a head that is rows of keys only: they head no column under them."""
    return [line.cells[0] for line in heads] if all(map(_keys, heads)) else []


def _announces(cell: Cell) -> bool:
    head = head_of(cell.text)
    told = head is not None and head.score >= _SURE
    return (
        told
        or is_number(cell.text)
        or unit_of(cell.text) is not None
        or bool(analyte_in(cell.text))
    )


def _row(line: Line, named: Sequence[Cell]) -> bool:
    """Whether a line is a test, its unit, and a value under every sample but one at most."""
    cells = line.cells
    if len(cells) < 2 or analyte_in(cells[0].text) is None:
        return False
    units = [c for c in cells[1:] if unit_of(c.text) is not None]
    values = [c for c in cells[1:] if value_of(c.text) is not None and c not in units]
    if len(units) > 1 or len(values) > len(named):
        return False
    under = [[v for v in values if _over(v, n)] for n in named]
    return sum(len(found) == 1 for found in under) >= max(2, len(named) - 1)


def _over(a: Cell, b: Cell) -> bool:
    return min(a.right, b.right) > max(a.left, b.left)
