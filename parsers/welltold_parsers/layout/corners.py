"""Finds a key in small letters with its value right under it, beside other text: a framed number.

    TAMARACK COUNTY LABORATORY          LAB NUMBER
    Bacteria report                     B-71204

Forms put the laboratory's number in a box of its own in a corner; its line then holds a title or an
address as well, so that it is no row of keys.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .words import head_of

_NUMBERS = frozenset({"lab_id", "sample_id"})
_SMALL = 0.8
"""The key is set in letters so much smaller than its value."""
_ALIGNED = 10.0
_NEAR = 1.8
"""How far the value stands below the key, in heights of the value."""


def with_corners(lines: Sequence[Line]) -> Sequence[Line]:
    """Put a line of key and value in the place of each framed number; return all lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    made: dict[int, list[Line]] = {}
    for at, line in enumerate(lines):
        for key in [c for c in line.cells if _is_key(c)] if len(line.cells) > 1 else ():
            value = _under(key, lines[at + 1 : at + 4])
            if value is not None:
                made.setdefault(id(line), []).append(_pair(key, value))
    if not made:
        return lines
    whole = [one for line in lines for one in (*made.get(id(line), ()), line)]
    return [line for line in whole if line.cells]


def _is_key(cell: Cell) -> bool:
    head = head_of(cell.text)
    return head is not None and head.score >= 1 and head.role in _NUMBERS


def _under(key: Cell, below: Sequence[Line]) -> Cell | None:
    """Return the number in larger letters right under a key, with nothing between them."""
    for line in below:
        over = [c for c in line.cells if c.left < key.right + _ALIGNED and c.right > key.left]
        if not over:
            continue
        value = over[0]
        tall = value.bottom - value.top
        fits = (
            len(over) == 1
            and key.bottom - key.top < _SMALL * tall
            and value.top - key.bottom < _NEAR * tall
            and -2.0 < value.left - key.left < _ALIGNED
            and any(c.isdigit() for c in value.text)
            and len(value.text.split()) == 1
        )
        return value if fits else None
    return None


def _pair(key: Cell, value: Cell) -> Line:
    """Take a key and its value out of their lines, and return them as a line of their own."""
    at = key.line
    made = Line(at.index, page=at.page, plain_text=at.plain_text)
    made.top, made.bottom = key.top, value.bottom
    for cell in (key, value):
        cell.line.cells = [c for c in cell.line.cells if c is not cell]
    made.cells = [key, value]
    return made
