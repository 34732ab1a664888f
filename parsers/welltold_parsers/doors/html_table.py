"""Tables of an HTML page, also when a portal saved it under the name .xls."""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from lxml import etree, html

from welltold.errors import DamagedFileError, EmptyFileError, WelltoldError
from welltold.messages import say
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.html_pairs import pairs_of
from welltold_parsers.doors.html_rows import cells_in, is_row, mark_rows
from welltold_parsers.doors.html_style import mark_hidden
from welltold_parsers.doors.html_text import cells_of, is_hidden, lines_of, rows_of, text_of
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.limits import Limits

_CHARSET = re.compile(rb"<meta[^>]+charset\s*=\s*[\"']?([\w-]+)", re.IGNORECASE)
_MOST_COLUMNS = 1000
_MOST_ROWS = 65_534
"""HTML itself bounds colspan and rowspan so (WHATWG, attributes common to td and th)."""
_STORED = "x:num"
"""Spreadsheet programs keep the stored number in this attribute."""


@dataclass(slots=True)
class _Part:
    """What becomes one sheet: lines above a table, the table, and the lines below the last."""

    before: list[list[str]] = field(default_factory=list)
    table: etree._Element | None = None
    after: list[list[str]] = field(default_factory=list)


def read(source: Source, limits: Limits) -> Opened:
    """Return one sheet for each innermost table.

    The lines between two tables stand above the second, one row each, because they name what is
    below: a table's rows count from the first of these lines. A table that only arranges other
    tables is taken apart.
    """
    try:
        root = html.document_fromstring(_utf8(source), parser=html.HTMLParser(encoding="utf-8"))
        mark_hidden(root)
        mark_rows(root)
        parts = _parts(root)
        budget = Budget(source.name, limits)
        several = sum(part.table is not None for part in parts) > 1
        grids = [
            _grid(part, f"table {number}" if several else "", budget)
            for number, part in enumerate(parts, start=1)
        ]
        hidden = any(is_hidden(element) for element in root.iter("td", "th", "tr", "table", "div"))
    except WelltoldError:
        raise
    except (etree.LxmlError, ValueError, RecursionError) as error:
        raise DamagedFileError(source.name, "HTML", str(error)) from error
    sheets = tuple(grid.sheet() for grid in grids if grid.cells)
    if not sheets:
        raise EmptyFileError(source.name)
    return Opened(sheets=sheets, warnings=(say("door.hidden_parts"),) if hidden else ())


def _utf8(source: Source) -> bytes:
    """Return the page as UTF-8, honouring the character set that it names itself."""
    named = _CHARSET.search(source.data[:4096])
    decoded = source.decoded
    if named and decoded.encoding == "cp1252":
        try:
            name = codecs.lookup(named[1].decode("ascii")).name
            return source.data.decode(name, "replace").encode("utf-8")
        except (LookupError, UnicodeError):
            pass
    return decoded.text.replace("\0", "").encode("utf-8", "replace")


def _parts(root: etree._Element) -> list[_Part]:
    parts = [_Part()]
    for block in _blocks(root):
        if isinstance(block, list):
            parts[-1].before.append(block)
        else:
            parts[-1].table = block
            parts.append(_Part())
    if len(parts) > 1:
        last = parts.pop()
        parts[-1].after = last.before
    return parts


def _blocks(element: etree._Element) -> Iterator[list[str] | etree._Element]:
    """Return lines (as lists of cells) and data tables in the order of the page."""
    for part in lines_of(element):
        if isinstance(part, str):
            yield [part]
        elif part.tag == "dl":
            yield from pairs_of(part, text_of)
            yield []  # an empty row keeps the last pair from the head of a table below
        elif is_row(part):
            yield [text_of(cell) for cell in _seen(cells_in(part))]
        elif _holds_data(part):
            yield part
        else:
            for row in rows_of(part):
                yield from _arranged(row)


def _seen(cells: list[etree._Element]) -> list[etree._Element]:
    return [cell for cell in cells if not is_hidden(cell)]


def _arranged(row: etree._Element) -> Iterator[list[str] | etree._Element]:
    """Return what a row of an arranging table holds."""
    cells = cells_of(row)
    if any(next(cell.iter("table"), None) is not None for cell in cells):
        for cell in cells:
            yield from _blocks(cell)
    elif texts := [text_of(cell) for cell in cells]:
        yield texts


def _holds_data(table: etree._Element) -> bool:
    """Whether a table is a grid of values, and tables inside it are at most one row each."""
    inner = [other for other in table.iter("table") if other is not table]
    if not inner:
        return True
    rows = rows_of(table)
    columns = max((len(cells_of(row)) for row in rows), default=0)
    return len(rows) > 1 and columns > 1 and all(len(rows_of(other)) <= 1 for other in inner)


def _grid(part: _Part, name: str, budget: Budget) -> Grid:
    grid = Grid(name, budget)
    row = _lines(grid, part.before, 0)
    if part.table is not None:
        row = _table(grid, part.table, row)
    _lines(grid, part.after, row)
    return grid


def _lines(grid: Grid, lines: list[list[str]], row: int) -> int:
    """Put loose lines below ``row``; return the last row used."""
    for cells in lines:
        row += 1
        for column, text in enumerate(cells, start=1):
            grid.text(row, column, text)
    return row


def _table(grid: Grid, table: etree._Element, row: int) -> int:
    """Put a table below ``row``, each cell where its spans and those above it leave room."""
    taken: dict[int, int] = {}
    for element in rows_of(table):
        row += 1
        if is_hidden(element):
            continue
        column = 1
        for cell in cells_of(element):
            while taken.get(column, 0) >= row:
                grid.budget.step()
                column += 1
            down = _span(cell, "rowspan", _MOST_ROWS)
            across = _span(cell, "colspan", _MOST_COLUMNS)
            if down > 1 or across > 1:
                grid.spans[row, column] = (down, across)
            _place(grid, row, column, cell)
            grid.budget.step(across)
            for covered in range(column, column + across):
                taken[covered] = row + down - 1
            column += across
    return row


def _place(grid: Grid, row: int, column: int, cell: etree._Element) -> None:
    shown = text_of(cell)
    stored = cell.get(_STORED)
    if stored and shown:
        grid.shown_number(row, column, stored, shown)
    else:
        grid.text(row, column, shown)


def _span(cell: etree._Element, name: str, most: int) -> int:
    text = cell.get(name, "1").strip()
    return min(max(int(text), 1), most) if text.isdecimal() else 1
