"""Sheets as HTML tables with their true row numbers and column letters, and the cells framed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from welltold_parsers.addresses import letters
from welltold_parsers.geometry import Sheet, SheetCell

from .marks import KINDS, Mark, visible

WHOLE_ROWS = 200
"""A sheet with no more rows is shown whole; of a larger one the rows near a result."""
MOST_ROWS = 2000
"""Rows of one sheet at most."""
WHOLE_COLUMNS = 40
NEAR = 3
"""Rows and columns that are shown round a result."""
_ADDRESS = re.compile(r"([A-Z]+)(\d+)")
Place = tuple[int, int]


@dataclass(frozen=True, slots=True)
class GridCell:
    """One cell to show."""

    text: str
    marks: tuple[Mark, ...]
    columns: int
    rows: int


@dataclass(frozen=True, slots=True)
class GridRow:
    """One row to show, or a gap of so many rows that are not."""

    number: int
    cells: tuple[GridCell, ...] = ()
    gap: int = 0
    empty: bool = False
    """The rows of the gap are empty on the sheet, too."""
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet, ready to show."""

    name: str
    columns: tuple[tuple[str, bool], ...]
    """Letters, and whether the column is hidden."""
    rows: tuple[GridRow, ...]
    cut: bool
    """Whether rows with results were left out."""
    narrow: bool
    """Whether columns were left out."""


def grid_of(sheet: Sheet, marks: Iterable[Mark]) -> Grid:
    """Return a sheet with its marks; marks that name no cell of it are left to the list."""
    placed = _placed(marks)
    rows, cut = _rows(sheet, {row for row, _ in placed})
    in_rows = set(rows)
    shown = (row for row in sheet.rows if row and row[0].row in in_rows)
    cells = {(cell.row, cell.column): cell for row in shown for cell in row}
    used = {column for _, column in cells}
    columns, narrow = _columns(used, {column for row, column in placed if row in in_rows})
    return Grid(
        sheet.name,
        tuple((letters(column), column in sheet.hidden_columns) for column in columns),
        tuple(_with_gaps(sheet, rows, columns, cells, placed)),
        cut,
        narrow,
    )


def address(cell: str) -> Place | None:
    """Return row and column of ``B7``; None for anything else."""
    found = _ADDRESS.fullmatch(cell)
    if found is None:
        return None
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - 64
    return int(found[2]), column


def _placed(marks: Iterable[Mark]) -> dict[Place, tuple[Mark, ...]]:
    placed: dict[Place, tuple[Mark, ...]] = {}
    for mark in marks:
        place = address(mark.where.cell or "")
        if place:
            placed[place] = (*placed.get(place, ()), mark)
    return placed


def _rows(sheet: Sheet, marked: set[int]) -> tuple[list[int], bool]:
    """Return the numbers of the rows to show, and whether rows with results are left out."""
    known = [row[0].row for row in sheet.rows if row]
    if len(known) <= WHOLE_ROWS:
        return sorted({*known, *marked}), False
    near = {row + step for row in marked for step in range(-NEAR, NEAR + 1)}
    wanted = sorted(near & {*known, *marked})
    return wanted[:MOST_ROWS], len(wanted) > MOST_ROWS


def _columns(used: set[int], marked: set[int]) -> tuple[list[int], bool]:
    if len(used) <= WHOLE_COLUMNS:
        return list(range(1, max(used | marked, default=0) + 1))[: WHOLE_COLUMNS * 2], False
    near = {column + step for column in marked for step in range(-NEAR, NEAR + 1)}
    return sorted({1} | (near & (used | marked))), True


def _with_gaps(
    sheet: Sheet,
    rows: Sequence[int],
    columns: Sequence[int],
    cells: Mapping[Place, SheetCell],
    placed: Mapping[Place, tuple[Mark, ...]],
) -> Iterable[GridRow]:
    filled = {row[0].row for row in sheet.rows if row}
    covered: set[Place] = set()
    before = 0
    for number in rows:
        if number > before + 1:
            left_out = filled.intersection(range(before + 1, number))
            yield GridRow(number, gap=number - before - 1, empty=not left_out)
        before = number
        shown = []
        for column in columns:
            if (number, column) in covered:
                continue
            cell = _cell(cells.get((number, column)), placed.get((number, column), ()))
            cell = _within(cell, (number, column), rows, columns)
            covered |= {
                (number + down, column + right)
                for down in range(cell.rows)
                for right in range(cell.columns)
            }
            shown.append(cell)
        yield GridRow(number, tuple(shown), hidden=number in sheet.hidden_rows)


def _cell(cell: SheetCell | None, marks: tuple[Mark, ...]) -> GridCell:
    ranked = tuple(sorted(marks, key=lambda mark: KINDS.index(mark.kind)))
    if cell is None:
        return GridCell("", ranked, 1, 1)
    return GridCell(visible(cell.text), ranked, max(cell.columns, 1), max(cell.rows, 1))


def _within(cell: GridCell, at: Place, rows: Sequence[int], columns: Sequence[int]) -> GridCell:
    """Return a merged cell no larger than the rows and columns that are shown next to it."""
    row, column = at
    wide = _run(column, cell.columns, columns)
    high = _run(row, cell.rows, rows)
    return GridCell(cell.text, cell.marks, wide, high)


def _run(first: int, wanted: int, shown: Sequence[int]) -> int:
    if wanted == 1:
        return 1
    known, count = set(shown), 1
    while count < wanted and first + count in known:
        count += 1
    return count
