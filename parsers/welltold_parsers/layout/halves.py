"""Two tables of the same tests side by side, each of a sample of its own: raw and treated water.

    RAW WATER      Lab No. 7716-A        TREATED WATER   Lab No. 7716-B
    Test           Result   Units        Test            Result   Units

The left one is set above the right one, each under what stands over it, so that no result of one
sample is given to the other.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .metadata import facts_of
from .tokens import value_of
from .words import head_of

_ABOVE = 4
"""Lines above the heads that may name the samples."""
_NUMBERS = frozenset({"lab_id", "sample_id", "client_id"})
_FEWEST = 2
_SLACK = 2.0
_AWAY = 4.0
_NEAR = 1.2
"""How far below a row the next may stand, in heights of a line."""


def parted_halves(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines of a page with the table on the right below the one on the left."""
    if not lines or lines[0].sheet is not None or lines[0].plain_text:
        return lines
    for at, head in enumerate(lines):
        edge = _edge(head)
        first = _over(lines, at, edge) if edge is not None else None
        if edge is None or first is None:
            continue
        rows = [n for n in range(at + 1, len(lines)) if _two_rows(lines[n], edge)]
        if not rows:
            continue
        last = rows[-1] + 1
        while last < len(lines) and _goes_on(lines[last], lines[last - 1], edge):
            last += 1
        left, right = [], []
        for line in lines[first:last]:
            both = line.top > head.top and _heads_both(line, edge)
            left.append(line if both else _part(line, edge, right=False))
            right.append(_copy(line) if both else _part(line, edge, right=True))
            if line.top < head.top:
                _lift(left[-1], right[-1])
        parted = [part for part in (*left, *right) if part.cells]
        return [*lines[:first], *parted, *lines[last:]]
    return lines


def _edge(head: Line) -> float | None:
    """Return where the right table begins, if a head says the same twice; else None."""
    half, rest = divmod(len(head.cells), 2)
    texts = [cell.text.lower() for cell in head.cells]
    if rest or half < _FEWEST or texts[:half] != texts[half:]:
        return None
    roles = {found.role for text in texts if (found := head_of(text)) is not None}
    return head.cells[half].left - _SLACK if {"analyte", "result"} <= roles else None


def _over(lines: Sequence[Line], at: int, edge: float) -> int | None:
    """Return the line above the heads that names a sample by number over each half."""
    for number in range(at - 1, max(at - 1 - _ABOVE, -1), -1):
        line = lines[number]
        numbers = {_number(_part(line, edge, right=right)) for right in (False, True)}
        if len(numbers) > 1 and None not in numbers:
            return number if line.page == lines[at].page else None
    return None


def _number(side: Line) -> str | None:
    return next((fact.text for fact in facts_of(side) if fact.role in _NUMBERS), None)


def _two_rows(line: Line, edge: float) -> bool:
    """Whether a line has a name with a result on both sides, and nothing across the edge."""
    sides = _sides(line, edge)
    return sum(map(len, sides)) == len(line.cells) and all(
        len(side) > 1 and any(value_of(cell.text) is not None for cell in side[1:])
        for side in sides
    )


def _goes_on(line: Line, above: Line, edge: float) -> bool:
    """Whether the longer of the two tables has one more row."""
    sides = _sides(line, edge)
    inside = sum(map(len, sides)) == len(line.cells) > 1 and not all(sides)
    near = line.page == above.page and line.top - above.bottom < _NEAR * above.height
    return inside and near and any(value_of(cell.text) is not None for cell in line.cells[1:])


def _sides(line: Line, edge: float) -> tuple[list[Cell], list[Cell]]:
    return (
        [cell for cell in line.cells if cell.right < edge],
        [cell for cell in line.cells if cell.left > edge],
    )


def _heads_both(line: Line, edge: float) -> bool:
    """Whether a line within the tables is a heading for both of them."""
    left, right = _sides(line, edge)
    crossed = len(left) + len(right) < len(line.cells)
    return crossed or (not right and len(left) == 1 and value_of(left[0].text) is None)


def _part(line: Line, edge: float, *, right: bool) -> Line:
    """Return one side of a line; what crosses the edge is with the left one."""
    return _copy(line, [cell for cell in line.cells if (cell.left > edge) == right])


def _lift(*titles: Line) -> None:
    """Set what names a sample so far above the heads that it is no part of them."""
    for title in titles:
        by = _AWAY * title.height
        title.top, title.bottom = title.top - by, title.bottom - by


def _copy(line: Line, cells: Sequence[Cell] | None = None) -> Line:
    part = Line(line.index, page=line.page)
    part.top, part.bottom, part.moved = line.top, line.bottom, line.moved
    part.cells = [
        Cell(c.text, (c.left, c.top, c.right, c.bottom), part, c.words, c.source)
        for c in (line.cells if cells is None else cells)
    ]
    return part
