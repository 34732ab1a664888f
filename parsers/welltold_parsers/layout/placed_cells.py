"""A line's cells by column: a cell that reaches into several is parted among them."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word
from .cells import Cell, Line, of_words
from .column import Column, overlap
from .edges import SIGNS
from .tokens import is_denial, unit_of, value_of


def assign(line: Line, columns: Sequence[Column]) -> list[Cell | None]:
    """Return the line's cells by column; a cell that spans empty columns is parted at the gaps."""
    placed: list[list[Cell]] = [[] for _ in columns]
    crossing: list[tuple[Cell, list[int]]] = []
    extents = [(c.left, c.right) for c in columns]
    for cell in line.cells:
        left, right = cell.left + 0.8, cell.right - 0.8
        over = [
            i
            for i, (start, end) in enumerate(extents)
            if start < right and end > left and overlap(cell, columns[i]) > 0.8
        ]
        if len(over) == 1:
            placed[over[0]].append(cell)
        elif not over:
            placed[_nearest(cell, columns)].append(cell)
        else:
            crossing.append((cell, over))
    for cell, over in crossing:
        _part(cell, over, columns, placed)
    return [_glue(cells) for cells in placed]


def _glue(cells: list[Cell]) -> Cell | None:
    if len(cells) <= 1:
        return cells[0] if cells else None
    cells.sort(key=lambda c: c.left)
    words = tuple(w for c in cells for w in c.words)
    if words:
        whole = of_words(words, cells[0].line)
        whole.guessed = any(c.guessed for c in cells)
        return whole
    first = cells[0]
    box = (first.left, first.top, cells[-1].right, first.bottom)
    return Cell(" ".join(c.text for c in cells), box, first.line, (), first.source)


def _nearest(cell: Cell, columns: Sequence[Column]) -> int:
    gaps = [max(c.left - cell.right, cell.left - c.right) for c in columns]
    return gaps.index(min(gaps))


def _part(cell: Cell, over: list[int], columns: Sequence[Column], placed: list[list[Cell]]) -> None:
    """Share the words of a crossing cell among the columns that have nothing of their own."""
    free = [over[0], *(i for i in over[1:] if not placed[i])]
    # Never "Detected" without its "None", nor "Units" without its "Std."
    if is_denial(cell.text) or unit_of(cell.text) is not None:
        best = max(over, key=lambda i: (not placed[i], overlap(cell, columns[i])))
        placed[best].append(cell)
        return
    if placed[over[0]] and len(free) == 2 and value_of(cell.text) is not None:
        placed[free[1]].append(cell)  # a wide answer that begins under a wide head
        return
    if len(cell.words) < 2 or len(free) == 1:
        best = max(over, key=lambda i: overlap(cell, columns[i]))
        placed[best if not placed[best] else over[0]].append(cell)
        return
    groups = _widest_gaps(cell, len(free))
    if groups is not None:
        for index, words in zip(free, groups, strict=True):
            placed[index].append(of_words(words, cell.line))
        return
    shares: dict[int, list[int]] = {}
    for at, word in enumerate(cell.words):
        middle = (word.left + word.right) / 2
        if word.text in SIGNS and at + 1 < len(cell.words):
            middle = (cell.words[at + 1].left + cell.words[at + 1].right) / 2
        near = min(free, key=lambda i: max(columns[i].left - middle, middle - columns[i].right))
        shares.setdefault(near, []).append(at)
    for index, positions in shares.items():
        part = of_words(tuple(cell.words[p] for p in positions), cell.line)
        part.guessed = len(shares) > 1
        placed[index].append(part)


def _widest_gaps(cell: Cell, count: int) -> list[tuple[Word, ...]] | None:
    """Part words into so many groups at gaps that are clearly wider than the rest; else None."""
    words = cell.words
    gaps = sorted(
        ((b.left - a.right, at) for at, (a, b) in enumerate(pairwise(words), 1)), reverse=True
    )
    wide, narrow = gaps[: count - 1], gaps[count - 1 :]
    if len(wide) < count - 1 or (narrow and wide[-1][0] < 1.3 * narrow[0][0]):
        return None
    cuts = [0, *sorted(at for _, at in wide), len(words)]
    return [words[a:b] for a, b in pairwise(cuts)]
