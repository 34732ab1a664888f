"""Tells of tests in a form that were answered in words: "COLOR  clear", "ODOR  slight, musty"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .context import Context
from .tokens import analyte_in, value_of

_SMALL = 0.8
"""Captions are set in letters so much smaller than what is filled in."""
_ALIGNED = 10.0


def with_worded(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Leave words under captions that name tests unread; return the other lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    gone: set[int] = set()
    for keys, values in pairwise(lines):
        pairs = _pairs(keys, values)
        for key, value in pairs:
            context.lost(value, "words_only", f"{key.text} {value.text}")
        if pairs:
            gone |= {id(keys), id(values)}
    return [line for line in lines if id(line) not in gone] if gone else lines


def _pairs(keys: Line, values: Line) -> list[tuple[Cell, Cell]]:
    """Return each caption with the words under it; none where these are no such lines."""
    near = values.top - keys.bottom < values.height and keys.height < _SMALL * values.height
    if not near or keys.answer is not None or values.answer is not None or not values.cells:
        return []
    if any(analyte_in(c.text) is None for c in keys.cells):
        return []
    found = []
    for value in values.cells:
        over = [k for k in keys.cells if abs(k.left - value.left) < _ALIGNED]
        if not over or value_of(value.text) is not None or analyte_in(value.text) is not None:
            return []
        found.append((over[0], value))
    return found
