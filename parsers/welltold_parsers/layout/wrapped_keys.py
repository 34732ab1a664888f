"""A test at the end of a line of keys, its value on the next line: "... Field pH:" "7.6"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .tokens import analyte_in, unit_of, value_of

_ALIGNED = 6.0
"""Points that the next line may begin aside of the line of keys."""


def with_wrapped_values(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines of a page; a test with its value on the next line has a line of its own."""
    if not lines or lines[0].sheet is not None:
        return lines
    wrapped = {id(b): a for a, b in pairwise(lines) if _wraps(a, b)}
    if not wrapped:
        return lines
    cut = {id(line) for line in wrapped.values()}
    done: list[Line] = []
    for line in lines:
        keys = wrapped.get(id(line))
        if keys is not None:
            done.append(_part(keys, (*keys.cells[-1:], *line.cells)))
        elif id(line) in cut:
            done.append(_part(line, line.cells[:-1]))
        else:
            done.append(line)
    return done


def _wraps(line: Line, below: Line) -> bool:
    """Whether the last key of a line is a test without a value, and the next line is a value."""
    if line.page != below.page or len(line.cells) < 2 or len(below.cells) != 1:
        return False
    key, value = line.cells[-1].text, below.cells[0].text
    if not key.endswith(":") or value_of(value) is None or unit_of(value) is not None:
        return False
    near = below.top - line.bottom < line.height
    aligned = abs(below.cells[0].left - line.cells[0].left) < _ALIGNED
    return near and aligned and analyte_in(key) is not None


def _part(line: Line, cells: Sequence[Cell]) -> Line:
    part = Line(line.index, page=line.page, plain_text=line.plain_text)
    part.top, part.bottom = line.top, line.bottom
    part.cells = [
        Cell(c.text, (c.left, c.top, c.right, c.bottom), part, c.words, c.source) for c in cells
    ]
    return part
