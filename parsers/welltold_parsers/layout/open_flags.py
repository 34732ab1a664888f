"""Flags in columns that nothing explains: "ND" under "Remark", a "U" under a head of its own.

No word of "not found" may be lost: it goes to the only result of its row, or the results on both
sides of it are doubted.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from .cells import Cell
from .nondetect import says_below, says_not_found
from .printed import ROW_ROLES, Printed
from .roles import Plan, is_no_result

_PHRASE = re.compile(
    r"(?i)(?:not detected|non-?detect(?:ed)?|(?:less than|below)\b.{0,12}\b(?:detection|reporting"
    r"|quantitation)(?: (?:limit|level))?|<\s*(?:MDL|MRL|RL|DL|PQL|LOQ|LOD))\W*"
)
_LONGEST = 48
_ANOTHERS = frozenset({"analyte", "label_more", "result", "presence"})
"""Roles whose cells are read, or are results themselves."""


@lru_cache(maxsize=16384)
def not_found(text: str) -> bool:
    """Whether a cell says nothing but that something was not found."""
    plain = text.strip(" ()*.;,")
    if not plain or len(plain) > _LONGEST:
        return False
    return says_not_found(plain) or _PHRASE.fullmatch(plain) is not None or says_below(plain)


def _in_words(plain: str) -> bool:
    """Whether a text says so in words, and is no flag."""
    return _PHRASE.fullmatch(plain) is not None or not says_not_found(plain)


def take_open(
    printed: Printed, cells: Sequence[Cell | None], columns: Iterable[int], *, alone: bool
) -> None:
    """Take up the flags in columns that nothing explains.

    ``columns`` are those columns; ``alone`` says that the row has one result.
    """
    for at in sorted(columns):
        cell = cells[at]
        if cell is None or not not_found(cell.text):
            continue
        if not alone:
            printed.doubt("flag_unknown", flag=cell.text)
        elif _in_words(cell.text.strip(" ()*.;,")):
            printed.cells.setdefault("condition", cell)
        else:
            count = sum(role.startswith("qualifier") for role in printed.cells)
            printed.cells[f"qualifier_{count + 1}" if count else "qualifier"] = cell


def stray_columns(plan: Plan) -> list[frozenset[int]]:
    """Return for each result column those beside it that no result of the table uses."""
    results = [r.index for r in plan.results]
    served = {i for r in plan.results for i in (r.index, *r.own.values())}
    served |= {i for role, i in plan.shared.items() if role in ROW_ROLES}
    stray = [
        i
        for i, role in enumerate(plan.roles)
        if i not in served and role not in _ANOTHERS and not is_no_result(role)
    ]
    return [beside(stray, results, r.index) for r in plan.results]


def beside(stray: Iterable[int], results: Sequence[int], own: int) -> frozenset[int]:
    """Return the columns between a result and those on both sides of it."""
    low = max((i for i in results if i < own), default=-1)
    high = min((i for i in results if i > own), default=10**6)
    return frozenset(i for i in stray if low < i < high)
