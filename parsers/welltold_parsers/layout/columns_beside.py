"""Numbers in columns that nothing heads, beside the one column of a list that was read.

Two or more such columns may be further samples: their numbers are told as not read, never dropped.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, join
from .context import Context
from .limits_told import known_share
from .roles import Plan
from .tables import Table
from .tokens import unit_of, value_of

_COLUMNS = 2
_ROWS = 2
_MOST = 0.7
"""A column is one of limits where so many of its numbers are known levels."""


def tell_beside(table: Table, plan: Plan, context: Context) -> None:
    """Keep the numbers of further columns of a list without a head as not read."""
    if context.closed or plan.analyte is None:
        return
    rows = [table.cells(line) for line in table.lines]
    for index in _further(plan, rows) if not table.heads else ():
        for cells in rows:
            cell, label = cells[index], cells[plan.analyte]
            if cell is not None and label is not None and _valued(cell):
                context.lost(cell, "column_unknown", join([label, cell]).text)


def _further(plan: Plan, rows: Sequence[Sequence[Cell | None]]) -> list[int]:
    """Return the columns of numbers right of the result whose role nothing tells."""
    first = plan.results[0].index
    found = []
    for index, role in enumerate(plan.roles):
        filled = sum((c := cells[index]) is not None and _valued(c) for cells in rows)
        if index <= first or role not in {"", "unknown"} or filled < max(_ROWS, 0.5 * len(rows)):
            continue
        agree, told = known_share(rows, plan.analyte or 0, index)
        if not (told and agree >= _MOST * told):
            found.append(index)
    return found if len(found) >= _COLUMNS else []


def _valued(cell: Cell) -> bool:
    return value_of(cell.text) is not None and unit_of(cell.text) is None
