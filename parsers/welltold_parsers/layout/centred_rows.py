"""Rows of a page whose cells take one to three lines, each set at half the row's height.

"26-" over "01515-" over "01" stands beside "ND" over "(0.0002)" and a plain "604" in the middle:
lines that overlap each other, with the fullest in the middle. They are made one line, cell by cell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .asides import tells_yields
from .cells import Cell, Line
from .tokens import value_of

_LINES = (3, 5)
"""A row of two lines is read by its columns."""
_CELLS = 4
_VALUES = 2
_ROWS = 2
"""One such row on a page may be chance."""
_LAPS = 1.0
_MIDDLE = 2.0
_CUT = re.compile(r"(?<=\w)-\s+(?=\d)")


def with_centred_rows(lines: Sequence[Line]) -> list[Line]:
    """Return the lines of a page, the lines of each such row made one."""
    runs = list(_runs(lines))
    rows = {id(run[0]): run for run in runs if _is_row(run)}
    if len(rows) < _ROWS:
        return list(lines)
    kept: list[Line] = []
    for run in runs:
        kept.extend([_one(run)] if id(run[0]) in rows else run)
    return kept


def _runs(lines: Sequence[Line]) -> Iterator[list[Line]]:
    """Yield the lines that overlap one after the other."""
    run: list[Line] = []
    for line in lines:
        if run and line.top >= run[-1].bottom - _LAPS:
            yield run
            run = []
        run.append(line)
    if run:
        yield run


def _is_row(run: Sequence[Line]) -> bool:
    if not _LINES[0] <= len(run) <= _LINES[1]:
        return False
    whole = _fullest(run)
    top, bottom = min(x.top for x in run), max(x.bottom for x in run)
    if abs((whole.top + whole.bottom) - (top + bottom)) > 2 * _MIDDLE:
        return False
    values = sum(value_of(c.text) is not None for c in whole.cells)
    if len(whole.cells) < _CELLS or values < _VALUES:
        return False
    parts = [c.text for line in run if line is not whole for c in line.cells]
    if not any(value_of(t) is not None or any(map(str.isdigit, t)) for t in parts):
        return False  # a remark of several lines, which is nobody's result
    cells = [c for line in run for c in line.cells]
    return not any(_beside(a, b) and _collide(a, b) for a in cells for b in cells if a is not b)


def _fullest(run: Sequence[Line]) -> Line:
    return max(run, key=lambda line: len(line.cells))


def _beside(one: Cell, other: Cell) -> bool:
    return min(one.right, other.right) - max(one.left, other.left) > 0.5


def _collide(one: Cell, other: Cell) -> bool:
    return min(one.bottom, other.bottom) - max(one.top, other.top) > _LAPS


def _one(run: Sequence[Line]) -> Line:
    """Return the fullest line of a row with the cells of all, those above each other joined."""
    whole = _fullest(run)
    stacks: list[list[Cell]] = []
    told = (c for line in run for c in line.cells if not tells_yields(c.text))
    for cell in sorted(told, key=lambda c: c.top):
        own = [s for s in stacks if any(_beside(cell, c) for c in s)]
        stacks = [s for s in stacks if s not in own]
        stacks.append([*(c for s in own for c in s), cell])
    whole.cells = sorted((_joined(s, whole) for s in stacks), key=lambda c: c.left)
    return whole  # as high as it was: its letters are no larger than those of others


def _joined(cells: list[Cell], line: Line) -> Cell:
    cells.sort(key=lambda c: c.top)
    if len(cells) == 1:
        cells[0].line = line
        return cells[0]
    left, right = min(c.left for c in cells), max(c.right for c in cells)
    text = _CUT.sub("-", " ".join(c.text for c in cells))
    words = tuple(w for c in cells for w in c.words)
    made = Cell(text, (left, line.top, right, line.bottom), line, words)
    made.printed_at = (left, cells[0].top, right, cells[-1].bottom)
    return made
