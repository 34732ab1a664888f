"""Leaves out what a workbook hides: a hidden row or column of numbers is no result of the sheet.

Offices hide last year's results, drafts and helper columns. Hidden words stay, and so do hidden
columns whose heads say what stands beside a result: its unit, its flag, its limit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import islice

from welltold.messages import say
from welltold.reading import Unread, Where

from ..addresses import address
from ..geometry import Sheet, SheetCell
from .dates import is_date
from .head_cells import SAMPLE_ROLES
from .tokens import is_number, unit_of, value_of
from .words import head_of

_BESIDE = SAMPLE_ROLES - {"taken"} | {
    "analyte",
    "unit",
    "qualifier",
    "sign",
    "detect_flag",
    "condition",
    "reporting_limit",
    "detection_limit",
    "printed_limit",
    "limit_unit",
    "method",
    "cas",
    "fraction",
    "analyzed",
}
"""Heads of hidden columns that stay: they serve the results that are shown."""
_SURE = 0.9
_HEAD = 40
_LOOKED_AT = 400


def shown(sheet: Sheet) -> Sheet:
    """Return a sheet without its hidden numbers."""
    columns = _columns(sheet)
    if not columns and not sheet.hidden_rows:
        return sheet
    rows = tuple(
        kept
        for row in sheet.rows
        if not _row_left_out(sheet, row)
        and (kept := tuple(c for c in row if c.column not in columns))
    )
    return replace(sheet, rows=rows)


def told(sheet: Sheet) -> Iterator[Unread]:
    """Yield one entry for each hidden column of numbers, and one for all hidden rows of a sheet."""
    for column in sorted(_columns(sheet)):
        cells = list(islice(_cells(sheet, column), _LOOKED_AT))
        number = next((c for c in cells if is_number(c.text) and not is_date(c.text)), None)
        if number is not None:
            head = next((c.text for c in cells if any(x.isalpha() for x in c.text)), "")
            text = f"{head}: {number.text}" if head else number.text
            yield _unread(sheet, number, text, "column_hidden")
    row = next((r for r in sheet.rows if _row_left_out(sheet, r)), None)
    if row is not None:
        yield _unread(sheet, row[0], "  ".join(c.text for c in row[:8]), "rows_hidden")


def _unread(sheet: Sheet, cell: SheetCell, text: str, why: str) -> Unread:
    place = Where("value", None, sheet.name, None, address(cell.row, cell.column))
    return Unread(text, place, say(f"read.{why}"))


def _row_left_out(sheet: Sheet, row: Sequence[SheetCell]) -> bool:
    """Whether a hidden row holds numbers; a hidden row of units stays."""
    return bool(row) and row[0].row in sheet.hidden_rows and any(is_number(c.text) for c in row)


def _columns(sheet: Sheet) -> set[int]:
    """Return the hidden columns of a sheet that are left out."""
    return {c for c in sheet.hidden_columns if _numbers(list(islice(_cells(sheet, c), _LOOKED_AT)))}


def _cells(sheet: Sheet, column: int) -> Iterator[SheetCell]:
    return (c for row in sheet.rows for c in row if c.column == column)


def _numbers(cells: Sequence[SheetCell]) -> bool:
    """Whether a column holds numbers or dates, and no head says that it serves the results."""
    if any(_serves(c.text) for c in cells[:_HEAD]):
        return False
    return sum(map(_valued, cells)) >= 0.5 * len(cells)


def _serves(text: str) -> bool:
    head = head_of(text)
    return head is not None and head.score >= _SURE and head.role in _BESIDE


def _valued(cell: SheetCell) -> bool:
    text = cell.text
    if cell.is_date or is_date(text):
        return True
    return value_of(text) is not None and unit_of(text) is None


def all_told(sheets: Iterable[Sheet]) -> tuple[Unread, ...]:
    """Return what hidden rows and columns hold, over all sheets that are shown."""
    return tuple(one for sheet in sheets if not sheet.hidden for one in told(sheet))
