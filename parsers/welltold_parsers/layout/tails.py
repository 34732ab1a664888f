"""Cuts off what stands below a table on a page: remarks, sentences, forms, the foot of the page."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .cells import Cell, Line
from .tables import Table
from .tokens import analyte_in, value_of
from .two_in_row import is_pair

_FOOT = re.compile(r"(?i)\bpage \d+")


_REMARKS = re.compile(
    r"(?i)(?:(?:lab(?:oratory)?|general|additional|analyst'?s?|reviewer'?s?|your) )?"
    r"(?:comments?|remarks?|interpretations?|recommendations?|conclusions?|explanations?|advice"
    r"|comentarios|observaciones|recomendaciones)"
    r"(?:\s?(?:/|&|and|y)\s?(?:comments?|remarks?|interpretations?|recommendations?|advice"
    r"|observaciones|recomendaciones))?(?: of (?:the )?(?:results|analysis))?"
)
"""Titles of texts in which numbers are limits, or results told already."""
_COMPARES = re.compile(r"(?i)(?:exceed(?:s|ed)?|is|are|was|were|does|do|did|meets?|within)\b")
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
    stop = next((i for i, line in enumerate(lines) if _begins_remarks(line)), len(lines))
    rows = (i for i, line in enumerate(lines[:stop]) if _is_row(line) or _fills(table, i))
    last = max(rows, default=None)
    if last is None:
        return table, []
    end = last + 1
    while end < stop and _goes_on(lines[end - 1], lines[end]):
        end += 1
    return Table(table.kind, table.heads, lines[:end], table.columns), lines[end:]


def _begins_remarks(line: Line) -> bool:
    """Whether a line is the title of what a person wrote on the results: "COMMENTS"."""
    title = " ".join(line.text.split()).strip(" :.-")
    return len(line.cells) <= _CELLS and _REMARKS.fullmatch(title) is not None


def compares(cells: Sequence[Cell], at: int) -> bool:
    """Whether a verb follows a name: a sentence, though it is set with wide blanks."""
    return at + 1 < len(cells) and _COMPARES.match(cells[at + 1].text) is not None


def _is_row(line: Line) -> bool:
    """Whether a line names a test or has a value behind its first cell, in any notation."""
    if len(line.cells) < 2 or _FOOT.search(line.text):
        return False
    named = [at for at, c in enumerate(line.cells[:3]) if analyte_in(c.text) is not None]
    if named:
        return not compares(line.cells, named[0])
    return any(
        value_of(c.text, letters=True) is not None
        or value_of(c.text, decimal_comma=True)
        or is_pair(c.text)
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
