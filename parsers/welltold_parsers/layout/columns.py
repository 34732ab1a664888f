"""The columns of a table on a page, from white gaps that persist over its rows.

A sheet's columns are known; a page's are found by sweeping over the extents of all cells. Where one
row reaches into the next column the gap still counts, if the rest of the table keeps it.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .clipped import part_at_edges
from .column import Column, reaches
from .edges import by_edges
from .headed_columns import column_under, merge_halves, reach_to_heads, split_under_heads
from .white_gaps import columns_between_gaps

_PROUD = 0.06
"""The share of rows that may reach across a gap."""
_FAR_RIGHT = 9000.0
"""The last of the columns between heads has no other end."""


def page_columns(
    rows: Sequence[Line], heads: Sequence[Cell], stack: Sequence[Line] = ()
) -> list[Column]:
    """Return the columns under these heads (the cells of the lowest head line)."""
    extents = [(c.left, c.right) for row in rows for c in row.cells]
    allowed = max(1, int(_PROUD * len(rows))) if len(rows) >= 8 else 0
    columns = columns_between_gaps(extents, allowed)
    if any(sum([reaches(h, c, 1) for c in columns]) > 2 for h in heads):
        return columns  # heads set so near each other that they look like one say nothing of gaps
    for head in heads:
        if not any(reaches(head, column, 0) for column in columns):
            columns.append(column_under(head, heads, columns, rows))
    columns.sort(key=lambda c: c.left)
    stretches = by_edges([*rows, *stack], heads, len(columns))
    if stretches is None and len(heads) > 1:
        before = [row.cells for row in rows]
        if part_at_edges(rows, heads):
            stretches = by_edges([*rows, *stack], heads, len(columns))
            if stretches is None:
                for row, cells in zip(rows, before, strict=True):
                    row.cells = cells
    if stretches is not None:
        return [Column(*pair) for pair in stretches]
    columns = split_under_heads(columns, heads, rows)
    columns = merge_halves(columns, heads, rows)
    reach_to_heads(columns, heads)
    return columns


def at_heads(columns: Sequence[Column]) -> bool:
    """Whether columns go from one head's left edge to the next, as in a printed spreadsheet."""
    return len(columns) > 1 and columns[-1].right > _FAR_RIGHT


def sheet_columns(rows: Sequence[Line], heads: Sequence[Line]) -> list[Column]:
    """Return one column for each column of the sheet that holds text."""
    used = {int(c.left) for line in (*heads, *rows) for c in line.cells}
    return [Column(float(n), float(n + 1)) for n in sorted(used)]
