"""What a table with analytes across holds that is no result, and what is said of it."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from .cells import Cell
from .context import Context
from .meters import is_log, meter_columns
from .row_kinds import earlier_test, tests_of_past_years
from .tables import Table
from .tokens import label_of, value_of
from .wide import is_sheet


def columns_left_out(table: Table) -> frozenset[int]:
    """Return the columns of what tests gave before, and of how meters were checked."""
    heads = [column.head for column in table.columns]
    earlier = frozenset(i for i, head in enumerate(heads) if earlier_test(head))
    earlier |= tests_of_past_years(heads)
    return earlier | meter_columns(table) if is_sheet(table) else earlier


def count_left_out(table: Table, context: Context) -> frozenset[int]:
    """Return the columns that are left out, and count what they hold."""
    checks = meter_columns(table) if is_sheet(table) else frozenset[int]()
    earlier = columns_left_out(table) - checks
    for line in table.lines if earlier else ():
        cells = table.cells(line)
        for cell in (cells[i] for i in earlier):
            if cell is not None and value_of(cell.text) is not None:
                context.count("history")
    for _ in table.lines if checks else ():
        context.count("qc")
    return earlier | checks


def is_logged(
    table: Table,
    rows: Sequence[Sequence[Cell | None]],
    roles: Mapping[str, int],
    names: Collection[str],
    context: Context,
) -> bool:
    """Whether rows are a logger's, which are no samples; the reading then says so.

    ``names``: the names of the analytes in the heads.
    """
    slugs = {m.slug if (m := label_of(name).match) else None for name in names}
    if not is_sheet(table) or not is_log(rows, roles, slugs):
        return False
    context.accounts.settle(*table.lines)
    context.count("logged")
    return True
