"""The white gaps that persist over the rows of a table on a page."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from .column import Column

_TOUCHING = 2.0
"""White between two columns is wider."""
_SLIVER = 6.0
"""A column is wider, unless its cells are single digits apart from their neighbours."""


def columns_between_gaps(extents: Sequence[tuple[float, float]], allowed: int) -> list[Column]:
    """Return the columns between gaps that all but a few rows keep; sparse columns too."""
    columns = [Column(*pair) for pair in _sweep(extents, allowed)]
    if allowed:
        columns = _rejoined(columns, extents, allowed)
        sparse = _beside(extents, columns)
        columns.extend(Column(*pair) for pair in _sweep(sparse, 0))
        columns.sort(key=lambda c: c.left)
    return columns


def _beside(
    extents: Sequence[tuple[float, float]], columns: Sequence[Column]
) -> list[tuple[float, float]]:
    """Return the extents that reach into none of the columns, which go from left to right."""
    lefts, rights = [c.left for c in columns], [c.right for c in columns]
    beside = []
    for a, b in extents:
        last = bisect_left(lefts, b) - 1  # the last column that begins before the end
        if b <= a or last < 0 or rights[last] <= a:
            beside.append((a, b))
    return beside


def _rejoined(
    columns: list[Column], extents: Sequence[tuple[float, float]], allowed: int
) -> list[Column]:
    """Join a sliver to the column that it touches: a few long names reached over its edge."""
    whole: list[Column] = []
    for column in columns:
        last = whole[-1] if whole else None
        if last is not None and column.left - last.right < _TOUCHING:
            narrow = min(last, column, key=lambda c: c.right - c.left)
            here = sum(a < narrow.right and b > narrow.left for a, b in extents)
            if narrow.right - narrow.left < _SLIVER and here <= allowed + 2:
                last.right = column.right
                continue
        whole.append(column)
    return whole


def _sweep(extents: Sequence[tuple[float, float]], allowed: int) -> list[tuple[float, float]]:
    """Return the stretches covered by more than ``allowed`` cells."""
    events = sorted([(a + 0.2, 1) for a, _ in extents] + [(b - 0.2, -1) for _, b in extents])
    found: list[tuple[float, float]] = []
    depth, start = 0, 0.0
    for at, step in events:
        before, depth = depth, depth + step
        if before <= allowed < depth:
            start = at
        elif depth <= allowed < before and at > start:
            found.append((start, at))
    return found
