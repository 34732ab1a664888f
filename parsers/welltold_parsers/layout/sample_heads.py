"""What the heads of a table say of the sample in each of its result columns."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .bare_keys import led_by_key
from .cells import Cell, Line, join
from .dates import is_date, is_hour
from .drafts import Facts
from .empties import says_nothing
from .head_cells import SAMPLE_ROLES
from .roles import Plan, ResultColumn, column_head
from .spans import over_names
from .tables import Table
from .tokens import is_number, unit_of
from .words import head_of

_NAMES = frozenset({"lab_id", "sample_id", "client_id", "point"})
YEAR = re.compile(r"(?:19|20)\d\d")
_OF_PAPERS = frozenset({"number", "report_id", "batch"})
"""Rows of a head that number papers: the custody form's number stands under each sample."""


def head_cell(table: Table, plan: Plan, role: str) -> Cell | None:
    """Return the head of the column of a role."""
    at = plan.shared.get(role)
    if at is None or not table.columns[at].head_cells:
        return None
    return join(table.columns[at].head_cells)


def column_facts(table: Table, plan: Plan) -> list[Facts]:
    """Return what the heads say of the sample in each result column; empty for one column."""
    if len(plan.results) < 2:
        return []
    over = _over_groups(table, plan)
    return [
        _head_facts(table, plan, result, [cells[at] for cells in over])
        for at, result in enumerate(plan.results)
    ]


def without_column(table: Table, plan: Plan, found: Sequence[Facts]) -> list[str]:
    """Return the samples that the heads name and that got no column of results, if some did."""
    told = [text for facts in found for text in facts.values()]
    names = []
    for line in table.heads if len(found) > 1 else []:
        if _stub(line, table, plan) in _NAMES and not any(map(_announces, line.cells[1:])):
            own = [c for c in line.cells[1:] if not over_names(c, table.heads)]
            names += [c.text for c in own if _filled_under(c, table)]
    return [n for n in names if not any(n in text or text in n for text in told)]


def _filled_under(head: Cell, table: Table) -> bool:
    """Whether something stands under a head: the column of a sample not tested is empty."""
    return any(
        not says_nothing(c.text)
        for line in table.lines[:60]
        for c in line.cells[1:]
        if min(c.right, head.right) > max(c.left, head.left)
    )


def guessed_heads(table: Table, plan: Plan) -> list[bool]:
    """Return for each result column whether it is a guess which words of a head are its own."""
    lines = {id(cell.line) for cells in _over_groups(table, plan) for cell in cells}
    return [
        any(c.guessed and id(c.line) not in lines for c in table.columns[r.index].head_cells)
        for r in plan.results
    ]


def unnumbered(facts: Sequence[Facts], table: Table, plan: Plan) -> list[bool]:
    """Return for each result column whether it alone has no number, where other samples have one.

    It may be no sample: a column of limits whose head nobody has listed. Of those none is "<0.5".
    """
    told = [bool(one.keys() & {"lab_id", "sample_id"}) for one in facts]
    if sum(told) < max(2, len(told) - 1):
        return [False] * len(told)
    at = [r.index for r in plan.results]
    return [not own and not _has_below(table, i) for own, i in zip(told, at, strict=False)]


def _has_below(table: Table, index: int) -> bool:
    cells = (table.cells(line)[index] for line in table.lines[:60])
    return any(c is not None and c.text.startswith("<") and is_number(c.text[1:]) for c in cells)


def _over_groups(table: Table, plan: Plan) -> list[list[Cell]]:
    """Return the head lines with one cell over each group: a result, its flag and its limit.

    Such a cell stands over the middle of its group or at its left edge, so that its words may fall
    into the column of the flag or of the limit.
    """
    if len(plan.results) < 2:
        return []
    first, last = plan.results[0].index, plan.results[-1].index
    if last - first < len(plan.results):
        return []  # no column but results
    edges = [(table.columns[r.index].left, table.columns[r.index].right) for r in plan.results]
    while first and plan.roles[first - 1] in {"sign", "qualifier"}:
        first -= 1  # the signs before a result belong to its group
    start = table.columns[first - 1].right if first else 0.0
    low = [start, *(right for _, right in edges[:-1])]
    high = [*(left for left, _ in edges[1:]), 2 * table.columns[-1].right]
    found = []
    for line in table.heads:
        stub = _stub(line, table, plan)
        cells = [c for c in line.cells[1 if stub else 0 :] if c.middle > start]
        if len(cells) != len(edges) or any(_announces(c) for c in cells):
            continue
        if all(a < c.middle < b for c, a, b in zip(cells, low, high, strict=True)):
            found.append(cells)
    return found


