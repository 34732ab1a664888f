"""Reads a grid of one test: places down, days across, the test named only in the title above."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .cells import Cell, Line, join
from .context import Context
from .dates import is_date
from .headings import Title
from .printed import Printed
from .tokens import analyte_in, is_number, value_of

_MONTH = re.compile(
    r"(?i)(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?[ '/-]*(?:19|20)?\d\d"
    r"|Q[1-4] ?[/-]? ?(?:19|20)\d\d|(?:19|20)\d\d"
)
_FEWEST = 2


def without_grid(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Read the grids of a sheet under a title that names one test; return the other lines."""
    title = context.title_analyte
    if not lines or lines[0].sheet is None or title is None or context.closed:
        return lines
    head: Line | None = None
    left = []
    for line in lines:
        if _is_head(line):
            head = line
        elif head is not None and _is_row(line, head):
            _read_row(line, head, title, context)
        else:
            left.append(line)
    return left


def _is_head(line: Line) -> bool:
    """Whether a line has days or months and nothing else behind its first cell."""
    times = line.cells if _is_time(line.cells[0]) else line.cells[1:]
    return len(times) >= _FEWEST and all(map(_is_time, times))


def _is_time(cell: Cell) -> bool:
    return cell.is_date or is_date(cell.text) or _MONTH.fullmatch(cell.text) is not None


def _is_row(line: Line, head: Line) -> bool:
    """Whether a line has a place, and values only under the days."""
    place, *values = line.cells
    days = {c.left for c in head.cells}
    named = any(c.isalpha() for c in place.text) and analyte_in(place.text) is None
    if not named or not values or not all(c.left in days for c in values):
        return False
    return any(is_number(c.text) for c in values) and all(value_of(c.text) for c in values)


def _read_row(line: Line, head: Line, title: Title, context: Context) -> None:
    place, *values = line.cells
    days = {c.left: c for c in head.cells}
    for value in values:
        day = days[value.left]
        collected = context.samples.fact("collected", day.text)
        if collected is None:
            context.lost(value, "not_understood", join([place, value]).text)
            continue
        printed = Printed(
            label=title.name,
            label_cell=title.cell,
            text=value.text,
            value_cell=value,
            draft=context.samples.of({"point": place.text, "collected": collected}),
            section=context.section,
            head=day,
            head_unit=title.unit,
        )
        printed.doubt(title.how, analyte=title.name)
        context.emit(printed)
