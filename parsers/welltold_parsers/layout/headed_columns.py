"""Columns of a page set right by the heads that stand over them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .column import Column, overlap, reaches
from .edges import is_figure, is_figure_part

_FILLS = 0.8
"""A cell that reaches so many points into a column stands in it."""


def column_under(
    head: Cell, heads: Sequence[Cell], columns: list[Column], rows: Sequence[Line]
) -> Column:
    """Return a column for a head that stands over none.

    Its numbers may touch the next column: right-aligned figures before left-aligned units look like
    one cell, "9.8 ug/L". Then that column is cut behind the figures.
    """
    behind = min((c for c in columns if c.left >= head.left), key=lambda c: c.left, default=None)
    before = max((c for c in columns if c.right <= head.right), key=lambda c: c.right, default=None)
    if behind is not None and any(reaches(h, behind, 0) for h in heads):
        cut = _behind_figures(behind, head, rows)
        if cut is not None:
            left = Column(min(head.left, cut[0]), cut[1])
            behind.left = cut[2]
            return left
    near = [c for c in (behind, before) if c is not None and not _headed(c, head, heads)]
    if near:
        closest = min(near, key=lambda c: max(c.left - head.right, head.left - c.right))
        columns.remove(closest)
        return Column(min(closest.left, head.left), max(closest.right, head.right))
    return Column(head.left, head.right)


def _headed(column: Column, head: Cell, heads: Sequence[Cell]) -> bool:
    """Whether a column has a head already, or another head stands between it and this one."""
    low, high = min(head.right, column.right), max(head.left, column.left)
    others = [h for h in heads if h is not head]
    return any(reaches(h, column, 0) or (low <= h.left and h.right <= high) for h in others)


def _behind_figures(
    column: Column, head: Cell, rows: Sequence[Line]
) -> tuple[float, float, float] | None:
    """Return where the figures begin and end and where the rest begins, if most rows have both."""
    left, right, rest, filled = [], [], [], 0
    for row in rows:
        for cell in row.cells:
            if not reaches(cell, column, 0):
                continue
            filled += 1
            words = cell.words
            if len(words) > 1 and is_figure(words[0].text) and not is_figure_part(words[1].text):
                at = 2 if words[0].text in "<>" and len(words) > 2 else 1
                left.append(words[0].left)
                right.append(words[at - 1].right)
                rest.append(words[at].left)
    if filled == 0 or len(left) < 0.6 * filled or max(right) > min(rest) + 0.5:
        return None
    return (min(left), max(right), min(rest)) if min(rest) > head.left else None


def split_under_heads(
    columns: list[Column], heads: Sequence[Cell], rows: Sequence[Line]
) -> list[Column]:
    """Split a column that several heads stand over, where its words leave a gap."""
    done = []
    homes = [(head, _home(head, columns)) for head in heads] if columns else []
    for column in columns:
        over = [h for h, home in homes if home is column and reaches(h, column, 0)]
        over.sort(key=lambda h: h.left)
        rest = column
        for a, b in pairwise(over):
            at = _thinnest(rest, a, b, rows)
            if at is not None:
                left = Column(rest.left, at)
                done.append(left)
                rest = Column(at, rest.right)
        done.append(rest)
    return done


def _home(head: Cell, columns: Sequence[Column]) -> Column:
    """Return the column that a head covers most."""
    return max(columns, key=lambda c: overlap(head, c))


def merge_halves(
    columns: list[Column], heads: Sequence[Cell], rows: Sequence[Line]
) -> list[Column]:
    """Join a column without a head to its neighbour where their cells take turns.

    Words on the left and numbers on the right of one column look like two.
    """
    if len(columns) < 3 or not heads:
        return columns
    filled: list[set[int]] = [set() for _ in columns]
    edges = [(c.left, c.right, at) for at, c in enumerate(columns) if c.right - c.left > _FILLS]
    for number, row in enumerate(rows):
        for cell in row.cells:
            left, right = cell.left, cell.right
            if right - left > _FILLS:
                for a, b, at in edges:
                    if b - left > _FILLS and right - a > _FILLS:
                        filled[at].add(number)
    headed = [any(reaches(h, c, 0) for h in heads) for c in columns]
    at = 0
    while at < len(columns):
        options = [
            n
            for n in (at - 1, at + 1)
            if not headed[at]
            and filled[at]
            and 0 <= n < len(columns)
            and not filled[n] & filled[at]
            and not _between(columns[at], columns[n], heads)
        ]
        if options:
            best = max(options, key=lambda n: (headed[n], len(filled[n])))
            low, high = min(at, best), max(at, best)
            merged = Column(columns[low].left, columns[high].right)
            columns[low : high + 1] = [merged]
            filled[low : high + 1] = [filled[low] | filled[high]]
            headed[low : high + 1] = [headed[low] or headed[high]]
            at = max(low - 1, 0)
        else:
            at += 1
    return columns


def _between(a: Column, b: Column, heads: Sequence[Cell]) -> bool:
    """Whether some head stands between two columns."""
    left, right = (a, b) if a.left < b.left else (b, a)
    return any(left.right <= h.left and h.right <= right.left for h in heads)


def reach_to_heads(columns: list[Column], heads: Sequence[Cell]) -> None:
    """Widen columns to their heads, so that further lines of the head find them."""
    for head in heads:
        home = _home(head, columns)
        at = columns.index(home)
        low = columns[at - 1].right if at else 0.0
        high = columns[at + 1].left if at + 1 < len(columns) else 1e9
        home.left = min(home.left, max(head.left, low))
        home.right = max(home.right, min(head.right, high))


def _thinnest(column: Column, a: Cell, b: Cell, rows: Sequence[Line]) -> float | None:
    """Return where between two heads fewest words stand; None where more than a quarter do."""
    words = [
        (w.left, w.right)
        for row in rows
        for c in row.cells
        if c.right > column.left and c.left < column.right
        for w in c.words
    ]
    low, high = (a.left + a.right) / 2, (b.left + b.right) / 2
    spots = sorted({x for pair in words for x in (pair[0] - 0.5, pair[1] + 0.5) if low < x < high})
    spots = spots or [(a.right + b.left) / 2]
    crossed = [
        (sum(left < x < right for left, right in words), abs(x - (a.right + b.left) / 2), x)
        for x in spots
    ]
    fewest, _, at = min(crossed)
    return at if fewest <= max(0.25 * len(rows), 0) else None