def _announces(cell: Cell) -> bool:
    """Whether a cell is a head by itself: of results, of flags, of units."""
    head = head_of(cell.text)
    told = head is not None and head.score > 0.9 and head.role not in {"taken", "sample_id"}
    return told or unit_of(cell.text.strip("()[]")) is not None


def this_day(columns: Sequence[Facts], day: str | None) -> int | None:
    """Return the column of the sheet's own day, where columns are told apart by days alone."""
    if day is None or len(columns) < 2 or any(facts.keys() != {"collected"} for facts in columns):
        return None
    same = [i for i, facts in enumerate(columns) if facts["collected"][:10] == day[:10]]
    return same[0] if len(same) == 1 else None


def by_year(columns: Sequence[Facts], place: str | None) -> list[Facts]:
    """Return the columns' facts, a bare year put behind the place: "Well 3, 2021".

    A year is no day and no number of a sample; it tells the samples of one place apart.
    """
    years = [next(iter(facts.values()), "") for facts in columns]
    bare = all(len(facts) == 1 for facts in columns) and all(map(YEAR.fullmatch, years))
    if not bare or len(set(years)) != len(years):
        return list(columns)
    return [{"point": ", ".join(filter(None, (place, year)))} for year in years]


def this_year(columns: Sequence[Facts], day: str | None) -> int | None:
    """Return the column of the sheet's own year, where columns are told apart by years."""
    if day is None:
        return None
    same = [
        i
        for i, facts in enumerate(columns)
        if facts.keys() == {"point"} and facts["point"].rpartition(", ")[2] == day[:4]
    ]
    return same[0] if len(same) == 1 else None


def _takes_key(cell: Cell, facts: Facts, named: set[str]) -> bool:
    """Take up a key with its number over the columns of a sample: "Lab No. 118840"."""
    keyed = led_by_key(cell.text, cell)
    if keyed is None:
        return False
    facts[keyed.role] = keyed.text
    named.add(keyed.role)
    return True


def _head_facts(table: Table, plan: Plan, result: ResultColumn, over: Sequence[Cell]) -> Facts:
    """Return what the heads say of the sample in one column, or over its group of columns."""
    facts: Facts = {}
    named: set[str] = set()
    lines = {id(cell.line) for cell in over} | _of_papers(table, plan)
    own = [c for c in table.columns[result.index].head_cells if id(c.line) not in lines]
    cells = sorted([*own, *over], key=lambda c: c.top)
    whole = column_head(table.columns[result.index])
    if whole is not None and whole.role == "taken" and whole.score > 0.9:
        return {"taken": table.columns[result.index].head}
    for cell in cells:
        stub = _stub(cell.line, table, plan)
        head = head_of(cell.text)
        plain = head and head.role in {"result", "unit", "qualifier"} and head.score > 0.9
        if plain or (stub is None and _takes_key(cell, facts, named)):
            continue
        if stub == "collected" and is_hour(cell.text) and not is_date(cell.text):
            facts["collected_time"] = cell.text  # the key stands beside two lines, day and hour
        elif stub:
            facts[stub] = cell.text
            named.add(stub)
        elif head and head.role == "taken":
            facts["taken"] = cell.text
        elif is_date(cell.text):
            facts["collected"] = cell.text
        elif "collected" in facts and is_hour(cell.text):
            facts["collected_time"] = cell.text
        elif unit_of(cell.text) is None:
            number = any(c.isdigit() for c in cell.text) and " " not in cell.text
            role = "sample_id" if number and "sample_id" not in named else "point"
            facts[role] = f"{facts[role]} {cell.text}" if role in facts else cell.text
    return facts


def _of_papers(table: Table, plan: Plan) -> set[int]:
    """Return the head lines that give numbers of papers, by their identity."""
    heads = [line for line in table.heads if not _heads_tests(line, table, plan)]
    return {id(line) for line in heads if _stub(line, table, plan, _OF_PAPERS)}


def _heads_tests(line: Line, table: Table, plan: Plan) -> bool:
    """Whether a line heads the tests too: "No" before "Parameter" only counts the rows."""
    if plan.analyte is None:
        return False
    named = table.columns[plan.analyte].head_cells
    return any(cell.line is line and cell is not line.cells[0] for cell in named)


def _stub(line: Line, table: Table, plan: Plan, roles: frozenset[str] = SAMPLE_ROLES) -> str | None:
    """Return the role named at the start of a head line, if it is one of the sample's."""
    first = line.cells[0]
    limit = table.columns[plan.results[0].index].left
    if first.left >= limit:
        return None
    head = head_of(first.text.rstrip(":"))
    return head.role if head and head.role in roles and head.score > 0.9 else None
