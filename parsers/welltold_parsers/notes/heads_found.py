"""Tables as a template sees them: those that the engine found, and lines that look like a head."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from ..layout.cells import Cell, Line
from ..layout.column import Column
from ..layout.dates import is_date
from ..layout.head_roles import SURE
from ..layout.planning import make_plan
from ..layout.tables import Table
from ..layout.tokens import analyte_in, is_number, unit_of, value_of
from ..layout.words import head_of
from .note import UNKNOWN

_LOOKED_AT = 60
_MOST_WORDS = 4
_FEWEST = 3
"""Cells that a line has at least to look like a head."""


class Headed(NamedTuple):
    """One column: its heading, its role, what stands under it."""

    head: str
    role: str
    cells: list[Cell]

    @property
    def told(self) -> bool:
        """Whether the heading itself names the role."""
        return _announced(self.head, UNKNOWN) == self.role


class Block(NamedTuple):
    """One table."""

    heads: list[Line]
    columns: list[Headed]

    @property
    def across(self) -> bool:
        """Whether no column names tests, so that the headings may do so."""
        return not any(column.role == "analyte" for column in self.columns)


def engine_block(table: Table) -> Block:
    """Return a table of the engine with the roles that it gives to the columns."""
    rows = [table.cells(line) for line in table.lines[:_LOOKED_AT]]
    if table.kind == "across":
        given = [_announced(column.head, UNKNOWN) for column in table.columns]
    else:
        planned = make_plan(table, rows).roles
        given = [_announced(c.head, role) for c, role in zip(table.columns, planned, strict=True)]
    columns = [
        Headed(_heading(column, role), role, [c for row in rows if (c := row[at]) is not None])
        for at, (column, role) in enumerate(zip(table.columns, given, strict=True))
    ]
    return Block(table.heads, list(_without_samples(columns)))


def _heading(column: Column, role: str) -> str:
    """Return a stacked heading whole, or its lowest line where that names the role alone."""
    lowest = column.head_cells[-1].text if column.head_cells else column.head
    return lowest if _announced(lowest, "") == role else column.head


def _without_samples(columns: Sequence[Headed]) -> Iterator[Headed]:
    """Yield the columns but those of several results whose headings are the samples' names."""
    results = sum(column.role == "result" for column in columns)
    for column in columns:
        if column.role != "result" or results < 2 or column.told:
            yield column


def _announced(head: str, planned: str) -> str:
    """Return the role that a heading itself names, else the one planned for its column."""
    found = head_of(head)
    return found.role if found and found.score >= SURE else planned


def likely_blocks(lines: Sequence[Line]) -> Iterator[Block]:
    """Yield tables below lines that look like a head, though their words are not known."""
    at = 0
    while at < len(lines):
        end = at + 1
        if _like_head(lines[at]):
            while end < len(lines) and _like_row(lines[end], lines[at]):
                end += 1
        if end - at > 2:
            yield _block(lines, at, end)
        at = max(end, at + 1)


def _block(lines: Sequence[Line], at: int, end: int) -> Block:
    head, rows = lines[at], lines[at + 1 : end][:_LOOKED_AT]
    above = lines[at - 1] if at and _stands_over(lines[at - 1], head) else None
    columns = []
    for cell in head.cells:
        cells = [c for row in rows for c in row.cells if _over(c, cell)]
        open_ = above.cells if above and not _announced(cell.text, "") else ()
        upper = next((c.text for c in open_ if _over(c, cell)), "")
        columns.append(Headed(f"{upper} {cell.text}".strip(), _role(cell, cells), cells))
    return Block([head] if above is None else [above, head], columns)


def _like_head(line: Line) -> bool:
    texts = [c.text for c in line.cells]
    if len(texts) < _FEWEST or any(t.endswith(":") or len(t.split()) > _MOST_WORDS for t in texts):
        return False
    return not any(is_number(t) or is_date(t) or _valued(t) for t in texts)


def _like_row(line: Line, head: Line) -> bool:
    if line.page != head.page or line.sheet != head.sheet or len(line.cells) < _FEWEST - 1:
        return False
    return any(any(c.isdigit() for c in cell.text) for cell in line.cells)


def _stands_over(upper: Line, lower: Line) -> bool:
    """Whether a line is the upper part of a stacked head on a page."""
    if upper.sheet is not None or upper.page != lower.page:
        return False
    near = lower.top - upper.bottom < 0.75 * lower.height
    return near and not any(":" in c.text or is_number(c.text) for c in upper.cells)


def _role(head: Cell, cells: Sequence[Cell]) -> str:
    """Return what the heading or the texts under it give away, else UNKNOWN."""
    told = _announced(head.text, "")
    if told:
        return told
    half = 0.5 * len(cells)
    if cells and sum(analyte_in(c.text) is not None for c in cells) >= half:
        return "analyte"
    if cells and sum(unit_of(c.text) is not None for c in cells) >= half:
        return "unit"
    return UNKNOWN


def _valued(text: str) -> bool:
    return value_of(text) is not None and any(c.isdigit() for c in text)


def _over(a: Cell, b: Cell) -> bool:
    return min(a.right, b.right) - max(a.left, b.left) > 0
