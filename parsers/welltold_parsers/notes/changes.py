"""Puts a plain word in the place of a printed one, and remembers what was printed where."""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import accumulate
from typing import Literal, NamedTuple

from welltold.reading import Box, Where

from ..geometry import Word
from ..layout.cells import Cell, where

Kind = Literal["heading", "unit", "label", "flag"]
KINDS: tuple[Kind, ...] = ("flag", "unit", "label", "heading")
"""In the order opposite to that in which they are put."""
_NUMBER = re.compile(r"\d+")
_SLACK = 1.0
"""Points by which a box may stand out of another that holds it."""


class Change(NamedTuple):
    """One printed text and the plain one that the engine reads in its place."""

    kind: Kind
    printed: str
    plain: str
    place: Where
    """Of the printed text alone, also where its cell holds more."""


class Changes:
    """All that was changed on one file."""

    __slots__ = ("_by_row", "_whole", "left_out", "words")

    def __init__(self) -> None:
        self._by_row: dict[tuple[int | None, str | None, str], list[Change]] = {}
        self._whole: dict[int, tuple[Cell, str, Where]] = {}
        """Each changed cell by its identity, with all that was printed in it."""
        self.words: dict[str, str] = {}
        """Printed to plain, each pair once, in the order of the sheet."""
        self.left_out = 0
        """Lines with numbers that the note leaves out."""

    def put(
        self,
        cell: Cell,
        span: tuple[int, int],
        new: str,
        kind: Kind,
        told: tuple[str, str] | None = None,
    ) -> None:
        """Set ``new`` in the place of a span of a cell's text, with the box of what stood there.

        ``told`` is the pair of words that is told to the reader, if it is another.
        """
        start, end = span
        printed = cell.text[start:end]
        place = where("value", cell)
        self._whole.setdefault(id(cell), (cell, cell.text, place))
        if cell.words:
            cell.words, box = _with_words(cell.words, start, end, new)
            place = place if place.box is None else replace(place, box=box)
        cell.text = cell.text[:start] + new + cell.text[end:]
        self._by_row.setdefault(_row(place), []).append(Change(kind, printed, new, place))
        word, known = told or (printed, new)
        self.words.setdefault(word, known)

    def at(self, place: Where, kind: Kind) -> Iterator[Change]:
        """Yield the changes of a kind within a place."""
        for change in self._by_row.get(_row(place), ()):
            if change.kind == kind and _inside(change.place, place):
                yield change

    def beside(self, place: Where, kind: Kind) -> Iterator[Change]:
        """Yield the changes of a kind on the line of a place."""
        for change in self._by_row.get(_row(place), ()):
            if change.kind == kind and _level(change.place.box, place.box):
                yield change

    def between(self, head: Where, value: Where) -> Iterator[tuple[str, str]]:
        """Yield the printed and the present text of changed cells between a head and its value.

        Of a sheet, where a place has a column.
        """
        first, last = _row_number(head), _row_number(value)
        if head.sheet is None or _column(head) != _column(value):
            return
        for cell, printed, at in self._whole.values():
            beside = at.sheet == head.sheet and _column(at) == _column(head)
            if beside and first < _row_number(at) < last:
                yield printed, cell.text


def _column(place: Where) -> str:
    return _NUMBER.sub("", place.cell or "")


def _row_number(place: Where) -> int:
    found = _NUMBER.search(place.cell or "")
    return int(found[0]) if found else 0


def _row(place: Where) -> tuple[int | None, str | None, str]:
    """Return the page, sheet and row of a place; all of a page with boxes is one row."""
    found = _NUMBER.search(place.cell or "")
    return place.page, place.sheet, found[0] if found else ""


def _inside(inner: Where, outer: Where) -> bool:
    one, other = inner.box, outer.box
    if one is None or other is None:
        return inner.cell == outer.cell or inner.sheet is None
    beside = one[0] >= other[0] - _SLACK and one[2] <= other[2] + _SLACK
    return beside and one[1] >= other[1] - _SLACK and one[3] <= other[3] + _SLACK


def _level(one: Box | None, other: Box | None) -> bool:
    if one is None or other is None:
        return True
    return other[1] <= (one[1] + one[3]) / 2 <= other[3]


def _with_words(
    words: Sequence[Word], start: int, end: int, new: str
) -> tuple[tuple[Word, ...], Box]:
    """Return a cell's words with a span of its text replaced, and the box of that span."""
    ends = list(accumulate(len(w.text) + 1 for w in words))
    first, last = bisect_right(ends, start), bisect_left(ends, end)
    held = words[first : last + 1]
    before = held[0].text[: start - (ends[first] - len(held[0].text) - 1)]
    behind = held[-1].text[len(held[-1].text) - (ends[last] - 1 - end) :]
    one = Word(
        before + new + behind,
        held[0].left,
        min(w.top for w in held),
        held[-1].right,
        max(w.bottom for w in held),
        min(w.confidence for w in held),
    )
    box = (round(one.left, 1), round(one.top, 1), round(one.right, 1), round(one.bottom, 1))
    return (*words[:first], one, *words[last + 1 :]), box
