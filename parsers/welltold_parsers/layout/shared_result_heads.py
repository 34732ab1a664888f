"""One "Result" in the head of a sheet that stands for the columns of all its samples.

The samples' numbers, places and days stand over it, one for each column; the word is merged over
them, or stands over the first of them alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from .cells import Cell, Line
from .column import Column
from .head_cells import SAMPLE_ROLES
from .words import head_of

_SURE = 0.9


def spread_result(heads: Sequence[Line], columns: Sequence[Column]) -> None:
    """Give a lone "Result" of the lowest head to each column behind it that a sample heads.

    A column of flags or limits that it may be merged over has no sample's name over itself.
    """
    if len(heads) < 2 or heads[-1].sheet is None:
        return
    lowest = heads[-1]
    results = [cell for cell in lowest.cells if _role(cell) == "result"]
    if len(results) != 1:
        return
    shared = results[0]
    named = [line for line in heads[:-1] if _names_samples(line, shared)]
    own = {c.left for c in lowest.cells}
    behind = (c for c in columns if c.left > shared.left)
    for column in takewhile(lambda c: c.left not in own, behind):
        over = {id(cell.line) for cell in column.head_cells}
        if named and all(id(line) in over for line in named):
            column.head_cells.append(shared)


def _names_samples(line: Line, shared: Cell) -> bool:
    """Whether a line begins with a key of samples and has one of them over the word."""
    first, *others = line.cells
    return (
        first.left < shared.left
        and _role(first) in SAMPLE_ROLES
        and any(cell.left == shared.left for cell in others)
    )


def _role(cell: Cell) -> str | None:
    head = head_of(cell.text.rstrip(":"))
    return head.role if head is not None and head.score > _SURE else None
