"""A list of places with one number each, under a title that names the test."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Line
from .column import Column
from .columns import page_columns, sheet_columns
from .context import Context
from .listing import ListReader
from .metadata import facts_of
from .roles import Plan, ResultColumn
from .single_lines import is_result, is_valued, read_line
from .tables import Table
from .tokens import analytes_within, value_of

_PLACES_AT_LEAST = 3
_INDENT = 3.0
_HEADING = 6
"""Words of the heading of a group of places."""


def read_places(lines: Sequence[Line], context: Context) -> bool:
    """Read a list of places with one number each under a title that names the analyte."""
    rows = [line for line in lines if _is_place(line)]
    others = [line for line in lines if len(line.cells) > 2]
    if len(rows) < _PLACES_AT_LEAST or len(others) > len(rows) or any(map(is_result, lines)):
        return False
    first = lines.index(rows[0])
    above = _outermost(lines, first)
    for line in lines[:above]:
        read_line(line, context)
    columns = _two_columns(rows)
    if len(columns) < 2:
        return False
    table = Table("rows", [], list(lines[above:]), columns)
    if len(columns) == 2:
        for line in rows:
            table.settle(line, list(line.cells))
    unit = context.section.unit
    result = ResultColumn(len(columns) - 1, context.section.unit_cell, unit)
    plan = Plan(None, [result], {}, True, ["point"] * (len(columns) - 1) + ["result"])  # noqa: FBT003 - sure
    context.start_list(ListReader(table, plan, context), table.lines)
    return True


def _outermost(lines: Sequence[Line], first: int) -> int:
    """Return where the headings of the first place begin, each less indented than the next."""
    above = first
    while above and len(lines[above - 1].cells) == 1 and not facts_of(lines[above - 1]):
        upper = lines[above - 1]
        if above < first and (
            upper.cells[0].left > lines[above].cells[0].left - _INDENT
            or analytes_within(upper.text)
            or len(upper.text.split()) > _HEADING
        ):
            break
        above -= 1
    return above


def _two_columns(rows: Sequence[Line]) -> list[Column]:
    """Return the columns of places and of numbers; they may stand differently in each group."""
    if rows[0].sheet is not None:
        return sheet_columns(rows, [])
    edge = max(r.cells[0].right for r in rows)
    start = min(r.cells[1].left for r in rows)
    if edge > start:
        found = page_columns(rows, [])
        if len(found) > 2:
            return found
        edge = start = (edge + start) / 2  # numbers stand differently in each group
    left = min(r.cells[0].left for r in rows)
    return [Column(left, edge), Column(start, max(r.cells[1].right for r in rows))]


def _is_place(line: Line) -> bool:
    cells = line.cells
    return (
        len(cells) == 2
        and not facts_of(line)
        and value_of(cells[0].text) is None
        and is_valued(cells[1])
        and any(c.isdigit() for c in cells[1].text)
    )
