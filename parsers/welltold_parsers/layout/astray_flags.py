"""Flags that stand where no flag belongs: a "J" under no head, a "U" under "Batch" or "Volume"."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence

from .cells import Cell
from .column import Column
from .head_cells import SAMPLE_ROLES
from .open_flags import not_found
from .printed import Printed
from .roles import Plan, column_head
from .tables import Table

_NO_FLAGS = frozenset(
    [
        "volume",
        "code",
        "batch",
        "person",
        "number",
        "dilution",
        "method",
        "method_context",
        "analyzed",
        "prepared",
        "reported",
        "time_other",
        "cas",
        "violation",
    ]
)
"""Roles whose cells are never "not found"; a letter that says so slipped in from beside."""
_OPEN = frozenset({"", "unknown", "empty"})
_LOOKED_AT = 60
_SIGNS = frozenset({"<", ">", "≤", "≥", "˂", "="})
_FLAG = re.compile(r"(?:J[+-]?|[BDEHQR])(?:[, /]?(?:J[+-]?|[BDEHQR]))?")
"""Flags in common use that leave a number as it is, or reject it."""


def odd_columns(plan: Plan) -> frozenset[int]:
    """Return the columns whose heads tell of something else than results and their flags.

    None where the flags have a column of their own: a "U" elsewhere is a code for unfiltered.
    """
    if any(role.startswith(("qualifier", "detect_flag")) for role in plan.roles):
        return frozenset()
    return frozenset(i for i, role in enumerate(plan.roles) if role in _NO_FLAGS)


def headless_columns(plan: Plan, columns: Sequence[Column]) -> frozenset[int]:
    """Return the columns without a head that nothing explains."""
    return frozenset(
        i
        for i, (role, column) in enumerate(zip(plan.roles, columns, strict=True))
        if role in _OPEN and not column.head
    )


def doubt_odd(printed: Printed, cells: Sequence[Cell | None], odd: Collection[int]) -> None:
    """Doubt a number where a column of something else says "not found" in its row."""
    if not odd or printed.text.startswith("<") or not_found(printed.text):
        return
    for at in sorted(odd):
        cell = cells[at]
        if cell is not None and not_found(cell.text):
            printed.doubt("flag_unknown", flag=cell.text)


def take_headless(
    printed: Printed, cells: Sequence[Cell | None], columns: Iterable[int], *, alone: bool
) -> None:
    """Take up the flags in columns without a head; beside several results they are doubts."""
    for at in sorted(columns):
        cell = cells[at]
        if cell is None or not _FLAG.fullmatch(cell.text.strip("() ")):
            continue
        if any(cell is known for known in printed.cells.values()):
            continue
        if alone:
            count = sum(role.startswith("qualifier") for role in printed.cells)
            printed.cells[f"qualifier_{count + 1}" if count else "qualifier"] = cell
        else:
            printed.doubt("flag_unknown", flag=cell.text)


_NEVER_FLAGS = frozenset({"person", "matrix", "sample_type", "taken", "fraction", "presence"})


def holds_flags(table: Table, index: int) -> bool:
    """Whether a column holds nothing but flags, though its head says "Method" or "Comment"."""
    head = column_head(table.columns[index])
    if head is not None and (head.role in _NEVER_FLAGS or head.role in SAMPLE_ROLES):
        return False
    cells = [c for line in table.lines[:_LOOKED_AT] if (c := table.cells(line)[index]) is not None]
    texts = [c.text.strip("() ") for c in cells]
    if any(t[:1] in _SIGNS for t in texts):
        return False  # signs may stand before their numbers
    return bool(texts) and all(not_found(t) or _FLAG.fullmatch(t) for t in texts)
