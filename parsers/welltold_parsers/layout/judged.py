"""Leaves out the boxes under "Pass" and "Fail": they judge a result that stands in its own column.

Test             Limit      Result     Pass   Fail
Total coliform   Absent     Absent      ☒      ☐
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..answers import OPPOSITE, kind_of
from .boxes import BOX
from .cells import Cell, Line
from .distinct import texts_in
from .tokens import analyte_in, microbial

_JUDGE = frozenset({"meets", "fails"})
_ANSWERS = frozenset({"absent", "present"})
_HEADS = 4
"""A name, a result and the two that judge."""


def without_judging(lines: Sequence[Line]) -> Sequence[Line]:
    """Take the boxes out of each row that has all else under the heads above it."""
    texts = texts_in(lines)
    if any(map(BOX.match, texts)):
        for line in lines:
            _take_out_judges(line)
    if _JUDGE.isdisjoint(map(kind_of, texts)):
        return lines
    head: Line | None = None
    pair: tuple[Cell, Cell] | None = None
    for line in lines:
        found = _pair(line)
        if found is not None:
            head, pair = line, found
        elif head is not None and pair is not None and line.page == head.page:
            boxes = [cell for cell in line.cells if _under(cell, pair)]
            if len(boxes) == len(pair) and len(line.cells) == len(head.cells):
                line.cells = [cell for cell in line.cells if cell not in boxes]
    return lines


def _take_out_judges(line: Line) -> None:
    """Take boxes with words that judge out of the row of a germ whose answer is printed.

    "E. coli   Absent   Absent   ☒ Pass   ☐ Fail": the lab's answer, the rule's, and a verdict.
    """
    judges = [cell for cell in line.cells if _judges(cell)]
    others = [cell for cell in line.cells[1:] if cell not in judges]
    if len(judges) < len(OPPOSITE.keys() & _JUDGE) or any(BOX.search(c.text) for c in others):
        return
    match = analyte_in(line.cells[0].text)
    told = bool(others) and kind_of(others[0].text) in _ANSWERS
    if match is not None and microbial(match.slug) and told:
        line.cells = [cell for cell in line.cells if cell not in judges]


def _judges(cell: Cell) -> bool:
    """Whether a cell is a box and a word that judges: "☒ Pass"."""
    found = BOX.match(cell.text)
    return found is not None and kind_of(cell.text[found.end() :]) in _JUDGE


def _pair(line: Line) -> tuple[Cell, Cell] | None:
    """Return the two neighbours of a head that judge; None: it has no such two."""
    if len(line.cells) < _HEADS or any(BOX.search(cell.text) for cell in line.cells):
        return None
    found = [
        (one, two)
        for one, two in pairwise(line.cells)
        if (kind := kind_of(one.text)) in _JUDGE and OPPOSITE[kind] == kind_of(two.text)
    ]
    return found[0] if len(found) == 1 else None


def _under(cell: Cell, pair: tuple[Cell, Cell]) -> bool:
    """Whether a cell is a box that stands under one of two heads."""
    near = abs(pair[1].middle - pair[0].middle) / 2
    return BOX.fullmatch(cell.text) is not None and any(
        abs(head.middle - cell.middle) < near for head in pair
    )
