"""One line of the table that a person filled in, and how its cells are named in errors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from welltold.errors import ReadingFileError
from welltold.reading import Where

from .addresses import address
from .geometry import SheetCell

COLUMNS = (
    "sample",
    "point",
    "collected",
    "taken",
    "analyte",
    "result",
    "result_again",
    "unit",
    "basis",
    "method",
    "reporting_limit",
)


@dataclass(frozen=True, slots=True)
class Line:
    """The cells of one row that are not empty, by column from 1; at least one."""

    file: str
    cells: Mapping[int, SheetCell]

    @property
    def first(self) -> SheetCell:
        """The first cell that is not empty."""
        return self.cells[min(self.cells)]

    @property
    def last(self) -> SheetCell:
        """The last cell that is not empty."""
        return self.cells[max(self.cells)]

    def text(self, column: str) -> str:
        """Return what stands in a column, "" where nothing does."""
        cell = self.cells.get(COLUMNS.index(column) + 1)
        return cell.text.strip() if cell else ""

    def shown(self) -> str:
        """Return the whole line as text."""
        return " ".join(cell.text for cell in self.cells.values())

    def address(self, column: str) -> str:
        """Return the spreadsheet's name of a cell of this line, be it empty."""
        return address(self.first.row, COLUMNS.index(column) + 1)

    def where(self) -> tuple[Where, ...]:
        """Return the places of the result, the name and the unit; the result's is always there."""
        places = [
            Where(of="value", sheet="", cell=self.address("result")),
            Where(of="label", sheet="", cell=self.address("analyte")),
        ]
        if self.text("unit"):
            places.append(Where(of="unit", sheet="", cell=self.address("unit")))
        return tuple(places)

    def wrong(self, column: str | None, problem: str) -> ReadingFileError:
        """Return the error that names a cell, the line's last one for no column."""
        last = self.last
        place = self.address(column) if column else address(last.row, last.column)
        return ReadingFileError(self.file, place, problem)
