"""Columns that repeat what the same well gave before: "Earlier results, same well | June 2023"."""

from __future__ import annotations

import re
from collections.abc import Sequence

from .cells import Cell
from .column import Column
from .content import Content
from .dates import is_date
from .tables import Table

_EARLIER = re.compile(
    r"(?i)^(?:your |the |our )?(?:earlier|previous|prior|past|former|last|historic(?:al)?|older)"
    r"(?:[\s,:–-]+[a-z]+)?[\s,:–-]+"
    r"(?:results?|tests?|samples?|samplings?|values?|levels?|visits?|rounds?|reports?|analys[ei]s)\b"
    r"|^(?:resultados?|an[áa]lisis) (?:anterior(?:es)?|previos?)\b"
)
_WHEN = re.compile(
    r"(?i)(?:(?:jan|feb|mar|apr|may|june?|july?|aug|sept?|oct|nov|dec)[a-z]*\.?[\s,-]*)?"
    r"(?:(?:19|20)\d\d|['’]\d\d)|\d{1,2}/(?:\d\d|\d{4})"
)
"""A month and a year, or a year alone."""
_SLACK = 0.5
_OPEN = frozenset({"", "result", "unknown", "point", "previous", "status"})


def name_earlier(roles: list[str], table: Table, content: Sequence[Content]) -> None:
    """Name the columns of earlier results, and those under a day right beside them.

    Only where another column is left for the result.
    """
    groups = [c for line in table.heads for c in line.cells if tells_earlier(c.text)]
    found: list[int] = []
    for index, (role, column) in enumerate(zip(roles, table.columns, strict=True)):
        head = " ".join(column.head.split())
        open_ = role in _OPEN and content[index].results()
        begins = tells_earlier(head) or any(_over(group, column) for group in groups)
        goes_on = bool(found) and found[-1] == index - 1 and _is_day(head)
        if open_ and (begins or goes_on):
            found.append(index)
    left = [i for i, r in enumerate(roles) if r in {"", "result"} and i not in found]
    if any(content[i].results() for i in left):
        for index in found:
            roles[index] = "previous"


def tells_earlier(head: str) -> bool:
    """Whether a head says that what stands under it is of an earlier time."""
    return _EARLIER.match(head) is not None


def _over(group: Cell, column: Column) -> bool:
    return min(group.right, column.right) - max(group.left, column.left) > _SLACK


def _is_day(head: str) -> bool:
    return _WHEN.fullmatch(head) is not None or is_date(head)
