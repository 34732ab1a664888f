"""Cells and lines: what pages and sheets have in common once they enter the layout engine.

A cell is a run of words that stand close together on one line of a page, or one cell of a sheet.
For a sheet `left` and `right` are column numbers, so the same questions about position serve both.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Literal

from welltold.reading import Where
from welltold_parsers.addresses import address

from ..geometry import Box, SheetCell, Word

Of = Literal["value", "label", "unit", "limit", "header"]


class Cell:
    """One piece of text with its place, in points or in rows and columns of a sheet."""

    __slots__ = (
        "_place",
        "bottom",
        "guessed",
        "left",
        "line",
        "printed_at",
        "right",
        "source",
        "text",
        "top",
        "words",
    )

    def __init__(
        self,
        text: str,
        box: tuple[float, float, float, float],
        line: Line,
        words: tuple[Word, ...] = (),
        source: SheetCell | None = None,
    ) -> None:
        self.text = text
        self.left, self.top, self.right, self.bottom = box
        self.line = line
        self.words = words
        self.source = source
        self._place: Where | None = None
        self.guessed = False
        """Cut out of a longer cell at a place that the gaps do not settle."""
        self.printed_at: Box | None = None
        """Where the text stands, if it was put elsewhere to be read: a ticked answer."""

    def __repr__(self) -> str:
        return f"Cell({self.text!r}, {self.left:.0f}-{self.right:.0f})"

    @property
    def middle(self) -> float:
        """The horizontal middle, in points or columns."""
        return (self.left + self.right) / 2

    def as_header(self) -> Where:
        """Return its place as a head, which all results under it share."""
        if self._place is None:
            self._place = replace(where("header", self), text=self.text)
        return self._place

    @property
    def is_date(self) -> bool:
        """Stored as a date in a workbook."""
        return self.source is not None and self.source.is_date


class Line:
    """One printed line of a page or one row of a sheet: its cells from left to right."""

    __slots__ = (
        "answer",
        "apart",
        "bottom",
        "cells",
        "hidden",
        "index",
        "least",
        "moved",
        "page",
        "plain_text",
        "sheet",
        "top",
    )

    def __init__(
        self,
        index: int,
        *,
        page: int | None = None,
        sheet: str | None = None,
        plain_text: bool = False,
        hidden: bool = False,
    ) -> None:
        self.index = index
        self.page = page
        self.sheet = sheet
        self.plain_text = plain_text
        self.hidden = hidden
        self.cells: list[Cell] = []
        self.top = 0.0
        self.bottom = 0.0
        self.moved = 0.0
        """Points that the cells stand further right on the page than they say."""
        self.answer: tuple[Cell, Cell] | None = None
        """The name and the ticked answer that the line holds."""
        self.apart = False
        """The answer is no row of any table: an item of a list."""
        self.least: tuple[Cell, Cell | None] | None = None
        """The least that the laboratory can see, told beside the answer, and its unit."""

    def __repr__(self) -> str:
        return f"Line({self.index}, {[c.text for c in self.cells]})"

    @property
    def text(self) -> str:
        """The whole line, cells apart by two blanks."""
        return "  ".join([cell.text for cell in self.cells])

    @property
    def height(self) -> float:
        """Height of the line in points; 1 for a row of a sheet."""
        return self.bottom - self.top


def join(cells: Iterable[Cell]) -> Cell:
    """Return one cell made of several, in the given order, with the box round all of them."""
    parts = tuple(cells)
    first = parts[0]
    if len(parts) == 1:
        return first
    box = (
        min(c.left for c in parts),
        min(c.top for c in parts),
        max(c.right for c in parts),
        max(c.bottom for c in parts),
    )
    words = tuple(w for c in parts for w in c.words)
    whole = Cell(" ".join(c.text for c in parts), box, first.line, words, first.source)
    whole.guessed = any(c.guessed for c in parts)
    return whole


def of_words(words: tuple[Word, ...], line: Line) -> Cell:
    """Return the cell that holds these words of a line."""
    first = words[0]
    if len(words) == 1:
        return Cell(first.text, (first.left, first.top, first.right, first.bottom), line, words)
    box = (
        first.left,
        min([w.top for w in words]),
        max([w.right for w in words]),
        max([w.bottom for w in words]),
    )
    return Cell(" ".join([w.text for w in words]), box, line, words)


def where(of: Of, cell: Cell) -> Where:
    """Return the place of a cell as the reading states it."""
    line = cell.line
    if line.sheet is not None:
        return Where(of, None, line.sheet, None, _address(cell))
    if line.plain_text:
        at = f"L{round(cell.top / 12) + 1}C{round(cell.left / 6) + 1}"
        return Where(of, line.page, None, None, at)
    left, top, right, bottom = cell.printed_at or (cell.left, cell.top, cell.right, cell.bottom)
    left, right = left + line.moved, right + line.moved
    box = (round(left, 1), round(top, 1), round(right, 1), round(bottom, 1))
    return Where(of, line.page, None, box, None)


def _address(cell: Cell) -> str:
    source = cell.source
    if source is None:
        return address(cell.line.index, int(cell.left))
    return address(source.row, source.column)
