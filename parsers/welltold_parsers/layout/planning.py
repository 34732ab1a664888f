"""What each column of a table is: decided by its head, its content, and what is known.

The head decides where it is plain. Content decides where the head is missing or vague, and it can
overrule a head (a column headed "Level" that holds only ranges is a limit). Levels that are known
for an analyte tell a column of printed limits from a column of results.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .analyte_columns import column_of_analytes
from .answer_columns import answer_column
from .cells import Cell
from .column import Column
from .content import Content, contents
from .dates import is_date
from .earlier_columns import name_earlier
from .head_roles import HEAD_IS_SAMPLE, SURE, role_of
from .limits_told import is_lab_limit, settle_limits
from .result_columns import name_shares, result_columns
from .roles import Plan, ResultColumn, column_head
from .shared_columns import share
from .sheet_roles import settle_roles
from .tables import Table
from .test_codes import codes_of_tests
from .tokens import unit_of
from .words import Head, head_of

_RULE = re.compile(
    r"(?i)\b(?:S?MCLG?|AL|HAL|EPA|action|standards?|maximum|permissible|guidelines?|advisory"
    r"|(?:limit|guide|parametric) values?)\b"
)
"""A head that names a rule's limit outright."""


_DAYS, _OF_SEVERAL = 2, 0.3
"""Rows of further days of the test above: so many, and so large a share of all."""


def _spanned(column: Column) -> bool:
    """Whether "Results" stands over a column whose own head is something else: a sample's name."""
    cells = column.head_cells
    if len(cells) < 2:
        return False
    upper, own = head_of(cells[0].text), head_of(cells[-1].text)
    if upper is None or upper.role != "result" or upper.score < SURE:
        return False
    whole = head_of(column.head)
    if whole is not None and whole.score >= SURE:
        return False
    return (own is None or own.role in HEAD_IS_SAMPLE) and unit_of(
        cells[-1].text.strip("()[] ")
    ) is None


def make_plan(
    table: Table,
    rows: Sequence[Sequence[Cell | None]],
    content: Sequence[Content] | None = None,
) -> Plan:
    """Return the roles of the columns of a table with one analyte a row.

    ``content``: what the rows hold, where somebody has counted it before.
    """
    heads = [column_head(c) for c in table.columns]
    content = content or contents(rows, len(table.columns))
    roles = [role_of(h, c) for h, c in zip(heads, content, strict=True)]
    settle_roles(table, rows, heads, content, roles)
    name_shares(roles, content)
    name_earlier(roles, table, content)
    date_of_samples(roles, table.columns)
    settle_limits(roles, [c.head for c in table.columns])
    analyte = column_of_analytes(roles, heads, content)
    if analyte is None and "cas" in roles:
        analyte = roles.index("cas")
    if analyte is not None:
        roles[analyte] = "analyte"
        days_of_one_test(roles, table.columns, rows, analyte)
        codes_of_tests(roles, heads, rows, analyte)
    labels = [i for i, r in enumerate(roles) if r == "analyte" and i != analyte]
    for index in labels:
        roles[index] = "label_more"
    for column, facts in zip(table.columns, content, strict=True):
        facts.headed = bool(column.head)
        facts.spanned = _spanned(column)
        facts.in_percent = column.head.endswith(("%", "(%)"))
        facts.head_unit = unit_of(column.head.strip("()[] ")) is not None
    chosen, sure = result_columns(roles, heads, content, analyte, rows)
    if analyte is not None and not chosen:
        at = answer_column(rows, roles, analyte)
        chosen, sure = ([at], True) if at is not None else ([], sure)
    for index in chosen:
        roles[index] = "result"
    _small_columns(roles, content, chosen)
    if analyte is not None:
        _lab_limits(table, rows, roles, analyte, chosen)
    results = [_result(i, table.columns[i], heads[i], several=len(chosen) > 1) for i in chosen]
    shared = share(roles, results)
    return Plan(analyte, results, shared, sure, roles, labels)


def _lab_limits(
    table: Table,
    rows: Sequence[Sequence[Cell | None]],
    roles: list[str],
    analyte: int,
    chosen: list[int],
) -> None:
    """Take a column of limits for the laboratory's own, where no head names a rule's."""
    for index in [i for i, r in enumerate(roles) if r == "printed_limit"]:
        ruled = _RULE.search(table.columns[index].head) is not None
        if ruled or "reporting_limit" in roles:
            continue
        if is_lab_limit(rows, analyte, index, chosen):
            roles[index] = "reporting_limit"


def date_of_samples(roles: list[str], columns: Sequence[Column]) -> None:
    """Take a column headed "Date", among columns that name samples, for the collection."""
    if "collected" in roles or not {"lab_id", "sample_id", "client_id", "point"} & {*roles}:
        return
    bare = [i for i, c in enumerate(columns) if c.head.lower().strip(" .:") == "date"]
    if len(bare) == 1:
        roles[bare[0]] = "collected"


def days_of_one_test(
    roles: list[str],
    columns: Sequence[Column],
    rows: Sequence[Sequence[Cell | None]],
    analyte: int,
) -> None:
    """Take a column headed "Date" for the collection, where one test has rows of several days."""
    bare = [i for i, c in enumerate(columns) if c.head.lower().strip(" .:") == "date"]
    if "collected" in roles or len(bare) != 1:
        return
    again, before = 0, ("", "")
    for row in rows:
        label, day = row[analyte], row[bare[0]]
        if day is None or not is_date(day.text):
            continue
        name = label.text if label is not None else ""
        again += day.text != before[1] and name in {"", before[0]} and bool(before[1])
        before = (name or before[0], day.text)
    if again >= max(_DAYS, _OF_SEVERAL * len(rows)):
        roles[bare[0]] = "collected"


def _small_columns(roles: list[str], content: Sequence[Content], chosen: list[int]) -> None:
    """Name columns without a head that stand beside a result: signs, flags, units."""
    for index, (role, facts) in enumerate(zip(roles, content, strict=True)):
        if role or index in chosen or not facts.filled:
            continue
        if facts.all_signs():
            roles[index] = facts.all_signs()
        elif (
            facts.flag + facts.blank >= facts.filled
            and facts.flag
            and any(abs(index - c) <= 3 for c in chosen)
        ):
            roles[index] = "qualifier"
        else:
            roles[index] = "unknown"


def _result(index: int, column: Column, head: Head | None, *, several: bool) -> ResultColumn:
    cell = column.head_cells[-1] if column.head_cells else None
    unit = head.unit if head else None
    for text in (column.head, column.head.strip("()[] ")):
        if unit is None and text and unit_of(text) is not None:
            unit = text
    return ResultColumn(index, cell, unit, column.head if several else None)
