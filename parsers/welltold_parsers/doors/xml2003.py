"""Workbooks in the XML format of Excel 2002 and 2003, often saved under the name .xls."""

from __future__ import annotations

from collections.abc import Mapping
from xml.parsers import expat

from welltold.errors import DamagedFileError, EmptyFileError, WelltoldError
from welltold.messages import Message
from welltold_parsers.doors.archive import xml_parser
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Sheet
from welltold_parsers.limits import Limits

_KIND = "XML workbook"
_NAMED: dict[str, str] = {
    "": "General",
    "General Number": "General",
    "Fixed": "0.00",
    "Standard": "#,##0.00",
    "Percent": "0.00%",
    "Scientific": "0.00E+00",
    "Currency": '"$"#,##0.00',
    "True/False": "General",
}
"""Formats that this file kind names in words (ss:Format)."""


def read(source: Source, limits: Limits) -> Opened:
    """Return every worksheet, hidden ones marked."""
    parser = _BookParser(Budget(source.name, limits))
    xml = xml_parser(parser.start, parser.end, parser.add_text)

    def refuse(*_: object) -> None:
        raise DamagedFileError(source.name, _KIND, "its XML declares a document type")

    xml.StartDoctypeDeclHandler = refuse
    try:
        xml.Parse(source.data.lstrip(), True)  # noqa: FBT003 - expat takes it by position only
    except WelltoldError:
        raise
    except (expat.ExpatError, ValueError) as error:
        raise DamagedFileError(source.name, _KIND, str(error)) from error
    if not any(sheet.rows for sheet in parser.sheets):
        raise EmptyFileError(source.name)
    return Opened(sheets=tuple(parser.sheets), warnings=tuple(parser.messages))


class _BookParser:
    """Makes sheets from the elements of the workbook; attributes are known by local name."""

    def __init__(self, budget: Budget) -> None:
        self.sheets: list[Sheet] = []
        self.messages: list[Message] = []
        self._budget = budget
        self._formats: dict[str, str] = {}
        self._parents: dict[str, str] = {}
        self._style = "Default"
        self._grid: Grid | None = None
        self._row = self._column = self._columns = 0
        self._cell: Mapping[str, str] = {}
        self._kind = ""
        self._text: list[str] = []
        self._has_data = False

    def start(self, tag: str, raw: Mapping[str, str]) -> None:
        """Take the start of an element."""
        handler = _STARTS.get(tag)
        if handler:
            handler(self, {key.rpartition(":")[2]: value for key, value in raw.items()})

    def end(self, tag: str) -> None:
        """Take the end of an element."""
        if tag == "Data":
            self._end_data()
        elif tag == "Cell":
            if "Formula" in self._cell and not self._has_data and self._grid is not None:
                self._grid.formula_without_value(self._row, self._column)
            self._column += _whole(self._cell, "MergeAcross", 0)
        elif tag == "Visible" and self._grid is not None:
            self._grid.hidden = "".join(self._text).strip().startswith("SheetHidden")
        elif tag == "Worksheet" and self._grid is not None:
            self.sheets.append(self._grid.sheet())
            self.messages += self._grid.messages()
            self._grid = None

    def add_text(self, text: str) -> None:
        """Take text."""
        self._text.append(text)

    def start_style(self, attributes: Mapping[str, str]) -> None:
        """Begin a style."""
        self._style = attributes.get("ID", "")
        self._parents[self._style] = attributes.get("Parent", "Default")

    def start_format(self, attributes: Mapping[str, str]) -> None:
        """Note the number format of a style."""
        code = attributes.get("Format", "")
        self._formats[self._style] = _NAMED.get(code, code)

    def start_sheet(self, attributes: Mapping[str, str]) -> None:
        """Begin a sheet."""
        self._grid = Grid(attributes.get("Name", ""), self._budget)
        self._row = self._columns = 0

    def start_visible(self, _: Mapping[str, str]) -> None:
        """Begin the sheet's visibility, which stands behind its table as text."""
        self._text.clear()

    def start_column(self, attributes: Mapping[str, str]) -> None:
        """Count columns, and note hidden ones."""
        first = _whole(attributes, "Index", self._columns + 1)
        self._columns = first + min(_whole(attributes, "Span", 0), 16_384)
        if attributes.get("Hidden") == "1" and self._grid is not None:
            self._grid.hide_columns(first, self._columns)

    def start_row(self, attributes: Mapping[str, str]) -> None:
        """Begin a row."""
        self._row = _whole(attributes, "Index", self._row + 1)
        self._column = 0
        if attributes.get("Hidden") == "1" and self._grid is not None:
            self._grid.hidden_rows.add(self._row)

    def start_cell(self, attributes: Mapping[str, str]) -> None:
        """Begin a cell."""
        self._cell = attributes
        self._has_data = False
        self._column = _whole(attributes, "Index", self._column + 1)
        down, across = (_whole(attributes, name, 0) for name in ("MergeDown", "MergeAcross"))
        if (down or across) and self._grid is not None:
            self._grid.spans[self._row, self._column] = (down + 1, across + 1)

    def start_data(self, attributes: Mapping[str, str]) -> None:
        """Begin the content of a cell."""
        self._kind = attributes.get("Type", "String")
        self._text.clear()

    def _end_data(self) -> None:
        text = "".join(self._text)
        self._has_data = bool(text.strip())
        if self._grid is None or not self._has_data:
            return
        if self._kind == "Number":
            self._grid.number(self._row, self._column, text.strip(), self._format())
        elif self._kind == "DateTime":
            self._grid.iso(self._row, self._column, text)
        elif self._kind == "Boolean":
            self._grid.text(self._row, self._column, "TRUE" if text.strip() == "1" else "FALSE")
        else:
            self._grid.text(self._row, self._column, text)

    def _format(self) -> str:
        style = self._cell.get("StyleID", "Default")
        if style not in self._formats:
            style = self._parents.get(style, "Default")
        return self._formats.get(style, "General")


_STARTS = {
    "Style": _BookParser.start_style,
    "NumberFormat": _BookParser.start_format,
    "Worksheet": _BookParser.start_sheet,
    "Column": _BookParser.start_column,
    "Row": _BookParser.start_row,
    "Cell": _BookParser.start_cell,
    "Data": _BookParser.start_data,
    "Visible": _BookParser.start_visible,
}


def _whole(attributes: Mapping[str, str], name: str, otherwise: int) -> int:
    text = attributes.get(name, "")
    return int(text) if text.isdecimal() else otherwise
