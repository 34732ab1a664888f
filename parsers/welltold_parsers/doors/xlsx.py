"""XLSX and XLSM workbooks, read as a stream.

Each sheet is parsed cell by cell with expat, and only cells that are there cost anything: a sheet
with one cell in its last corner is as cheap as any. Number formats, hidden rows and columns,
merged cells and formulas come with the same pass.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from welltold.errors import EmptyFileError
from welltold.messages import Message
from welltold_parsers.addresses import place
from welltold_parsers.doors.archive import Archive
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.doors.xlsx_parts import RichText, book_of, formats_of, strings_of, unescape
from welltold_parsers.doors.xlsx_plain import fill, parted
from welltold_parsers.geometry import Sheet
from welltold_parsers.limits import Limits

_TRUE = {"1", "true"}
_WHOLE = 64_000_000
"""Bytes of a worksheet up to which it is unpacked as a whole: about 200,000 rows of ten cells."""


def read(source: Source, limits: Limits) -> Opened:
    """Return every worksheet of the workbook, hidden ones marked."""
    archive = Archive(source, "XLSX", limits)
    book, parts = book_of(archive)
    formats = formats_of(archive, parts.get("styles"))
    strings = strings_of(archive, parts.get("sharedStrings"), Budget(source.name, limits))
    budget = Budget(source.name, limits)
    sheets: list[Sheet] = []
    warnings: list[Message] = []
    for listed in book.sheets:
        if not archive.has(listed.part):
            raise archive.damaged(f"the part of sheet {listed.name} is missing")
        grid = Grid(listed.name, budget, book.from_1904, listed.hidden)
        grid = _filled(grid, archive, listed.part, strings, formats)
        sheets.append(grid.sheet())
        warnings += grid.messages()
    if not any(sheet.rows for sheet in sheets):
        raise EmptyFileError(source.name)
    return Opened(sheets=tuple(sheets), warnings=tuple(warnings))


def _filled(
    grid: Grid, archive: Archive, part: str, strings: list[str], formats: tuple[str, ...]
) -> Grid:
    """Return the grid with the cells of a worksheet; rows as long exports have them go quicker."""
    whole = archive.whole(part, _WHOLE)
    chunks: Iterable[bytes] = archive.chunks(part) if whole is None else (whole,)
    parts = parted(whole) if whole is not None else None
    if parts is not None:
        before, empty = replace(grid.budget), replace(grid, cells={}, hidden_rows=set())
        if fill(grid, parts[1], strings, formats):
            chunks = (parts[0],)
        else:
            grid.budget.back_to(before)
            grid = empty
    parser = _SheetParser(grid, strings, formats)
    archive.parse_chunks(part, chunks, parser.start, parser.end, parser.buffer.append)
    return grid


class _SheetParser:
    """Fills a grid from the elements of one worksheet."""

    def __init__(self, grid: Grid, strings: list[str], formats: tuple[str, ...]) -> None:
        self.buffer: list[str] = []
        self._grid = grid
        self._strings = strings
        self._formats = formats
        self._rich = RichText()
        self._row = 0
        self._column = 0
        self._cell: Mapping[str, str] = {}
        self._value: str | None = None
        self._formula = False
        self._starts = {
            "row": self._start_row,
            "c": self._start_cell,
            "f": self._start_formula,
            "is": self._start_inline,
            "mergeCell": self._merge,
            "col": self._start_columns,
        }

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Take the start of an element."""
        if tag in {"v", "t"}:
            self.buffer.clear()
            return
        handler = self._starts.get(tag)
        if handler:
            handler(attributes)
        elif tag in {"r", "vertAlign", "rPh"}:
            self._rich.start(tag, attributes)

    def end(self, tag: str) -> None:
        """Take the end of an element."""
        if tag == "v":
            self._value = "".join(self.buffer)
        elif tag == "c":
            self._end_cell()
        elif tag == "t":
            self._rich.add("".join(self.buffer))
        elif tag == "is":
            self._value = self._rich.text()

    def _start_row(self, attributes: Mapping[str, str]) -> None:
        number = attributes.get("r", "")
        self._row = int(number) if number.isdecimal() else self._row + 1
        self._column = 0
        if attributes.get("hidden", "0") in _TRUE:
            self._grid.hidden_rows.add(self._row)

    def _start_cell(self, attributes: Mapping[str, str]) -> None:
        self._cell = attributes
        self._value = None
        self._formula = False
        at = place(attributes["r"]) if "r" in attributes else None
        if at:
            self._row, self._column = at
        else:
            self._column += 1

    def _start_formula(self, _: Mapping[str, str]) -> None:
        self._formula = True

    def _start_inline(self, _: Mapping[str, str]) -> None:
        self._rich.clear()

    def _merge(self, attributes: Mapping[str, str]) -> None:
        first, _, last = attributes.get("ref", "").partition(":")
        begin, end = place(first), place(last)
        if begin and end:
            self._grid.spans[begin] = (end[0] - begin[0] + 1, end[1] - begin[1] + 1)

    def _start_columns(self, attributes: Mapping[str, str]) -> None:
        first, last = attributes.get("min", ""), attributes.get("max", "")
        hidden = attributes.get("hidden", "0") in _TRUE
        if hidden and first.isdecimal() and last.isdecimal():
            self._grid.hide_columns(int(first), int(last))

    def _end_cell(self) -> None:
        value, kind = self._value, self._cell.get("t", "n")
        if value is None or (value == "" and kind != "s"):
            if self._formula:
                self._grid.formula_without_value(self._row, self._column)
            return
        if kind == "n":
            self._grid.number(self._row, self._column, value, self._format())
        elif kind == "s":
            if value.isdecimal() and int(value) < len(self._strings):
                self._grid.text(self._row, self._column, self._strings[int(value)])
        elif kind == "b":
            self._grid.text(self._row, self._column, "TRUE" if value in _TRUE else "FALSE")
        elif kind == "d":
            self._grid.iso(self._row, self._column, value)
        else:
            self._grid.text(self._row, self._column, unescape(value))

    def _format(self) -> str:
        style = self._cell.get("s", "")
        if style.isdecimal() and int(style) < len(self._formats):
            return self._formats[int(style)]
        return "General"
