"""Heads that are a group's word and its units: "CATIONS | mg/L (ppm) | meq/L | lbs per acre-foot".

Such a head stands below the table before it, over a list of its own that gives one result in two
or more units.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .heads import HeadLine
from .stacked_heads import at_rest
from .tokens import analyte_in, unit_of, value_of
from .words import head_of

_AHEAD = 4
_ROWS = 2
_SURE = 0.95
_GROUP = 3
"""Words that the name of a group has at most."""


def unit_head(lines: Sequence[Line], at: int) -> HeadLine | None:
    """Return the head of a list in several units, if the line of a page at this index is one."""
    line = lines[at]
    if line.sheet is not None or len(line.cells) < 3 or at_rest(line):
        return None
    group, first, *others = line.cells
    if not _is_group(group) or unit_of(first.text) is None or _second(first.text):
        return None
    above = lines[at - 1].cells if at else []
    if not all(_second(c.text) or _second(_whole(c, above)) for c in others):
        return None
    rows = sum(map(_row, lines[at + 1 : at + 1 + _AHEAD]))
    return HeadLine("rows", at) if rows >= _ROWS else None


def _is_group(cell: Cell) -> bool:
    head = head_of(cell.text)
    told = head is not None and head.score >= _SURE
    named = analyte_in(cell.text) or unit_of(cell.text) or value_of(cell.text)
    return not (told or named) and len(cell.text.split()) <= _GROUP


def _second(text: str) -> bool:
    """Whether a text heads one result again in another unit: "meq/L"."""
    head = head_of(text)
    return head is not None and head.score >= _SURE and head.role == "second_value"


def _whole(cell: Cell, above: Sequence[Cell]) -> str:
    """Return a head with the words that stand over it on the line above: "lbs per" "acre-foot"."""
    over = [c.text for c in above if min(c.right, cell.right) > max(c.left, cell.left)]
    return " ".join([*over, cell.text])


def _row(line: Line) -> bool:
    cells = line.cells
    return (
        len(cells) > 1
        and analyte_in(cells[0].text) is not None
        and any(value_of(c.text) is not None and unit_of(c.text) is None for c in cells[1:])
    )
