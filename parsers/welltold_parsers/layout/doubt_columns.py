"""Doubts about a whole table: columns beside the results that nothing explains.

A column of answers (Y and N, TRUE and FALSE) that no head explains may say which numbers are
limits; it is doubted where no result of its own says "<" or "not detected". A column of numbers
that no head explains may be the result itself, where the result is not plainly headed either.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from .cells import Cell
from .head_cells import overlap
from .head_roles import SURE
from .roles import Plan, column_head
from .tables import Table
from .tokens import is_number, value_of
from .wide import companions

_ANSWERS = frozenset({"y", "n", "yes", "no", "true", "false", "t", "f", "0", "1"})
_LOOKED_AT = 60
_FEW = 5
"""A column of fewer cells tells nothing."""
_RIVAL = 0.6
_LONGEST = 7
"""A whole number of more digits is a code or a day."""
_SPAN = 100
"""Measured numbers over so wide a range are not all printed with the same decimals."""

_RULED = re.compile(
    r"(?i)(?<![a-z])(?:over|above|exceed\w*|at/over|more than|higher|within|meets?"
    r"|compl(?:y|ies|iance)|standards?|guidelines?|permissible|cumple)(?![a-z])|[>≥]\s*\d"
)
"""A head that asks of a level, not whether something was found: "Over 15 ppb?"."""

Signals = Mapping[str, Mapping[str, str]]
_NONE: Signals = {}


@dataclass(slots=True)
class _Texts:
    """What one column says."""

    texts: list[str] = field(default_factory=list)
    named: str = ""
    """Its head."""

    @property
    def answers(self) -> bool:
        """Whether it holds two answers and nothing else, a mark for nothing apart."""
        told = {t.lower() for t in self.texts} - {"na", "n/a", "-", "--"}
        return len(self.texts) >= _FEW and len(told) == 2 and told <= _ANSWERS

    @property
    def numbers(self) -> int:
        """How many numbers it has that may be measured: no dates, no running codes."""
        return sum(is_number(t) and len(t.partition(".")[0]) <= _LONGEST for t in self.texts)

    @property
    def censored(self) -> int:
        values = (value_of(t) for t in self.texts)
        return sum(v is not None and v.state in {"below", "absent"} for v in values)


def row_doubts(table: Table, plan: Plan) -> Signals:
    """Return the doubts of all results of a table with one analyte a row."""
    rows = [table.cells(line) for line in table.lines[:_LOOKED_AT]]
    open_ = [
        i
        for i, role in enumerate(plan.roles)
        if role in {"", "unknown"}
        or (role == "qualifier" and column_head(table.columns[i]) is None)
    ]
    if not open_ or not plan.results:
        return _NONE
    results = [_texts(rows, r.index) for r in plan.results]
    told = any(r.censored for r in results) or any(
        r in plan.roles for r in ("detect_flag", "sign", "condition")
    )
    found: dict[str, dict[str, str]] = {}
    for index in open_:
        column = _texts(rows, index)
        column.named = table.columns[index].head
        name = table.columns[index].head or "-"
        if column.answers and not told:
            found.setdefault("answers_open", {"text": name})
        elif _rivals(table, plan, column, results) or _astray(table, plan, rows, index):
            found.setdefault("column_rival", {"text": name})
    return found


def _rivals(table: Table, plan: Plan, column: _Texts, results: Sequence[_Texts]) -> bool:
    """Whether a column of numbers could as well be the results."""
    if len(plan.results) != 1 or len(column.texts) < _FEW:
        return False
    if column.censored >= 2 and not results[0].censored:
        return True
    head = column_head(table.columns[plan.results[0].index])
    plain = head is not None and head.role == "result" and head.score >= SURE
    named = plan.results[0].unit is not None and bool(column.named)
    return not (plain or named) and column.numbers >= _RIVAL * len(results[0].texts)


def _astray(table: Table, plan: Plan, rows: Sequence[Sequence[Cell | None]], index: int) -> bool:
    """Whether the results of a page stand beside their head, and a column of values between.

    Then the rows are those of another table, whose head nobody knew.
    """
    if len(plan.results) != 1 or not table.heads or table.heads[-1].sheet is not None:
        return False
    at = plan.results[0].index
    heads = table.columns[at].head_cells
    found = [c for row in rows if (c := row[at]) is not None and value_of(c.text) is not None]
    beside = sum(not any(overlap(c, head) for head in heads) for c in found)
    values = [v for row in rows if (c := row[index]) is not None and (v := value_of(c.text))]
    other = sum(v.value is not None or v.present is not None for v in values)
    return bool(heads) and other >= _FEW - 2 and 2 * beside > len(found)


def across_doubts(
    table: Table, results: Mapping[int, str], explained: frozenset[int]
) -> dict[int, Signals]:
    """Return the doubts of each column of results; ``results`` gives their labels by column."""
    rows = [table.cells(line) for line in table.lines[:_LOOKED_AT]]
    named_for = companions(table)  # "cens_As" says outright whose it is
    found: dict[int, Signals] = {}
    for index, column in enumerate(table.columns):
        if index in results or (index in explained and column_head(column) is not None):
            continue
        if index in named_for:
            continue
        if not _texts(rows, index).answers:
            continue
        for at, label in results.items():
            named = label.lower() in column.head.lower()
            if _RULED.search(column.head):
                continue
            if (named or at == index - 1) and not _texts(rows, at).censored:
                found[at] = {"answers_open": {"text": column.head or "-"}}
    return found


def calculated(table: Table, plan: Plan) -> frozenset[int]:
    """Return which of several result columns look worked out, not measured: an average.

    All their numbers have the same decimals though they span a wide range; the others' do not.
    """
    if len(plan.results) < 2:
        return frozenset()
    rows = [table.cells(line) for line in table.lines[:_LOOKED_AT]]
    alike = [_same_decimals(_texts(rows, r.index)) for r in plan.results]
    if all(a is not False for a in alike):
        return frozenset()
    return frozenset(number for number, a in enumerate(alike) if a)


def _same_decimals(column: _Texts) -> bool | None:
    """Whether wide-ranging numbers all have the same decimals; None: too few to tell."""
    numbers = [t for t in column.texts if is_number(t)]
    if len(numbers) < _FEW + 1 or column.censored:
        return None if len(numbers) < _FEW + 1 else False
    sizes = [size for t in numbers if (size := _size(t)) is not None]
    low = min((abs(s) for s in sizes if s), default=0.0)
    if not low or max(map(abs, sizes)) < _SPAN * low:
        return None
    decimals = {len(t.partition(".")[2]) for t in numbers}
    return len(decimals) == 1 and decimals != {0}


def _size(text: str) -> float | None:
    """Return a number without its commas and blanks; None for two in one, such as "6.5.8.5"."""
    try:
        return float(text.replace(",", "").replace(" ", "") or 0)
    except ValueError:
        return None


def _texts(rows: Sequence[Sequence[Cell | None]], index: int) -> _Texts:
    return _Texts([c.text.strip() for row in rows if (c := row[index]) is not None])
