"""Columns of a data file that tell rows apart where names and days do not: a season, a street.

One place stands in many rows, "Mill, 2021, wet" and "Mill, 2021, dry": without the season both
would be one sample whose tests have two values each.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

from .cells import Cell
from .head_cells import SAMPLE_ROLES
from .roles import column_head
from .sheet_names import column_words, is_count, looks_like_code
from .tables import Table
from .tokens import is_number, value_of
from .words import head_key

_OTHERS = frozenset({"", "point", "person", "unknown"})
"""What a column may be that parts rows only where it parts all: a town, a part of it."""
_LOOKED_AT = 2000
_FEWEST = 2


def columns_apart(table: Table, known: Collection[int], results: Collection[int]) -> list[int]:
    """Return the columns that part rows which the ``known`` columns leave alike, in their order.

    ``results``: the columns of results and of what stands beside them.
    """
    rows = [table.cells(line) for line in table.lines[:_LOOKED_AT]]
    rows = [row for row in rows if any(row[i] is not None for i in results)]
    base = sorted(known)
    least = _different(rows, base)
    if len(rows) < _FEWEST or least == len(rows) or not base:
        return []
    taken = {*known, *results}
    first = min(results)
    named, others = [], []
    for index, column in enumerate(table.columns):
        if index in taken or not column.head:
            continue
        if column_words("parts") & set(head_key(column.head).split()) and _no_measure(rows, index):
            named.append(index)
        elif index < first and _may_part(table, rows, index):
            others.append(index)
    chosen = _greedy(rows, base, named)
    rest = _greedy(rows, [*base, *chosen], others)
    if _different(rows, [*base, *chosen, *rest]) == len(rows):
        chosen += rest
    return sorted(chosen)


def with_parts(
    name: str, at: int | None, cells: Sequence[Cell | None], parts: Sequence[int]
) -> str:
    """Return a name with what the columns ``parts`` say, in the order of the columns.

    ``at``: the column of the name itself, None where it stands in none.
    """
    texts = [(i, c.text) for i in parts if (c := cells[i]) is not None]
    place = -1 if at is None else at
    before = [t for i, t in texts if i < place and _larger(t)]
    after = [t for i, t in texts if t not in before]
    return ", ".join([*before, name, *after])


def of_names(roles: Mapping[str, int]) -> list[int]:
    """Return the columns that tell of a sample."""
    return [index for role, index in roles.items() if role in SAMPLE_ROLES]


def _larger(text: str) -> bool:
    """Whether a text before a name can be the town it lies in: no year and no number."""
    return any(c.isalpha() for c in text)


def _greedy(
    rows: Sequence[Sequence[Cell | None]], base: Sequence[int], offered: Sequence[int]
) -> list[int]:
    """Return those of the offered columns that part more rows, each beside those before it."""
    chosen: list[int] = []
    told = _different(rows, base)
    for index in offered:
        more = _different(rows, [*base, *chosen, index])
        if more > told:
            chosen.append(index)
            told = more
    return chosen


def _different(rows: Sequence[Sequence[Cell | None]], columns: Sequence[int]) -> int:
    return len(
        {tuple([c.text if (c := row[i]) is not None else "" for i in columns]) for row in rows}
    )


def _may_part(table: Table, rows: Sequence[Sequence[Cell | None]], index: int) -> bool:
    """Whether a column of words may be a part of the name: no number, no code, no person."""
    head = column_head(table.columns[index])
    role = head.role if head is not None else ""
    text = table.columns[index].head
    if role not in _OTHERS or looks_like_code(text) or is_count(text):
        return False
    told = [c.text for row in rows if (c := row[index]) is not None]
    return bool(told) and not any(value_of(t) is not None for t in told)


def _no_measure(rows: Sequence[Sequence[Cell | None]], index: int) -> bool:
    """Whether no cell of a column is a number with decimals."""
    return not any("." in c.text and is_number(c.text) for row in rows if (c := row[index]))
