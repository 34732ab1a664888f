"""Which columns hold the results, and whether that is sure."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell
from .content import Content
from .head_roles import SURE
from .limits_told import known_share
from .words import Head

Rows = Sequence[Sequence[Cell | None]]


def result_columns(
    roles: Sequence[str],
    heads: Sequence[Head | None],
    content: Sequence[Content],
    analyte: int | None,
    rows: Rows,
) -> tuple[list[int], bool]:
    """Return the result columns, and whether they are sure."""
    named = [i for i, r in enumerate(roles) if r == "result" and i != analyte]
    open_ = [i for i, r in enumerate(roles) if r == "" and i != analyte and content[i].results()]
    free = [i for i in open_ if not _known_levels(rows, analyte, i)]
    if "unit" in roles:
        free = [i for i in free if not content[i].in_percent]
    strong = [i for i in named if (h := heads[i]) and h.score >= SURE and not content[i].spanned]
    if strong:
        filled = [i for i in strong if content[i].filled] or strong
        return _one_of_twins(filled, heads), not _known_levels(rows, analyte, filled[0])
    if named:
        return _weakly_named(named, free, content), True
    return _not_named(free, content)


def name_shares(roles: list[str], content: Sequence[Content]) -> None:
    """Name columns of percentages beside results and a column of units: what was removed."""
    may_be = [i for i, r in enumerate(roles) if r in {"", "result"} and content[i].value]
    shares = [i for i in may_be if content[i].percent > 0.6 * content[i].value]
    others = [i for i in may_be if not content[i].percent and content[i].results()]
    if "unit" in roles and others:
        for index in shares:
            roles[index] = "share"


def _weakly_named(named: list[int], free: list[int], content: Sequence[Content]) -> list[int]:
    """Return the columns where "result" is only a part of the heads."""
    spanned = [i for i in named if content[i].spanned]
    if spanned and free:
        return sorted({*spanned, *(i for i in free if content[i].headed)})
    if len(named) == 1:
        return named
    return sorted({*named, *free})


def _not_named(free: list[int], content: Sequence[Content]) -> tuple[list[int], bool]:
    """Return the columns where no head says "result": under units, under samples, or alone."""
    by_unit = [i for i in free if content[i].head_unit]
    headed = [i for i in free if content[i].headed]
    if by_unit or headed:
        return by_unit[:1] or headed, True
    full = sorted(free, key=lambda i: -content[i].value)[:2]
    alone = len(full) < 2 or content[full[1]].value < 0.5 * content[full[0]].value
    return (full[:1] if alone else free[:1]), alone and bool(free)


def _known_levels(rows: Rows, analyte: int | None, index: int) -> bool:
    """Whether the numbers of a column are the levels that are known for its analytes."""
    if analyte is None:
        return False
    agree, told = known_share(rows, analyte, index)
    return told >= 3 and agree >= 0.7 * told


def _one_of_twins(columns: list[int], heads: Sequence[Head | None]) -> list[int]:
    """Of result columns that give one result in several units keep the first."""
    units = [h.unit if (h := heads[i]) else None for i in columns]
    if len(columns) > 1 and all(units) and len(set(units)) == len(units):
        return columns[:1]
    return columns
