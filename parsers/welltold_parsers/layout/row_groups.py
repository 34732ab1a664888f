"""Joins the lines of one row of a page's table, where some cells take two or three lines."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from .cells import Cell, Line, join
from .tokens import is_qualifier

Cells = list[Cell | None]
_CUT = re.compile(r"(?<=\w)-\s+(?=\d)")
_NEAR = 0.75
"""How far a fragment may stand from its row, in line heights."""


def whole_rows(
    lines: Sequence[tuple[Line, Cells]], stub: int, results: Collection[int]
) -> list[tuple[Line, Cells]]:
    """Return the rows; lines with nothing in the first ``stub`` columns join the nearest.

    ``results`` are the columns without which a line is no row of its own.
    """
    lines = _with_fragments(lines, stub, results)
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


def _with_fragments(
    lines: Sequence[tuple[Line, Cells]], stub: int, results: Collection[int]
) -> list[tuple[Line, Cells]]:
    """Return the rows, each with the lines that only fill its empty places: a day over an hour.

    Such a line has nothing but columns that the row leaves empty, and reaches into its height.
    """
    if not lines or lines[0][0].sheet is not None:
        return list(lines)
    full = {n for n, (_, cells) in enumerate(lines) if any(cells[i] for i in results)}
    parts: dict[int, list[int]] = {}
    for number, (line, cells) in enumerate(lines):
        if number in full or not any(cells[:stub]):
            continue
        near = [n for n in (number - 1, number + 1, number - 2, number + 2) if n in full]
        home = next((n for n in near if _fills(lines[n], line, cells)), None)
        if home is not None:
            parts.setdefault(home, []).append(number)
    taken = {n for found in parts.values() for n in found}
    return [
        _joined([lines[m] for m in sorted([n, *parts.get(n, [])])], line)
        for n, (line, _) in enumerate(lines)
        if n not in taken
    ]


def _fills(row: tuple[Line, Cells], line: Line, cells: Cells) -> bool:
    own, whole = row
    overlap = min(own.bottom, line.bottom) - max(own.top, line.top)
    if own.page != line.page or overlap <= 0.2 * line.height:
        return False
    return all(a is None or b is None for a, b in zip(cells, whole, strict=True))


def _distance(a: Line, b: Line) -> float:
    if a.page != b.page:
        return 1e9
    return abs((a.top + a.bottom) - (b.top + b.bottom)) / 2


def _joined(parts: Sequence[tuple[Line, Cells]], anchor: Line) -> tuple[Line, Cells]:
    if len(parts) == 1:
        return parts[0]
    columns = zip(*(cells for _, cells in parts), strict=True)
    return anchor, [
        _whole(_flag_last(found)) if (found := [c for c in column if c is not None]) else None
        for column in columns
    ]


def _whole(parts: Sequence[Cell]) -> Cell:
    """Return the cells of a column as one; a number cut behind its hyphen is made whole."""
    cell = join(parts)
    if len(parts) > 1:
        cell.text = _CUT.sub("-", cell.text)
    return cell


def _flag_last(cells: list[Cell]) -> list[Cell]:
    """Return a number before the flag that is set a little above it: "B" over "0.2"."""
    if len(cells) == 2 and cells[0].text.isalpha() and is_qualifier(cells[0].text):
        flag, value = cells
        return [value, flag] if any(c.isdigit() for c in value.text) else cells
    return cells
