"""Columns of a text file that stand one blank apart: "pH  Cond Hard Iron Nitrate Chloride".

The blanks between two columns stand below each other in the head and in every row, and each word of
the head has its own numbers below it. Only then are the words of a cell taken for several cells.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..geometry import Word
from .cells import Cell, Line, of_words
from .short_names import short_name
from .tokens import analyte_in, unit_of, value_of
from .words import head_of

_ROWS = 2
"""Rows below a head that there must be."""
_FAR = 1.6
"""A table ends at a gap of so many lines."""
_SURE = 0.95
_EDGES = 3
"""A head with fewer words heads no table."""

_Span = tuple[float, float]


def with_columns_apart(lines: Sequence[Line]) -> list[Line]:
    """Part the cells of heads and rows of a text file where columns stand one blank apart."""
    for at, head in enumerate(lines):
        if sum(len(c.words) for c in head.cells) < _EDGES or not any(
            len(c.words) > 1 for c in head.cells
        ):
            continue
        block = list(_below(lines, at))
        rows = [line for line in block if _is_row(line)]
        if len(rows) < _ROWS or _is_row(head):
            continue
        columns = _columns([head, *rows])
        parted = [piece for cell in head.cells for piece in _parted(cell, columns, rows)]
        if len(parted) == len(head.cells):
            continue
        head.cells = parted
        edges = [c for c in columns if any(_over(c, (p.left, p.right)) for p in parted)]
        for line in block:
            line.cells = [piece for cell in line.cells for piece in _cut(cell, edges)]
    return list(lines)


def _below(lines: Sequence[Line], at: int) -> Iterator[Line]:
    """Yield the lines of a table right below its head."""
    last = lines[at]
    for line in lines[at + 1 :]:
        if line.top - last.bottom > (_FAR - 1) * line.height:
            return
        yield line
        last = line


def _is_row(line: Line) -> bool:
    """Whether a line has values in several places."""
    return sum(value_of(w.text) is not None for c in line.cells for w in c.words) >= _ROWS


def _columns(lines: Sequence[Line]) -> list[_Span]:
    """Return the places where something stands in any line, with white between them in all."""
    spans = sorted((w.left, w.right) for line in lines for c in line.cells for w in c.words)
    found = [spans[0]]
    for left, right in spans[1:]:
        if left < found[-1][1] + 1:
            found[-1] = (found[-1][0], max(found[-1][1], right))
        else:
            found.append((left, right))
    return found


def _parted(cell: Cell, columns: Sequence[_Span], rows: Sequence[Line]) -> list[Cell]:
    """Return the cells of a head's cell each of whose words has values of its own below it."""
    whole = head_of(cell.text)
    named = analyte_in(cell.text) is not None or unit_of(cell.text) is not None
    if len(cell.words) < 2 or named or (whole is not None and whole.score >= _SURE):
        return [cell]
    pieces = _cut(cell, columns)
    known = sum(map(_is_known, pieces))
    if len(pieces) < 2 or 2 * known < len(pieces) or known < 2:
        return [cell]
    under = [_values_below(piece, columns, rows) for piece in pieces]
    named_first = under[0] or _is_known(pieces[0])  # names of samples stand below it
    return pieces if named_first and all(under[1:]) else [cell]


def _values_below(piece: Cell, columns: Sequence[_Span], rows: Sequence[Line]) -> bool:
    """Whether words stand below a piece, and nearly all of them could be results or units."""
    span = next(c for c in columns if _over(c, (piece.left, piece.right)))
    every = [w for r in rows for c in r.cells for w in c.words]
    texts = [w.text for w in every if _over(span, (w.left, w.right))]
    told = sum(value_of(t, letters=True) is not None or unit_of(t) is not None for t in texts)
    return bool(texts) and told >= 0.8 * len(texts)


def _is_known(piece: Cell) -> bool:
    head = head_of(piece.text)
    return (
        analyte_in(piece.text) is not None
        or (head is not None and head.score >= _SURE)
        or short_name(piece.text) is not None
    )


def _cut(cell: Cell, columns: Sequence[_Span]) -> list[Cell]:
    """Return the pieces of a cell that stand in different columns."""
    runs: list[list[Word]] = [[cell.words[0]]] if cell.words else []
    for one, other in pairwise(cell.words):
        if _column_of(one, columns) == _column_of(other, columns):
            runs[-1].append(other)
        else:
            runs.append([other])
    return [of_words(tuple(run), cell.line) for run in runs] if len(runs) > 1 else [cell]


def _column_of(word: Word, columns: Sequence[_Span]) -> int | None:
    return next((n for n, c in enumerate(columns) if _over(c, (word.left, word.right))), None)


def _over(one: _Span, other: _Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]
