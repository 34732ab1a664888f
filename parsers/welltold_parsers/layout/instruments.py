"""Heads of a data file over groups of tests, each the instrument or the method of its group.

"ICP" over "Al, As, Cd" and "ICP-MS" over "Cd, Pb": such a head stands over its first column and
over those behind it, up to the next one. It is no part of any name; a test that stands in two
groups was made in two ways.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from .cells import Cell, Line
from .column import Column
from .head_cells import head_analyte
from .words import head_of, split_unit

_GROUPS = 2
_NAMED = 2
"""Tests under a head that make it the head of a group."""
_SURE = 0.9


def group_heads(heads: Sequence[Line]) -> list[Cell]:
    """Return the cells that head groups of tests, in the line right over their names."""
    for upper, lower in pairwise(heads):
        if upper.sheet is None or any(c.source and c.source.columns > 1 for c in upper.cells):
            continue
        edges = [*(c.left for c in upper.cells[1:]), lower.cells[-1].right]
        found = [
            cell
            for cell, edge in zip(upper.cells, edges, strict=True)
            if _is_group(cell, [c for c in lower.cells if cell.left <= c.left < edge])
        ]
        if len(found) >= _GROUPS and len(found) == len(upper.cells):
            return found
    return []


def instruments(groups: Sequence[Cell], columns: Sequence[Column]) -> Mapping[int, Cell]:
    """Return the head of the group that each column stands under."""
    found: dict[int, Cell] = {}
    for index, column in enumerate(columns):
        before = [cell for cell in groups if cell.left <= column.left]
        if before:
            found[index] = before[-1]
    return found


def _is_group(cell: Cell, below: Sequence[Cell]) -> bool:
    """Whether a cell names no test, no unit and no role, and stands over several tests."""
    if head_analyte(cell.text) is not None or split_unit(cell.text)[1] is not None:
        return False
    head = head_of(cell.text)
    if head is not None and head.score >= _SURE:
        return False
    return sum(head_analyte(c.text) is not None for c in below) >= _NAMED
