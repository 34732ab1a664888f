"""Cells of a grid while it is read: counted, ordered, and made into a `Sheet` at the end."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import lru_cache

from welltold.errors import TooLargeError
from welltold.messages import Message, say
from welltold_parsers.addresses import address, letters
from welltold_parsers.doors.dates import iso_of_serial, iso_of_text
from welltold_parsers.doors.shown import decimal_of, general, is_date_format, show
from welltold_parsers.doors.telling import ranges
from welltold_parsers.geometry import Sheet, SheetCell
from welltold_parsers.limits import Limits

_NAMED = 5
"""So many addresses are named in a message."""
_LONG = 200
"""Characters in a cell from which it is running text."""
_PLAIN = re.compile(r"-?(?:0|[1-9]\d{0,8})(?:\.\d{0,8}[1-9])?")
"""A stored number that an unformatted cell shows digit for digit."""


@dataclass(slots=True)
class Budget:
    """Counts what a whole workbook asks of the machine; TooLargeError beyond its limits."""

    path: str
    limits: Limits
    cells: int = 0
    characters: int = 0
    long_characters: int = 0
    repeats: int = 0

    def take(self, cell: SheetCell) -> None:
        """Count one cell and its text."""
        limits, length = self.limits, len(cell.text)
        self.cells += 1
        self.characters += length
        if length > _LONG:
            self.long_characters += length - _LONG
        if (
            cell.column > limits.columns
            or self.cells > limits.cells
            or length > limits.cell_characters
            or self.characters > limits.characters
            or self.long_characters > limits.long_characters
        ):
            self._refuse(cell)

    def take_row(self, cells: Sequence[SheetCell]) -> None:
        """Count the cells of one row, in order, and their texts."""
        lengths = [len(cell.text) for cell in cells]
        limits, most = self.limits, max(lengths, default=0)
        cells_then, characters = self.cells + len(cells), self.characters + sum(lengths)
        near = cells_then > limits.cells or characters > limits.characters
        if near or most > min(_LONG, limits.cell_characters) or len(cells) > limits.columns:
            for cell in cells:
                self.take(cell)
            return
        if cells and cells[-1].column > limits.columns:
            self._refuse(cells[-1])
        self.cells, self.characters = cells_then, characters

    def _refuse(self, cell: SheetCell) -> None:
        """Raise the error for the limit that was passed with this cell."""
        limits = self.limits
        for what, found, limit in (
            ("columns", cell.column, limits.columns),
            ("cells", self.cells, limits.cells),
            ("characters in a cell", len(cell.text), limits.cell_characters),
            ("characters in long cells", self.long_characters, limits.long_characters),
            ("characters", self.characters, limits.characters),
        ):
            if found > limit:
                raise self.passed(what, found, limit)

    def back_to(self, before: Budget) -> None:
        """Forget what was counted since a copy was made: it is counted again."""
        self.cells, self.characters = before.cells, before.characters
        self.long_characters, self.repeats = before.long_characters, before.repeats

    def count_cell(self) -> None:
        """Count one cell."""
        self.cells += 1
        if self.cells > self.limits.cells:
            raise self.passed("cells", self.cells, self.limits.cells)

    def foresee(self, count: int) -> None:
        """Refuse more cells than there may be before the first of them is made."""
        if self.cells + count > self.limits.cells:
            raise self.passed("cells", self.cells + count, self.limits.cells)

    def count_text(self, length: int) -> None:
        """Count the text of one cell."""
        self.check_text(length)
        self.characters += length
        if self.characters > self.limits.characters:
            raise self.passed("characters", self.characters, self.limits.characters)

    def check_text(self, length: int) -> None:
        """Refuse a text that is too long for a cell, before anything is made of it."""
        if length > self.limits.cell_characters:
            raise self.passed("characters in a cell", length, self.limits.cell_characters)

    def step(self, count: int = 1) -> None:
        """Count steps over what is only repeated, hidden or covered."""
        self.repeats += count
        if self.repeats > self.limits.repeats:
            raise self.passed("repeats", self.repeats, self.limits.repeats)

    def passed(self, what: str, found: int, limit: int) -> TooLargeError:
        """Return the error for a limit that was passed."""
        return TooLargeError(self.path, what, found, limit)


def stripped(text: str) -> str:
    """Return a cell's text without the blanks and breaks around it."""
    return text.strip(" \t\r\n\xa0")


