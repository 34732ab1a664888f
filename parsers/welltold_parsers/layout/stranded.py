"""Numbers that stand with the name of a test and of which nothing was made: the last net.

They stand behind the name in its row or its cell, or below it in its column. A number that reading
took for something, and one in a part of the sheet without results, is none of these.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from .accounts import Accounts
from .cells import Cell, Line, join, of_words
from .names_and_amounts import is_amount, is_head, is_pair, is_scale, measured, names_test, said_in
from .tables import Free, Table
from .told import Role

_BELOW = 3.5
"""So many heights below its name a number may stand."""
_REACH = 6
"""So many lines above a number its name may stand."""
_MAY_TELL = re.compile(r"\d|^\W*(?i:[nbu]\b|nd|not|none|bdl|bql|below)")
_SENTENCE = 5
"""A sentence has so many words."""
_FILE = 200
"""A table of more rows is a data file, which is told by its columns."""
_ROW = 2
"""A row that was left out has so many numbers below names; one is a word of a note below."""
_OPEN = frozenset({None, "headings"})
_NEW = frozenset({"results", "headings", "unread"})
"""What ends the row of a name."""


class Stranded(NamedTuple):
    """A name and the number, or the numbers of its row, that ended in no role."""

    name: Cell
    value: Cell

    @property
    def text(self) -> str:
        """Both as they are told."""
        one = self.name is self.value
        return self.name.text if one else f"{self.name.text} {self.value.text}"


def stranded(accounts: Accounts, *, decimal_comma: bool) -> Iterator[Stranded]:
    """Yield what is left of a whole file, in order, when all of it was read."""
    net = _Net(accounts, decimal_comma=decimal_comma)
    for piece, region in accounts.pieces:
        lines = piece.lines
        if not lines or _is_read(piece, accounts):
            continue
        open_ = [
            line
            for line, part in zip(lines, accounts.regions(lines, region), strict=True)
            if part is None and not accounts.is_settled(line)
        ]
        yield from net.in_rows(open_)
        if isinstance(piece, Table):
            yield from net.in_columns(piece, open_)
        elif lines[0].sheet is None:
            yield from net.in_sentences(open_)
            yield from net.below_names(open_)


def in_line(line: Line, accounts: Accounts, *, decimal_comma: bool) -> list[Stranded]:
    """Return the names of one line of which nothing was made, each with its numbers."""
    return list(_Net(accounts, decimal_comma=decimal_comma).in_rows([line]))


def _is_read(piece: Table | Free, accounts: Accounts) -> bool:
    """Whether a table of a data file gave results; what its columns hold is told by the column."""
    if piece.lines[0].sheet is None or isinstance(piece, Free):
        return False
    if len(piece.lines) > _FILE:
        return True
    cells = (cell for line in piece.lines for cell in line.cells)
    return any(accounts.told.of_cell(cell) == "results" for cell in cells)


class _Net:
    """Looks for what is left, and notes it as unread."""

    def __init__(self, accounts: Accounts, *, decimal_comma: bool) -> None:
        self._accounts = accounts
        self._comma = decimal_comma

    def _role(self, cell: Cell) -> Role | None:
        return self._accounts.told.of_cell(cell)

    def _is_amount(self, cell: Cell) -> bool:
        return is_amount(cell.text, decimal_comma=self._comma)

    def _may_be_left(self, cell: Cell) -> bool:
        """Whether a cell may hold a number of which nothing was made; quick, and seldom wrong."""
        return _MAY_TELL.search(cell.text) is not None and self._role(cell) is None

    def _found(self, name: Cell, value: Cell) -> Stranded:
        self._accounts.lost(value)
        self._accounts.told.tell("headings", name)
        return Stranded(name, value)

    def in_rows(self, lines: Iterable[Line]) -> Iterator[Stranded]:
        """Yield the names with numbers behind them, in their row or in their cell."""
        for line in lines:
            if not any(map(self._may_be_left, line.cells)):
                continue
            name: Cell | None = None
            numbers: list[Cell] = []
            for cell in line.cells:
                role = self._role(cell)
                named = role is None and measured(cell.text) is not None
                if named or role in _NEW:
                    yield from self._row(name, numbers)
                    name, numbers = cell if named else None, []
                elif role is None and name is not None and self._is_amount(cell):
                    numbers.append(cell)
                elif role is None and is_pair(cell.text):
                    yield self._found(cell, cell)
            yield from self._row(name, numbers)

    def _row(self, name: Cell | None, numbers: Sequence[Cell]) -> Iterator[Stranded]:
        """Yield the numbers of one name as they stand in its row."""
        if name is not None and numbers:
            yield self._found(name, join(numbers))

    def in_sentences(self, lines: Iterable[Line]) -> Iterator[Stranded]:
        """Yield what sentences tell of a test: "The pH of 7.4 is in the usual range"."""
        for line in lines:
            for cell in line.cells:
                for name, value in said_in(cell.text) if len(cell.words) >= _SENTENCE else ():
                    number = cell.words[value : value + 1]
                    if number and self._accounts.told.role(number[0]) is None:
                        words = cell.words[name:value]
                        yield self._found(of_words(words, line), of_words(number, line))

    def in_columns(self, table: Table, lines: Sequence[Line]) -> Iterator[Stranded]:
        """Yield the numbers under a head that names a test."""
        heads = {n: join(c.head_cells) for n, c in enumerate(table.columns) if c.head_cells}
        told = {n for n, head in heads.items() if self._role(head) == "unread"}
        named = {n: h for n, h in heads.items() if n not in told and names_test(h.text)}
        for line in lines if named else ():
            cells = table.cells(line)
            left = [
                (head, cell)
                for at, head in named.items()
                if (cell := cells[at]) is not None
                if self._role(cell) is None and self._is_amount(cell)
            ]
            if len(left) >= min(_ROW, len(named)):
                for head, cell in left:
                    yield self._found(head, cell)

    def below_names(self, lines: Sequence[Line]) -> Iterator[Stranded]:
        """Yield the numbers that stand close below the name of a test, nothing else between.

        Below a name over a whole column of numbers each of them is one.
        """
        waiting: list[_Name] = []
        left = [n for n, line in enumerate(lines) if any(map(self._may_be_left, line.cells))]
        near = {n - step for n in left for step in range(_REACH)}
        for number, line in enumerate(lines):
            if number not in near:
                continue
            waiting = [n for n in waiting if line.top - n.bottom < _BELOW * n.cell.line.height]
            heads = [c for c in line.cells if self._role(c) in _OPEN and is_head(c.text)]
            if waiting and not is_scale(line):
                yield from self._under(waiting, line, heads)
            waiting += [_Name(cell, fresh=self._role(cell) is None) for cell in heads]

    def _under(self, waiting: list[_Name], line: Line, heads: list[Cell]) -> Iterator[Stranded]:
        """Yield the numbers of one line below names; other things there end the wait."""
        for cell in line.cells:
            over = next((n for n in waiting if n.stands_over(cell)), None)
            if over is None:
                continue
            if cell in heads or self._role(cell) is not None:
                waiting.remove(over)
            elif not heads and self._is_amount(cell) and over.takes(cell, self._begun(line, cell)):
                yield self._found(over.cell, cell)

    def _begun(self, line: Line, cell: Cell) -> bool:
        """Whether the row of a number begins with words: a place, a sample."""
        first = line.cells[0]
        return first is not cell and not self._is_amount(first) and first.text[:1].isalnum()


class _Name:
    """The name of a test that numbers may stand below."""

    __slots__ = ("bottom", "cell", "fresh", "seen")

    def __init__(self, cell: Cell, *, fresh: bool) -> None:
        self.cell = cell
        self.bottom = cell.bottom
        self.fresh = fresh
        """No result has this name yet; one with a result may stand over more of them."""
        self.seen = 0

    def stands_over(self, cell: Cell) -> bool:
        """Whether a cell below stands in the column of the name."""
        return self.cell.left < cell.right and cell.left < self.cell.right

    def takes(self, cell: Cell, in_row: bool) -> bool:  # noqa: FBT001 - one fact of the line
        """Whether a number below is of this test; all but the first have a row of their own."""
        self.bottom = cell.bottom
        self.seen += 1
        return (self.fresh or self.seen > 1) if in_row else (self.fresh and self.seen == 1)
