"""Cuts off what stands below a table on a page: remarks, sentences, forms, the foot of the page."""

from __future__ import annotations

import re

from .cells import Line
from .tables import Table
from .tokens import analyte_in, value_of

_FOOT = re.compile(r"(?i)\bpage \d+")


_CELLS = 3
"""A line of fewer is no row by its values alone."""


def without_tail(table: Table) -> tuple[Table, list[Line]]:
    """Return a page's table up to its last row, and the lines of running text below that.

    A row has something in two columns, one of them a value. The tail begins where the text no
    longer keeps to the columns, so that a wrapped name or a group's heading stays with the table.
    """
    lines = table.lines
    if not lines or lines[0].sheet is not None or table.kind == "across":
        return table, []
    rows = (i for i, line in enumerate(lines) if _is_row(line) or _fills(table, i))
    last = max(rows, default=None)
    if last is None:
        return table, []
    end = last + 1
    while end < len(lines) and _goes_on(lines[end - 1], lines[end]):
        end += 1
    return Table(table.kind, table.heads, lines[:end], table.columns), lines[end:]


def _is_row(line: Line) -> bool:
    """Whether a line names a test or has a value behind its first cell, in any notation."""
    if len(line.cells) < 2 or _FOOT.search(line.text):
        return False
    if any(analyte_in(c.text) is not None for c in line.cells[:3]):
        return True
    return any(
        value_of(c.text, letters=True) is not None or value_of(c.text, decimal_comma=True)
        for c in line.cells[1:]
    )


def _fills(table: Table, at: int) -> bool:
    """Whether a line right below another has a value once the columns part its cells.

    "0.303 EPA 350.1" is one cell where the method's number begins right behind the result.
    """
    line, above = table.lines[at], table.lines[at - 1]
    if at == 0 or len(line.cells) < _CELLS or _FOOT.search(line.text):
        return False
    if above.page != line.page or line.top - above.bottom > line.height:
        return False
    return any(c is not None and value_of(c.text) is not None for c in table.cells(line)[1:])


def _goes_on(above: Line, line: Line) -> bool:
    """Whether a short line right below still belongs to the last row: the end of its name."""
    gap = line.top - above.bottom
    return gap < 0.6 * line.height and len(line.text.split()) <= 5 and ":" not in line.text
