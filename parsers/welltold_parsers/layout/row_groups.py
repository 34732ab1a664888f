"""Joins the lines of one row of a page's table, where some cells take two or three lines."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line, join
from .tokens import is_qualifier

Cells = list[Cell | None]
_NEAR = 0.75
"""How far a fragment may stand from its row, in line heights."""


def whole_rows(lines: Sequence[tuple[Line, Cells]], stub: int) -> list[tuple[Line, Cells]]:
    """Return the rows; lines with nothing in the first ``stub`` columns join the nearest."""
    anchors = [n for n, (_, cells) in enumerate(lines) if any(cells[:stub])]
    if not lines or lines[0][0].sheet is not None or not stub or len(anchors) == len(lines):
        return list(lines)
    members: dict[int, list[int]] = {n: [n] for n in anchors}
    alone = []
    for number, (line, _) in enumerate(lines):
        if number in members:
            continue
        near = min(anchors, key=lambda n: _distance(lines[n][0], line), default=None)
        if near is not None and _distance(lines[near][0], line) <= _NEAR * line.height:
            members[near].append(number)
        else:
            alone.append(number)
    rows = [
        (n, _joined([lines[m] for m in sorted(group)], lines[n][0])) for n, group in members.items()
    ]
    rows.extend((n, lines[n]) for n in alone)
    return [row for _, row in sorted(rows, key=lambda r: r[0])]


def _distance(a: Line, b: Line) -> float:
    if a.page != b.page:
        return 1e9
    return abs((a.top + a.bottom) - (b.top + b.bottom)) / 2


def _joined(parts: Sequence[tuple[Line, Cells]], anchor: Line) -> tuple[Line, Cells]:
    if len(parts) == 1:
        return parts[0]
    columns = zip(*(cells for _, cells in parts), strict=True)
    return anchor, [
        join(_flag_last(found)) if (found := [c for c in column if c is not None]) else None
        for column in columns
    ]


def _flag_last(cells: list[Cell]) -> list[Cell]:
    """Return a number before the flag that is set a little above it: "B" over "0.2"."""
    if len(cells) == 2 and cells[0].text.isalpha() and is_qualifier(cells[0].text):
        flag, value = cells
        return [value, flag] if any(c.isdigit() for c in value.text) else cells
    return cells
