"""Reads one table, whatever its kind, and accounts for one that holds no results."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from .across import AcrossReader
from .analyte_columns import analyte_columns
from .announced_regions import (
    PLANNED_ON,
    has_value,
    plainly_answers,
    plainly_results,
    told_by_heads,
)
from .asked import is_yes_or_no
from .cells import Cell, Line, join
from .content import Content, contents
from .context import Context
from .listing import ListReader
from .loose import read_loose
from .metadata import facts_of
from .planning import make_plan
from .quarters import over_quarters
from .region_titles import PAPERS
from .roles import Plan, column_head, is_no_result
from .rows import RowReader
from .sample_list import read_sample_list
from .tables import Table
from .tables_again import note_title, titled
from .tails import without_tail
from .tokens import analyte_in, microbial, value_of
from .wide import is_sheet

_YEAR = re.compile(r"(?:19|20)\d\d")
_OF_WORDS = frozenset({"method", "unit", "cas", "remark", "person", "status"})
"""Columns in which no number is found below a limit."""


def read_table(table: Table, context: Context) -> tuple[Table, Plan] | None:
    """Read one table into the context.

    Returns the table and the plan that later lines without a head may go on with, or None.
    """
    if table.kind == "across":
        _read_across(table, context)
        return None
    table, tail = without_tail(table)
    if table.kind == "samples" and not _holds_results(table):
        read_loose(read_sample_list(table, context), context, None)
        return None
    region, turned = context.region, context.turned
    told = told_by_heads(table)
    if told:
        context.region, context.turned = told, False
        context.accounts.settle(*table.lines)
    elif context.region in PAPERS and plainly_results(table):
        context.region = None  # a word above was no title: "INVOICE 26-7" beside the client
    last = None
    inside = context.region
    rows = _value_rows(table)
    content = contents(rows, len(table.columns))
    parts = _side_by_side(table, rows, content)
    section = context.section
    for part in parts:
        context.region = inside
        if part is not table:
            context.section = section
            context.heading_over(part.columns[0].left, part.columns[-1].right, part.heads[0])
            rows = _value_rows(part)
        plan = make_plan(part, rows, content if part is table else None)
        context.accounts.plan(part, plan)
        if _read_part(part, plan, context):
            last = (part, plan)
    if told:
        context.region, context.turned = region, turned
    read_loose(tail, context, None)
    return last


def _read_across(table: Table, context: Context) -> None:
    """Read a table with analytes across; one of earlier quarters is left out, and counted."""
    if not over_quarters(table):
        if context.region in PAPERS and plainly_answers(table):
            context.region = None
        AcrossReader(table, context).read()
        return
    for line in filter(has_value, table.lines):
        context.count("history")
        context.accounts.settle(line)


def _read_part(part: Table, plan: Plan, context: Context) -> bool:
    """Read one table; return whether later lines may go on with it."""
    nameless = plan.analyte is None
    if not plan.results:
        if not part.is_part:
            _without_results(part, plan, context)
    elif nameless and _is_list(plan):
        context.start_list(ListReader(part, plan, context), part.lines)
    elif nameless and context.title_analyte is None:
        _nameless(part, plan, context)
    else:
        _read_rows(part, plan, context)
        return True
    return False


def _read_rows(part: Table, plan: Plan, context: Context) -> None:
    title = context.last_heading
    if not context.closed:
        note_title(part, plan, title, context.titled, context.samples)
    RowReader(part, plan, context).read()
    if not context.closed and (draft := context.samples.latest) is not None:
        context.titled.append(titled(part, plan, title, draft))
    _tell_years(part, plan, context)


def _tell_years(table: Table, plan: Plan, context: Context) -> None:
    """Tell the columns of numbers under years of which no result was made."""
    if context.closed or not is_sheet(table):
        return
    results = {result.index for result in plan.results}
    results |= {index for index, role in enumerate(plan.roles) if role == "previous"}
    for index, column in enumerate(table.columns):
        if index in results or not _YEAR.fullmatch(column.head):
            continue
        told = [c for line in table.lines if (c := table.cells(line)[index]) is not None]
        value = next((c for c in told if value_of(c.text) is not None), None)
        if value is not None:
            text = f"{column.head}: {value.text}"
            context.lost(join(column.head_cells), "column_unknown", text)


def _without_results(table: Table, plan: Plan, context: Context) -> None:
    """Take up what a table without results says all the same; its limits are accounted for."""
    context.listed_limits.take(table, plan)
    limits = any(is_no_result(role) for role in plan.roles)
    for line in table.lines:
        if line.answer is not None:
            continue  # a name with its answer is read by itself
        facts = facts_of(line)
        if facts:
            context.facts(facts)
        elif len(line.cells) <= 2:
            context.heading(line)
        if _answers_for_germ(line) and not context.closed:
            context.lost(join(line.cells), "words_only")
        elif limits and not _found_or_not(table, plan, line):
            context.accounts.settle(line)


def _answers_for_germ(line: Line) -> bool:
    """Whether a row says yes or no of a germ: under "Acceptable?" it is no result, and is told."""
    germ = any((m := analyte_in(c.text)) is not None and microbial(m.slug) for c in line.cells[:2])
    return germ and any(is_yes_or_no(c.text) for c in line.cells[1:])


def _found_or_not(table: Table, plan: Plan, line: Line) -> bool:
    """Whether a row says "ND" or "<0.5" where the plan has no limit: only a result is told so."""
    told = [
        value
        for role, cell in zip(plan.roles, table.cells(line), strict=True)
        if cell is not None and (role in _OF_WORDS or not is_no_result(role))
        if (value := value_of(cell.text)) is not None
    ]
    return any(value.state == "below" for value in told)


def _holds_results(table: Table) -> bool:
    """Whether a list of samples has a column of results of its own: "First Draw (ppb)"."""
    plan = make_plan(table, _value_rows(table))
    heads = [h for r in plan.results if (h := column_head(table.columns[r.index]))]
    return any(h.role in {"result", "taken"} and (h.score > 0.9 or h.unit) for h in heads)


def _is_list(plan: Plan) -> bool:
    """Whether a table has places with one number each."""
    return "point" in plan.roles and len(plan.results) == 1


def _nameless(table: Table, plan: Plan, context: Context) -> None:
    """Account for a table of values in which no column names a test."""
    for line in table.lines:
        cells = table.cells(line)
        value = cells[plan.results[0].index]
        facts = facts_of(line)
        if facts:
            context.facts(facts)
        elif context.closed or value is None or value_of(value.text) is None:
            context.heading(line)
        elif (
            plan.sure and len({*plan.roles} - {"", "unknown", "empty"}) >= 3 and len(line.cells) > 1
        ):
            context.lost(join(line.cells), "no_label")


def _value_rows(table: Table) -> list[list[Cell | None]]:
    return [table.cells(line) for line in table.lines[:PLANNED_ON] if has_value(line)]


def _side_by_side(
    table: Table, rows: Sequence[Sequence[Cell | None]], content: Sequence[Content]
) -> list[Table]:
    """Return the tables that stand beside each other under one head."""
    starts = analyte_columns(table, rows, content)
    if len(starts) < 2:
        return [table]
    edges = [0, *starts[1:], len(table.columns)]
    return [table.part(a, b) for a, b in pairwise(edges)]
