"""ODS workbooks, read as a stream.

An ODS cell stores its value and the text that was shown beside it, so no number format needs to
be known. Repeated empty cells and rows are stepped over, not unfolded.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from welltold.errors import EmptyFileError, PasswordError
from welltold.messages import Message
from welltold_parsers.doors.archive import Archive
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Sheet
from welltold_parsers.limits import Limits

_NUMBERS = {"float", "percentage", "currency"}
_UNSEEN = {"collapse", "filter"}
_CELLS = {"table-cell", "covered-table-cell"}
_ASIDE = {"annotation", "tracked-changes", "shapes", "frame", "ruby-text"}
"""Elements whose text is no part of a cell."""


def read(source: Source, limits: Limits) -> Opened:
    """Return every sheet of the workbook, hidden ones marked."""
    archive = Archive(source, "ODS", limits)
    _refuse_locked(archive)
    parser = _ContentParser(Budget(source.name, limits))
    archive.parse("content.xml", parser.start, parser.end, parser.add_text)
    if not any(sheet.rows for sheet in parser.sheets):
        raise EmptyFileError(source.name)
    return Opened(sheets=tuple(parser.sheets), warnings=tuple(parser.messages))


def _refuse_locked(archive: Archive) -> None:
    locked: list[str] = []

    def start(tag: str, _: Mapping[str, str]) -> None:
        if tag == "encryption-data":
            locked.append(tag)

    if archive.has("META-INF/manifest.xml"):
        archive.parse("META-INF/manifest.xml", start, lambda _: None)
    if locked:
        raise PasswordError(archive.path, "ODS")


@dataclass(slots=True)
class _Cell:
    """One cell element while it is read."""

    kind: str | None
    value: str
    formula: bool
    repeat: int
    span: tuple[int, int]
    lines: list[str] = field(default_factory=list)

    @property
    def shows_something(self) -> bool:
        """Whether there is anything to place, however often the cell is repeated."""
        valued = self.kind in {*_NUMBERS, "date"} and bool(self.value)
        return valued or self.formula or any(map(str.strip, self.lines))


class _ContentParser:
    """Makes sheets from the elements of ``content.xml``; attributes are known by local name."""

    def __init__(self, budget: Budget) -> None:
        self.sheets: list[Sheet] = []
        self.messages: list[Message] = []
        self._budget = budget
        self._hidden_styles: set[str] = set()
        self._style = ""
        self._grid: Grid | None = None
        self._row, self._rows, self._column, self._columns = 0, 1, 0, 0
        self._row_hidden = False
        self._cell: _Cell | None = None
        self._waiting: list[tuple[int, _Cell]] = []
        self._aside = 0
        self._in_text = 0

    def start(self, tag: str, raw: Mapping[str, str]) -> None:
        """Take the start of an element."""
        if self._aside or tag in _ASIDE:
            self._aside += 1
            return
        handler = _STARTS.get(tag)
        if handler:
            handler(self, {key.rpartition(":")[2]: value for key, value in raw.items()})

    def end(self, tag: str) -> None:
        """Take the end of an element."""
        if self._aside:
            self._aside -= 1
        elif tag == "p":
            self._in_text -= 1
        elif tag in _CELLS:
            self._end_cell()
        elif tag == "table-row":
            self._end_row()
        elif tag == "table" and self._grid is not None:
            self.sheets.append(self._grid.sheet())
            self.messages += self._grid.messages()
            self._grid = None

    def add_text(self, text: str) -> None:
        """Take text of a paragraph in a cell."""
        if self._in_text and not self._aside and self._cell is not None:
            self._cell.lines[-1] += text
            self._budget.check_text(len(self._cell.lines[-1]))

    def start_style(self, attributes: Mapping[str, str]) -> None:
        """Remember which style the following properties belong to."""
        self._style = attributes.get("name", "")

    def start_properties(self, attributes: Mapping[str, str]) -> None:
        """Note the styles that hide a sheet."""
        if attributes.get("display") == "false":
            self._hidden_styles.add(self._style)

    def start_table(self, attributes: Mapping[str, str]) -> None:
        """Begin a sheet."""
        hidden = attributes.get("style-name", "") in self._hidden_styles
        self._grid = Grid(attributes.get("name", ""), self._budget, hidden=hidden)
        self._row = self._columns = 0

    def start_column(self, attributes: Mapping[str, str]) -> None:
        """Count columns, and note hidden ones."""
        repeat = _count(attributes, "number-columns-repeated")
        if attributes.get("visibility") in _UNSEEN and self._grid is not None:
            self._grid.hide_columns(self._columns + 1, self._columns + repeat)
        self._columns += repeat

    def start_row(self, attributes: Mapping[str, str]) -> None:
        """Begin a row, or many alike."""
        self._rows = _count(attributes, "number-rows-repeated")
        self._column = 0
        self._row_hidden = attributes.get("visibility") in _UNSEEN

    def start_cell(self, attributes: Mapping[str, str]) -> None:
        """Begin a cell, or many alike."""
        kind = attributes.get("value-type")
        names = ("value", "date-value", "time-value", "boolean-value", "string-value")
        value = next((attributes[name] for name in names if name in attributes), "")
        rows, columns = "number-rows-spanned", "number-columns-spanned"
        self._cell = _Cell(
            kind,
            value,
            "formula" in attributes,
            _count(attributes, "number-columns-repeated"),
            (_count(attributes, rows), _count(attributes, columns)),
        )

    def start_paragraph(self, _: Mapping[str, str]) -> None:
        """Begin a line of text."""
        self._in_text += 1
        if self._cell is not None:
            self._cell.lines.append("")

    def start_space(self, attributes: Mapping[str, str]) -> None:
        """Take blanks that are written as an element."""
        self.add_text(" " * min(_count(attributes, "c"), 100))

    def start_break(self, _: Mapping[str, str]) -> None:
        """Take a line break inside a paragraph."""
        self.add_text("\n")

    def _end_cell(self) -> None:
        cell = self._cell
        if cell is not None:
            if cell.shows_something:
                self._waiting.append((self._column + 1, cell))
            self._column += cell.repeat
        self._cell = None

    def _end_row(self) -> None:
        if self._waiting and self._grid is not None:
            self._budget.foresee(self._rows * sum(cell.repeat for _, cell in self._waiting))
            for row in range(self._row + 1, self._row + self._rows + 1):
                if self._row_hidden:
                    self._grid.hidden_rows.add(row)
                for first, cell in self._waiting:
                    for column in range(first, first + cell.repeat):
                        _place(self._grid, row, column, cell)
        self._waiting.clear()
        self._row += self._rows


_STARTS = {
    "style": _ContentParser.start_style,
    "table-properties": _ContentParser.start_properties,
    "table": _ContentParser.start_table,
    "table-column": _ContentParser.start_column,
    "table-row": _ContentParser.start_row,
    "table-cell": _ContentParser.start_cell,
    "covered-table-cell": _ContentParser.start_cell,
    "p": _ContentParser.start_paragraph,
    "s": _ContentParser.start_space,
    "tab": _ContentParser.start_space,
    "line-break": _ContentParser.start_break,
}


def _count(attributes: Mapping[str, str], name: str) -> int:
    text = attributes.get(name, "1")
    return max(int(text), 1) if text.isdecimal() else 1


def _place(grid: Grid, row: int, column: int, cell: _Cell) -> None:
    """Put one cell into the grid as it was shown."""
    shown = "\n".join(cell.lines)
    if cell.span != (1, 1):
        grid.spans[row, column] = cell.span
    if cell.kind in _NUMBERS and cell.value:
        grid.shown_number(row, column, cell.value, shown)
    elif cell.kind == "date" and cell.value:
        grid.iso(row, column, cell.value)
    elif shown.strip():
        grid.text(row, column, shown)
    elif cell.formula:
        grid.formula_without_value(row, column)
