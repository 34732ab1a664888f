"""Which columns of a table name the analytes."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell
from .content import Content
from .roles import column_head
from .tables import Table
from .tokens import analyte_in
from .words import Head


def analyte_columns(
    table: Table, rows: Sequence[Sequence[Cell | None]], content: Sequence[Content]
) -> list[int]:
    """Return the columns that name analytes, where each begins a table of its own.

    Two columns that name the same analytes (symbol and name, code and name) are one. ``content`` is
    what the rows hold.
    """
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


def column_of_analytes(
    roles: Sequence[str], heads: Sequence[Head | None], content: Sequence[Content]
) -> int | None:
    """Return the column that names the analytes best, by its head and by what it holds."""
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
