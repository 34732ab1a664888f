"""What the columns of a sheet with one analyte a row are, where heads alone say too little.

A sheet's columns are known and often many: codes, counters, owners, two columns with the same
numbers, a column that holds only signs. None of it is asked of a page.
"""

from __future__ import annotations

from collections.abc import Container, Sequence

from .column import Column
from .content import Content
from .head_cells import SAMPLE_ROLES
from .sheet_names import is_count, looks_like_code, same_column, statistic
from .sheet_samples import LEFT_OUT, Rows, only_one, texts_of, when_sampled
from .short_names import short_name
from .tables import Table
from .words import Head, head_of

_SIGNS = frozenset({"<", ">", "≤", "≥", "=", "~", "E", "e", "ND", "nd", "U", "J", "K", "A", "M"})
_YES_NO = frozenset({"y", "n", "yes", "no", "true", "false", "t", "f", "0", "1"})
_MAY_BE_SIGN = frozenset(
    {"", "remark", "qualifier", "status", "unknown", "code", "sign", "condition", "volume", "unit"}
)
_SURE = 0.9
_EVERY = frozenset({"", "qualifier"})
"""Of flags every column counts: one of them may say "not found"."""
_LAB = 3
"""Letters of a code that stands for a laboratory; a flag has fewer."""


def settle_roles(
    table: Table,
    rows: Rows,
    heads: Sequence[Head | None],
    content: Sequence[Content],
    roles: list[str],
) -> None:
    """Correct the roles of a sheet's columns in place; a page's are left alone."""
    if not table.lines or table.lines[0].sheet is None:
        return
    for index, column in enumerate(table.columns):
        roles[index] = _own_role(
            column.head, roles[index], heads[index], content[index], texts_of(rows, index)
        )
        head = heads[index]
        stacked = len(column.head_cells) > 1 and head is not None and head.score < _SURE
        if stacked and content[index].results() and _named_sample(column):
            roles[index] = ""
    if "analyte" not in roles:
        _codes_as_names(rows, roles)
    _no_answers(rows, content, roles)
    named = [_named_sample(column) for column in table.columns]
    _one_value(rows, heads, content, roles, named)
    _plainest(heads, content, roles)
    only_one(table, rows, heads, roles)
    when_sampled(table, rows, roles)


def _no_answers(rows: Rows, content: Sequence[Content], roles: list[str]) -> None:
    """Leave out columns of Yes and No beside a column of numbers: "reportable_result"."""
    results = [i for i, role in enumerate(roles) if role == "result"]
    if not any(content[i].number for i in results):
        return
    for index in results:
        told = {t.lower() for t in texts_of(rows, index)}
        if told and told <= _YES_NO - {"0", "1"}:
            roles[index] = LEFT_OUT


def _codes_as_names(rows: Rows, roles: list[str]) -> None:
    """Let numbers that stand for tests name them, where no other column does."""
    for index, role in enumerate(roles):
        texts = texts_of(rows, index)
        if role == "code" and texts and sum(map(_short, texts)) > 0.5 * len(texts):
            roles[index] = "analyte"
            return


def _named_sample(column: Column) -> bool:
    """Whether a line of the head names samples: "Location | Kitchen | Lower barn"."""
    for cell in column.head_cells:
        first = cell.line.cells[0]
        stub = head_of(first.text) if first is not cell else None
        if stub is not None and stub.score >= _SURE and stub.role in SAMPLE_ROLES:
            return True
    return False


def _plainest(heads: Sequence[Head | None], content: Sequence[Content], roles: list[str]) -> None:
    """Where one column of results is plainly headed, let plain heads beat longer ones."""
    plain = [
        h is not None and h.score >= _SURE and f.filled > 0
        for h, f in zip(heads, content, strict=True)
    ]
    if sum(r == "result" and p for r, p in zip(roles, plain, strict=True)) != 1:
        return
    for index, role in enumerate(roles):
        head = heads[index]
        if (
            role in _EVERY
            or plain[index]
            or head is None
            or head.score >= _SURE
            or head.role != role
        ):
            continue
        if any(r == role and p for r, p in zip(roles, plain, strict=True)):
            roles[index] = LEFT_OUT


def _own_role(
    text: str, role: str, head: Head | None, content: Content, texts: Sequence[str]
) -> str:
    if role in _MAY_BE_SIGN and _all_signs(texts):
        return "sign"
    if role == "qualifier" and head is not None and head.role == "lab_name":
        return "lab_name" if all(len(t) >= _LAB for t in texts) else role
    told = set(texts)
    yes_no = bool(told) and {t.lower() for t in told} <= _YES_NO
    if yes_no and (role == "sign" or (role == "result" and "detect" in text.lower())):
        return "detect_flag"
    if role == "basis" and "T" in told and told <= {"T", "D", "N"}:
        return "fraction"
    return _by_names(text, role, head, content, texts)


def _by_names(
    text: str, role: str, head: Head | None, content: Content, texts: Sequence[str]
) -> str:
    names = content.analyte > 0.5 * content.filled or sum(map(_short, texts)) > 0.5 * len(texts)
    if role in {"result", ""} and names and not content.number:
        return "analyte"
    stat = statistic(text)
    if stat and role in {"", "uncertainty", "previous", "result"}:
        return stat
    weak = head is None or head.score < 0.6
    if role == "uncertainty" and weak and content.numeric_results():
        return ""
    if role == "" and content.results() and (looks_like_code(text) or is_count(text)):
        return "code"
    return role


def _short(text: str) -> bool:
    return (named := short_name(text)) is not None and named.slug is not None


def _all_signs(texts: Sequence[str]) -> bool:
    told = set(texts)
    return bool(told) and told <= _SIGNS and bool(told & {"<", ">", "≤", "≥"})


def sign_columns(table: Table, results: Container[int]) -> dict[int, int]:
    """Return the columns that hold only signs, each with the result column beside it.

    Where the first of them stands before the first result, each serves the result behind it.
    """
    rows = [table.cells(line) for line in table.lines]
    found = [
        i
        for i in range(len(table.columns))
        if i not in results and _all_signs([c.text for row in rows if (c := row[i]) is not None])
    ]
    width = range(len(table.columns))
    first = next((i for i in width if i in results), None)
    behind = bool(found) and first is not None and found[0] < first
    served = {}
    for index in found:
        near = index + 1 if behind else index - 1
        if near in results:
            served[index] = near
    return served


def _one_value(
    rows: Rows,
    heads: Sequence[Head | None],
    content: Sequence[Content],
    roles: list[str],
    named: Sequence[bool],
) -> None:
    """Of columns of results with the same numbers keep one: the one with signs in it."""
    results = [i for i, r in enumerate(roles) if r == "result" and content[i].filled]
    for index in list(results):
        for other in results:
            if other == index or roles[other] != "result" or roles[index] != "result":
                continue
            pairs = [(a.text, b.text) for row in rows if (a := row[index]) and (b := row[other])]
            if same_column(pairs):
                roles[max(index, other, key=lambda i: (-content[i].censored, i))] = "second_value"
    if len([i for i in results if roles[i] == "result"]) != 1 or "unit" not in roles:
        return
    for index, facts in enumerate(content):
        if roles[index] == "" and facts.results() and heads[index] is None and not named[index]:
            roles[index] = "unknown"
