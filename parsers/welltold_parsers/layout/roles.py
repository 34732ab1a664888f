"""What each column of a table is: decided by its head, its content, and what is known.

The head decides where it is plain. Content decides where the head is missing or vague, and it can
overrule a head (a column headed "Level" that holds only ranges is a limit). Levels that are known
for an analyte tell a column of printed limits from a column of results.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from .cells import Cell
from .column import Column
from .content import Content, contents
from .flags_before import owner_of, stand_before
from .head_roles import HEAD_IS_SAMPLE, SURE, role_of
from .limits_told import is_lab_limit, settle_limits
from .result_columns import result_columns
from .sheet_roles import settle_roles
from .tables import Table
from .test_codes import codes_of_tests
from .tokens import analyte_in, unit_of
from .words import Head, head_of

_NOT_RESULTS = frozenset(
    [
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "dilution",
        "batch",
        "number",
        "uncertainty",
        "recovery",
        "rpd",
        "spike",
        "source_result",
        "previous",
        "share",
        "second_value",
        "limit_low",
        "limit_high",
        "volume",
        "code",
        "violation",
        "analyzed",
        "prepared",
        "reported",
        "time_other",
        "cas",
        "method",
        "method_context",
        "person",
    ]
)


@dataclass(slots=True)
class ResultColumn:
    """One column of results and the columns that belong to it alone."""

    index: int
    head: Cell | None
    unit: str | None = None
    """The unit in the column's head, as printed."""
    sample: str | None = None
    """What the head says of the sample, where samples stand side by side."""
    own: dict[str, int] = field(default_factory=dict)


@dataclass(slots=True)
class Plan:
    """The roles of a table whose rows are analytes."""

    analyte: int | None
    results: list[ResultColumn]
    shared: dict[str, int]
    """Role to column, for the roles that serve all result columns."""
    sure: bool
    """The result column was named by its head, or is the only one that can be."""
    roles: list[str]
    labels: list[int] = field(default_factory=list)
    """Further columns that carry a part of the label."""

    def column(self, role: str, result: ResultColumn) -> int | None:
        """Return the column of a role for this result column."""
        return result.own.get(role, self.shared.get(role))

    def more_flags(self, result: ResultColumn) -> list[tuple[str, int]]:
        """Return the further columns of flags of this result column, however many there are."""
        places = {**self.shared, **result.own}
        return [(role, at) for role, at in places.items() if role.startswith("qualifier_")]


_RULE = re.compile(
    r"(?i)\b(?:S?MCLG?|AL|HAL|EPA|action|standards?|maximum|permissible|guidelines?|advisory"
    r"|(?:limit|guide|parametric) values?)\b"
)
"""A head that names a rule's limit outright."""


def column_head(column: Column) -> Head | None:
    """Return what the head of a column announces, its stacked lines taken together or apart."""
    cells = column.head_cells
    whole = head_of(column.head) if column.head else None
    if (whole and whole.score >= SURE) or len(cells) < 2:
        return whole
    options = [
        whole,
        head_of(cells[-1].text),
        head_of(" ".join(c.text for c in cells[-2:])),
        head_of(cells[0].text),
    ]
    best = max((o for o in options if o), key=lambda o: o.score, default=None)
    unit = next((o.unit for o in options if o and o.unit), None)
    return best._replace(unit=best.unit or unit, score=min(best.score, 0.94)) if best else None


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


def make_plan(table: Table, rows: Sequence[Sequence[Cell | None]]) -> Plan:
    """Return the roles of the columns of a table with one analyte a row."""
    heads = [column_head(c) for c in table.columns]
    content = contents(rows, len(table.columns))
    roles = [role_of(h, c) for h, c in zip(heads, content, strict=True)]
    settle_roles(table, rows, heads, content, roles)
    date_of_samples(roles, table.columns)
    settle_limits(roles, [c.head for c in table.columns])
    analyte = _analyte_column(roles, heads, content)
    if analyte is None and "cas" in roles:
        analyte = roles.index("cas")
    if analyte is not None:
        roles[analyte] = "analyte"
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
    for index in chosen:
        roles[index] = "result"
    _small_columns(roles, content, chosen)
    if analyte is not None:
        for index in [i for i, r in enumerate(roles) if r == "printed_limit"]:
            ruled = _RULE.search(table.columns[index].head) is not None
            if ruled or "reporting_limit" in roles:
                continue
            if is_lab_limit(rows, analyte, index, chosen):
                roles[index] = "reporting_limit"
    results = [_result(i, table.columns[i], heads[i], several=len(chosen) > 1) for i in chosen]
    shared = _share(roles, results)
    return Plan(analyte, results, shared, sure, roles, labels)


