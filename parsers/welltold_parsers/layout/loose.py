"""Reads lines that belong to no headed table: pairs, tables without a head, letters."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from .analyte_columns import analyte_columns
from .cells import Line
from .columns import page_columns, sheet_columns
from .columns_beside import tell_beside
from .content import contents
from .context import Context
from .filled_in import Filled, filled_in
from .head_cells import SAMPLE_ROLES
from .letters import is_prose, read_letter
from .metadata import facts_beside_result, facts_of
from .onward import goes_on
from .outlet_lines import read_at_place
from .place_lists import read_places
from .planning import make_plan
from .roles import Plan
from .rows import RowReader
from .single_lines import (
    is_result,
    is_valued,
    printed_from,
    read_answer,
    read_line,
    read_pairs,
    read_question,
)
from .stated_limits import only_explains
from .tables import Table
from .ticks import has_boxes
from .tokens import analyte_in


def read_loose(lines: Sequence[Line], context: Context, last: tuple[Table, Plan] | None) -> None:
    """Read free lines in order; ``last`` is the table that may go on here."""
    if last is not None and _continues(lines, last):
        RowReader(Table("rows", [], list(lines), last[0].columns), last[1], context).read()
        return
    if context.title_analyte is not None and read_places(lines, context):
        return
    run: list[Line] = []
    prose: list[Line] = []
    for line in lines:
        if _read_at_once(line, context):
            continue
        filled = [] if context.closed else filled_in(line)
        ends = bool(filled) or not (prose and _near(line, prose[-1]))
        if prose and (ends or not (is_prose(line) or _ends(line))):
            _read_prose(prose, context)
            prose = []
        if not filled and (is_result(line) or (run and _within(line, run))):
            context.facts(facts_beside_result(line))
            run.append(line)
            continue
        _read_run(run, context, last)
        run = []
        if filled:
            _read_filled(filled, line, context)
        elif prose or (is_prose(line) and not facts_of(line) and not has_boxes(line)):
            prose.append(line)
        else:
            read_line(line, context)
    _read_prose(prose, context)
    _read_run(run, context, last)


def _read_at_once(line: Line, context: Context) -> bool:
    """Read a line that needs none of its neighbours: a legend, a name with its answer."""
    if only_explains(line.text):
        context.accounts.settle(line)
        return True
    if line.answer is not None and not context.closed:
        read_answer(line, context)
        return True
    return read_at_place(line, context) or read_question(line, context)


def _read_filled(filled: Sequence[Filled], line: Line, context: Context) -> None:
    """Read the tests that a form asks along one line."""
    context.accounts.settle(line)
    for one in filled:
        name = one.label.text.rstrip(":")
        printed = printed_from(context, name, one.label, one.value.text, one.value)
        if one.unit is not None:
            printed.cells["unit"] = one.unit
        context.emit(printed)


def _continues(lines: Sequence[Line], last: tuple[Table, Plan]) -> bool:
    """Whether these lines are the rows of the table before, on a page or sheet without a head."""
    rows = [line for line in lines if len(line.cells) >= 3]
    least = 2 if last[1].analyte is not None else 1
    if len(rows) < least or len(rows) < 0.5 * len(lines):
        return False
    return _goes_on(Table("rows", [], rows[:60], last[0].columns), last[1])


def _near(line: Line, last: Line) -> bool:
    return line.page == last.page and line.top - last.bottom < 0.7 * line.height


def _ends(line: Line) -> bool:
    """Whether a short line can end a paragraph."""
    return len(line.cells) == 1 and ":" not in line.text and not facts_of(line)


def _read_prose(prose: list[Line], context: Context) -> None:
    if not prose or read_letter(prose, context):
        return
    for line in prose:
        if not read_pairs(line, context):
            context.heading(line)


def _within(line: Line, run: Sequence[Line]) -> bool:
    """Whether a short line may be a part of the table that this run is: a fragment of a name."""
    last = run[-1]
    return (
        line.sheet is None
        and len(line.cells) == 1
        and line.top - last.bottom < 0.5 * last.height
        and abs(line.cells[0].left - last.cells[0].left) < 14
        and len(line.text.split()) <= 4
        and ":" not in line.text
    )


def _read_run(run: list[Line], context: Context, last: tuple[Table, Plan] | None) -> None:
    if not run:
        return
    if last is not None:
        table = Table("rows", [], run, last[0].columns)
        if _goes_on(table, last[1]):
            RowReader(table, last[1], context).read()
            return
    rows = [line for line in run if is_result(line)]
    columns = sheet_columns(rows, []) if run[0].sheet is not None else page_columns(rows, [])
    table = Table("rows", [], run, columns)
    cells = [table.cells(line) for line in rows]
    starts = analyte_columns(table, cells, contents(cells, len(table.columns)))
    edges = [0, *starts[1:], len(columns)] if len(starts) > 1 else [0, len(columns)]
    parts = [table.part(a, b) for a, b in pairwise(edges)] if len(starts) > 1 else [table]
    for part in parts:
        plan = make_plan(part, [part.cells(line) for line in rows])
        context.accounts.plan(part, plan)
        if plan.results:
            RowReader(part, plan, context).read()
            tell_beside(part, plan, context)


def _goes_on(table: Table, plan: Plan) -> bool:
    """Whether lines without a head fit the columns of the table before."""
    if plan.analyte is None:
        samples = [i for i, r in enumerate(plan.roles) if r in SAMPLE_ROLES]
        return goes_on(table.lines, table, samples, [r.index for r in plan.results])
    good = 0
    for line in table.lines:
        cells = table.cells(line)
        label = cells[plan.analyte]
        good += (
            label is not None
            and analyte_in(label.text) is not None
            and any((c := cells[r.index]) is not None and is_valued(c) for r in plan.results)
        )
    return good >= 0.6 * len(table.lines)