@dataclass(slots=True)
class Grid:
    """One sheet while it is read."""

    name: str
    budget: Budget
    from_1904: bool = False
    hidden: bool = False
    cells: dict[int, list[SheetCell]] = field(default_factory=dict)
    spans: dict[tuple[int, int], tuple[int, int]] = field(default_factory=dict)
    """(row, column) of a merged cell to (rows, columns)."""
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    ordered: bool = True
    """Every row has its cells from left to right so far, none twice."""
    empty_formulas: list[str] = field(default_factory=list)
    unknown_formats: list[str] = field(default_factory=list)

    def text(self, row: int, column: int, text: str) -> None:
        """Add a cell that holds text; blank ones are left out."""
        self.budget.check_text(len(text))
        text = stripped(text)
        if text:
            self.add(SheetCell(row, column, text))

    def number(self, row: int, column: int, stored: str, code: str) -> None:
        """Add a cell that holds the number ``stored`` (as the file writes it)."""
        self.budget.check_text(len(stored) + len(code))
        cell = self.number_cell(row, column, stored, code)
        if cell is not None:
            self.add(cell)

    def number_cell(self, row: int, column: int, stored: str, code: str) -> SheetCell | None:
        """Return the cell of the number ``stored``, as its format shows it; None: it is blank."""
        shown = shown_as(stored, code)
        if shown is not None:
            return SheetCell(row, column, shown[0], shown[1], is_number=True)
        value = decimal_of(stored)
        if value is not None and is_date_format(code):
            return self._date(row, column, value)
        if value is not None and code not in self.unknown_formats:
            self.unknown_formats.append(code)
        return _shown_cell(row, column, stored, "")

    def shown_number(self, row: int, column: int, stored: str, shown: str) -> None:
        """Add a cell that stores the number ``stored`` and is known to show ``shown``."""
        self.budget.check_text(len(stored) + len(shown))
        cell = _shown_cell(row, column, stored, shown)
        if cell is not None:
            self.add(cell)

    def _date(self, row: int, column: int, value: Decimal) -> SheetCell:
        text = iso_of_serial(value, from_1904=self.from_1904)
        if text is None:
            return SheetCell(row, column, general(value), is_number=True)
        stored = _spelled(float(value))
        return SheetCell(row, column, text, stored, is_number=True, is_date=True)

    def iso(self, row: int, column: int, text: str) -> None:
        """Add a cell that holds a date written as ISO 8601."""
        self.budget.check_text(len(text))
        self.add(SheetCell(row, column, iso_of_text(text), is_date=True))

    def add(self, cell: SheetCell) -> None:
        """Add a finished cell."""
        self.budget.take(cell)
        row = self.cells.get(cell.row)
        if row is None:
            self.cells[cell.row] = [cell]
            return
        if cell.column <= row[-1].column:
            self.ordered = False
        row.append(cell)

    def add_row(self, row: int, cells: list[SheetCell]) -> None:
        """Add the finished cells of a row that is not there yet, from left to right."""
        self.budget.take_row(cells)
        if cells:
            self.cells[row] = cells

    def hide_columns(self, first: int, last: int) -> None:
        """Note that columns are hidden."""
        last = min(last, self.budget.limits.columns)
        self.budget.step(max(last - first + 1, 1))
        self.hidden_columns.update(range(first, last + 1))

    def formula_without_value(self, row: int, column: int) -> None:
        """Note a formula whose result is not in the file."""
        self.budget.count_cell()
        self.empty_formulas.append(address(row, column))

    def sheet(self) -> Sheet:
        """Return the finished sheet, its cells in order, merged cells with their size.

        Rows and columns without a cell are not told to be hidden: there are often a million.
        """
        rows: list[tuple[SheetCell, ...]] = []
        for row in sorted(self.cells):
            cells = self.cells[row]
            if not self.ordered:
                cells = sorted(cells, key=lambda cell: cell.column)
            if self.spans:
                cells = [self._spanned(cell) for cell in cells]
            rows.append(tuple(cells))
        return Sheet(
            self.name,
            tuple(rows),
            frozenset(self.hidden_rows & self.cells.keys()),
            frozenset(self.hidden_columns & self.used_columns()),
            self.hidden,
        )

    def used_columns(self) -> set[int]:
        """Return the columns that hold a cell; asked only where a column is hidden."""
        if not self.hidden_columns:
            return set()
        return {cell.column for row in self.cells.values() for cell in row}

    def _spanned(self, cell: SheetCell) -> SheetCell:
        span = self.spans.get((cell.row, cell.column))
        if span is None:
            return cell
        return SheetCell(
            cell.row,
            cell.column,
            cell.text,
            cell.stored,
            span[0],
            span[1],
            cell.is_number,
            cell.is_date,
        )

    def messages(self) -> list[Message]:
        """Return what should be told about this sheet."""
        told = [
            say("door.format_unknown", sheet=self.name, format=code)
            for code in self.unknown_formats
        ]
        if self.hidden and self.cells:
            told.append(say("door.hidden_sheet", sheet=self.name))
        rows = sorted(self.hidden_rows & self.cells.keys())
        if rows:
            told.append(say("door.hidden_rows", sheet=self.name, names=ranges(rows)))
        columns = sorted(self.hidden_columns & self.used_columns())
        if columns:
            names = ", ".join(letters(column) for column in columns[:_NAMED])
            told.append(say("door.hidden_columns", sheet=self.name, names=names))
        if self.empty_formulas:
            named = ", ".join(self.empty_formulas[:_NAMED])
            count = len(self.empty_formulas)
            told.append(say("door.formula_empty", sheet=self.name, count=count, cells=named))
        return told


def _shown_cell(row: int, column: int, stored: str, shown: str) -> SheetCell | None:
    """Return the cell of a stored number; as plain text where it is none, None if that is blank."""
    value = decimal_of(stored)
    if value is None:
        text = stripped(shown or stored)
        return SheetCell(row, column, text) if text else None
    text = shown.strip() or general(value)
    return SheetCell(row, column, text, _exact(stored, text), is_number=True)


@lru_cache(maxsize=16384)
def shown_as(stored: str, code: str) -> tuple[str, str | None] | None:
    """Return what a cell shows, and its number if that is another one.

    None: a date, or not understood.
    """
    if code == "General" and _PLAIN.fullmatch(stored):
        return stored, None
    shown = show(stored, code)
    return None if shown is None else (shown, _exact(stored, shown))


def _exact(stored: str, shown: str) -> str | None:
    """Return a stored number in its shortest spelling, or None when it equals the shown one."""
    number = float(stored)
    try:
        if float(shown) == number:
            return None
    except ValueError:
        pass  # a unit, a sign or thousands are shown with it
    return _spelled(number)


def _spelled(number: float) -> str:
    """Return a number in its shortest spelling: 12 for 12.0."""
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)