def date_of_samples(roles: list[str], columns: Sequence[Column]) -> None:
    """Take a column headed "Date", among columns that name samples, for the collection."""
    if "collected" in roles or not {"lab_id", "sample_id", "client_id", "point"} & {*roles}:
        return
    bare = [i for i, c in enumerate(columns) if c.head.lower().strip(" .:") == "date"]
    if len(bare) == 1:
        roles[bare[0]] = "collected"


def analyte_columns(table: Table, rows: Sequence[Sequence[Cell | None]]) -> list[int]:
    """Return the columns that name analytes, where each begins a table of its own.

    Two columns that name the same analytes (symbol and name, code and name) are one.
    """
    content = contents(rows, len(table.columns))
    heads = [column_head(c) for c in table.columns]
    named = [
        i
        for i, c in enumerate(content)
        if c.analyte >= max(1, 0.3 * (c.filled - c.blank))
        and ((h := heads[i]) is None or h.role in {"analyte", "result"} or h.score < 0.6)
        and (c.letters > 0.0007 * c.analyte or (h is not None and h.role == "analyte"))
    ]
    kept: list[int] = []
    for index in named:
        before = kept[-1] if kept else None
        if before is not None and (
            _same_names(rows, before, index) or not _values_between(content, before, index)
        ):
            continue
        kept.append(index)
    return kept


def _same_names(rows: Sequence[Sequence[Cell | None]], a: int, b: int) -> bool:
    same = both = 0
    for row in rows[:40]:
        one, other = row[a], row[b]
        if one is None or other is None:
            continue
        x, y = analyte_in(one.text), analyte_in(other.text)
        if x and y:
            both += 1
            same += x.slug == y.slug
    return both > 0 and same > 0.5 * both


def _values_between(content: Sequence[Content], a: int, b: int) -> bool:
    return any(c.results() for c in content[a + 1 : b])


def _analyte_column(
    roles: Sequence[str], heads: Sequence[Head | None], content: Sequence[Content]
) -> int | None:
    best, best_score = None, 0.0
    for index, (role, head, facts) in enumerate(zip(roles, heads, content, strict=True)):
        named = role == "analyte"
        score = facts.analyte / max(facts.filled, 1) * min(facts.filled, 4) / 4 + facts.letters
        if named:
            score += 1.5 * (head.score if head else 0.5)
        elif (
            not facts.analyte
            or role in {"qualifier", "matrix"}
            or (role == "unit" and facts.analyte < 0.4 * facts.filled)
        ):
            continue
        if score > best_score:
            best, best_score = index, score
    return best


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


def _share(roles: Sequence[str], results: Sequence[ResultColumn]) -> dict[str, int]:
    """Give each repeated role to the result column before it; return the roles that occur once."""
    places: dict[str, list[int]] = {}
    for index, role in enumerate(roles):
        if role not in {"", "result", "unknown", "label_more", "analyte"}:
            places.setdefault(role, []).append(index)
    shared: dict[str, int] = {}
    if len(results) > 1:
        _own_signs(places.pop("sign", []), results)
    for role, found in places.items():
        if len(found) == 1 or len(results) <= 1:
            shared[role] = _nearest(found, results)
            more_flags(role, [i for i in found if i != shared[role]], shared)
            continue
        before = stand_before(found, [r.index for r in results])
        for index in found:
            at = owner_of(index, [r.index for r in results], before=before)
            owner = next((r for r in results if r.index == at), results[0])
            if owner.own.setdefault(role, index) != index:
                more_flags(role, [index], owner.own)
    return shared


def more_flags(role: str, found: Sequence[int], places: dict[str, int]) -> None:
    """Keep every column of flags: what a validator rejects, the laboratory's own flag may pass."""
    if role == "qualifier":
        for index in found:
            count = sum(name.startswith(role) for name in places)
            places[f"{role}_{count + 1}"] = index


def _own_signs(found: Sequence[int], results: Sequence[ResultColumn]) -> None:
    """Give each column of signs to the result right behind it, else to the one before it."""
    for index in found:
        behind = next((r for r in results if r.index == index + 1), None)
        before = [r for r in results if r.index < index]
        owner = behind or (before[-1] if before else results[0])
        owner.own.setdefault("sign", index)


def _nearest(found: Sequence[int], results: Sequence[ResultColumn]) -> int:
    if len(found) == 1 or not results:
        return found[0]
    return min(found, key=lambda i: abs(i - results[0].index))


def is_no_result(role: str) -> bool:
    """Whether numbers in a column of this role are accounted for as something else."""
    return role in _NOT_RESULTS
