"""XLS workbooks (Excel 2 to 2003), with the number formats that decide what is shown."""

from __future__ import annotations

import struct
from io import StringIO
from typing import Any

import xlrd
from xlrd.biffh import XLRDError, error_text_from_code
from xlrd.compdoc import CompDocError

from welltold.errors import DamagedFileError, EmptyFileError, PasswordError, WelltoldError
from welltold.messages import Message
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Sheet
from welltold_parsers.limits import Limits

_ENCRYPTED_PACKAGE = "EncryptedPackage".encode("utf-16-le")
_BROKEN = (
    XLRDError,
    CompDocError,
    struct.error,
    AssertionError,
    ArithmeticError,
    AttributeError,
    LookupError,
    NotImplementedError,
    RecursionError,
    TypeError,
    ValueError,
    EOFError,
)
"""What xlrd raises on a damaged file: it checks little and stumbles in many ways."""


def read(source: Source, limits: Limits) -> Opened:
    """Return every worksheet of the workbook, hidden ones marked."""
    if _ENCRYPTED_PACKAGE in source.data:
        raise PasswordError(source.name, "Excel")
    try:
        book = xlrd.open_workbook(
            file_contents=source.data,
            formatting_info=True,
            ragged_rows=True,
            logfile=StringIO(),
        )
        return _opened(book, source, limits)
    except WelltoldError:
        raise
    except _BROKEN as error:
        if "encrypted" in str(error):
            raise PasswordError(source.name, "XLS") from error
        raise DamagedFileError(source.name, "XLS", _reason(error)) from error


def _reason(error: Exception) -> str:
    return " ".join(f"{error}".split())[:120] or type(error).__name__


def _opened(book: Any, source: Source, limits: Limits) -> Opened:
    budget = Budget(source.name, limits)
    sheets: list[Sheet] = []
    warnings: list[Message] = []
    for sheet in book.sheets():
        grid = Grid(sheet.name, budget, from_1904=book.datemode == 1, hidden=sheet.visibility != 0)
        _fill(grid, book, sheet)
        sheets.append(grid.sheet())
        warnings += grid.messages()
    if not any(sheet.rows for sheet in sheets):
        raise EmptyFileError(source.name)
    return Opened(sheets=tuple(sheets), warnings=tuple(warnings))


def _fill(grid: Grid, book: Any, sheet: Any) -> None:
    for low, high, left, right in sheet.merged_cells:
        grid.spans[low + 1, left + 1] = (high - low, right - left)
    grid.hidden_rows.update(row + 1 for row, info in sheet.rowinfo_map.items() if info.hidden)
    grid.hidden_columns.update(
        column + 1 for column, info in sheet.colinfo_map.items() if info.hidden
    )
    for row in range(sheet.nrows):
        for column, cell in enumerate(sheet.row(row)):
            _place(grid, book, row + 1, column + 1, cell)


def _place(grid: Grid, book: Any, row: int, column: int, cell: Any) -> None:
    if cell.ctype in {xlrd.XL_CELL_NUMBER, xlrd.XL_CELL_DATE}:
        grid.number(row, column, repr(cell.value), _format(book, cell))
    elif cell.ctype == xlrd.XL_CELL_TEXT:
        grid.text(row, column, cell.value)
    elif cell.ctype == xlrd.XL_CELL_BOOLEAN:
        grid.text(row, column, "TRUE" if cell.value else "FALSE")
    elif cell.ctype == xlrd.XL_CELL_ERROR:
        grid.text(row, column, error_text_from_code.get(cell.value, "#ERROR"))


def _format(book: Any, cell: Any) -> str:
    key = book.xf_list[cell.xf_index].format_key
    return str(book.format_map[key].format_str) or "General"
