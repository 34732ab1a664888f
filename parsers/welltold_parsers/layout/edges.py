"""Columns of a printed spreadsheet: from one head's left edge to the next.

There heads stand on the left of their cells and numbers on the right, so that a number may stand
nearer to the next column's head than to its own.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from .cells import Cell, Line

SIGNS = frozenset("<>≤≥±~")
"""Signs that belong to the number behind them."""


def by_edges(
    rows: Sequence[Line], heads: Sequence[Cell], found: int
) -> list[tuple[float, float]] | None:
    """Return the stretch of each column, if the rows fit; None if not.

    Every word must lie in one stretch, and every stretch hold at most one cell a row. ``found`` is
    the number of columns that white gaps give: fewer filled stretches than that is no fit.
    """
    ordered = sorted(heads, key=lambda h: h.left)
    if len(ordered) < 2 or len(rows) < 2:
        return None
    edges = [h.left - 1.0 for h in ordered]
    edges[0] = 0.0
    filled = [0] * len(edges)
    for row in rows:
        used = _stretches_of(row, edges)
        if used is None:
            return None
        for at in used:
            filled[at] += 1
    if not all(filled) and sum(map(bool, filled)) < found:
        return None
    ends = [*edges[1:], 1e4]
    return [(a + 0.5, b - 0.5) for a, b in zip(edges, ends, strict=True)]


def _stretches_of(row: Line, edges: Sequence[float]) -> list[int] | None:
    """Return the stretches that a row's cells lie in; None where one crosses or two share one."""
    used: list[int] = []
    for cell in row.cells:
        at = [bisect_right(edges, w.left + 1.0) - 1 for w in cell.words]
        to = [bisect_right(edges, w.right - 1.0) - 1 for w in cell.words]
        if at != to or not at:
            return None
        if at[0] != at[-1] and (not is_figure(cell.words[0].text) or _sign_cut_off(cell, at)):
            return None
        stretches = sorted(set(at))
        if any(r in used for r in stretches):
            return None
        used.extend(stretches)
    return used


def _sign_cut_off(cell: Cell, at: Sequence[int]) -> bool:
    """Whether an edge runs between a sign and its number."""
    pairs = zip(cell.words, at, at[1:], strict=False)
    return any(word.text in SIGNS and here != there for word, here, there in pairs)


def is_figure(text: str) -> bool:
    """Whether a word begins a result: a number or a sign before one."""
    return (
        text in SIGNS or text in {"ND", "nd"} or text.lstrip("<>")[:1].isdigit() or text[:1] == "."
    )


def is_figure_part(text: str) -> bool:
    """Whether a word only goes on with a number: "10^3" behind "1.2 x"."""
    return text in {"x", "±", "+/-", "E"}
