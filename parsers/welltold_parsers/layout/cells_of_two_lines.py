"""Joins cells whose second line alone, or first, would be taken for something else.

A head that asks "Above 5" over "ppb?" holds no result above five; "AM" below "6:05" is no flag of
the number beside it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import islice, pairwise

from .cells import Cell, Line
from .facts import KEYS
from .head_cells import STRONG
from .words import head_of

_BEGUN = re.compile(
    r"(?i)(?:above|over|below|under|exceeds?|greater than|more than|[<>≥≤])\s*\d\S*"
)
_ENDED = re.compile(r"\S*(?:\s\S+){0,2}\?")
_HOUR, _HALF = re.compile(r"\d{1,2}:\d\d"), re.compile(r"(?i)[ap]\.?m\.?")
_PAIR = 2
_ALIGNED, _RAISED, _GAP = 2.0, 1.0, 4.0
_LINES = 3
"""Lines of other columns of the head that may stand between."""


def with_cells_joined(lines: Sequence[Line]) -> Sequence[Line]:
    """Put the end of each such cell behind its beginning; return the lines left."""
    changed = _join_around_keys(lines)
    for at, line in enumerate(lines):
        if line.sheet is not None:
            continue
        for cell in line.cells:
            ended = _end_of(cell.text)
            if ended is None:
                continue
            end = _end_below(cell, ended, islice(lines, at + 1, at + 1 + _LINES))
            if end is not None:
                cell.text = f"{cell.text} {end.text}"
                cell.words = (*cell.words, *end.words)
                cell.bottom = end.bottom
                end.line.cells.remove(end)
                changed = True
    return [line for line in lines if line.cells] if changed else lines


def _join_around_keys(lines: Sequence[Line]) -> bool:
    """Join two lines of a value in a form, its key set beside the middle of both.

    "Sample drawn" stands a little above the second line, so that the first seems to have no key.
    """
    changed = False
    for upper, lower in pairwise(lines):
        if lower.sheet is not None or len(upper.cells) != 1 or len(lower.cells) != _PAIR:
            continue
        (first,), (key, second) = upper.cells, lower.cells
        aligned = abs(first.left - second.left) < _ALIGNED and key.right < first.left
        middle = first.top < key.top < second.top - _RAISED and second.top < first.bottom + _GAP
        if upper.page == lower.page and aligned and middle and _is_key(key.text):
            second.text = f"{first.text} {second.text}"
            second.words = (*first.words, *second.words)
            second.top, second.right = first.top, max(first.right, second.right)
            upper.cells = []
            changed = True
    return changed


def _is_key(text: str) -> bool:
    head = head_of(text.rstrip(":"))
    return head is not None and head.score >= STRONG and head.role in KEYS


def _end_of(text: str) -> re.Pattern[str] | None:
    """Return how the text ends that begins so; None where it does not begin one."""
    if _BEGUN.fullmatch(text):
        return _ENDED
    return _HALF if _HOUR.fullmatch(text) else None


def _end_below(cell: Cell, ended: re.Pattern[str], below: islice[Line]) -> Cell | None:
    """Return the cell right below that ends what a cell begins, if there is one."""
    for line in below:
        if line.page != cell.line.page:
            return None
        for other in line.cells:
            if other.left < cell.right and other.right > cell.left:
                return other if ended.fullmatch(other.text) else None
    return None
