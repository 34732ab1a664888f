"""The boxes and answers of a line, from left to right, and which answer is the ticked one.

Total coliform   [X] Absent   [ ] Present          a box stands before its answer
Total coliform   Absent ☒   Present ☐              or behind it
Total coliform   X  Absent   ___ Present           or a mark stands alone
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import chain
from typing import NamedTuple

from ..answers import answers_in
from ..geometry import Box, Word
from .cells import Cell, Line

FULL = r"\[\s?[xX✓✔*]\s?\]|\(\s?[xX✓✔*]\s?\)|[☒☑■✔✓⊠◉●▣🗹]|_+[xX]_+"
EMPTY = r"\[\s*_*\s*\]|\(\s*_*\s*\)|[☐□◻○◯▢❏❑❒]|_{2,}"
BOX = re.compile(rf"(?P<full>{FULL})|(?P<unclear>\[\?\])|(?P<empty>{EMPTY})")
_ALONE = re.compile(r"(?<!\S)[xX✗✘](?!\S)")
"""A mark without any box, which counts beside an answer."""
_JOINS = frozenset({"", "or", "o"})
_NEARER = 0.6
"""A box belongs to the nearer of two answers where it is nearer by so much."""
_AS_NEAR = 1.25
_SLACK = 1.0
_COLUMN = 1000.0
"""Columns of a sheet are so far apart where places are compared; a letter is 1 wide."""


class Piece(NamedTuple):
    """One box, answer or other text of a line."""

    what: str
    """"box", "answer" or "text"."""
    told: str
    """Of a box "full", "empty", "unclear" or "alone"; of an answer its kind; else the words."""
    cell: Cell
    start: int
    end: int
    left: float
    right: float

    @property
    def text(self) -> str:
        """The printed words."""
        return self.cell.text[self.start : self.end].strip()


def pieces_of(line: Line) -> list[Piece]:
    """Return the boxes, answers and other texts of a line from left to right."""
    found = list(chain.from_iterable(map(_pieces, line.cells)))
    kept = []
    for at, piece in enumerate(found):
        beside = (found[at - 1 : at] if at else []) + found[at + 1 : at + 2]
        is_word = piece.told == "alone" and not any(p.what == "answer" for p in beside)
        kept.append(piece._replace(what="text", told=piece.text) if is_word else piece)
    return kept


def _pieces(cell: Cell) -> Iterator[Piece]:
    text = cell.text
    marks = [(m.start(), m.end(), "box", str(m.lastgroup)) for m in BOX.finditer(text)]
    marks += [(m.start(), m.end(), "box", "alone") for m in _ALONE.finditer(text)]
    marks += [(a.start, a.end, "answer", a.kind) for a in answers_in(text)]
    edges = _edges(cell)
    at = 0
    for start, end, what, told in (*sorted(marks), (len(text), len(text), "", "")):
        if start < at:
            continue
        between = text[at:start]
        if between.strip(" ,;:/|.-–\u2014").lower() not in _JOINS:
            yield Piece("text", between.strip(), cell, at, start, edges[at][0], edges[start - 1][1])
        if what:
            yield Piece(what, told, cell, start, end, edges[start][0], edges[end - 1][1])
        at = end


def _edges(cell: Cell) -> list[tuple[float, float]]:
    """Return the left and right edge of each letter of a cell."""
    if not cell.words or len(cell.text) != sum(len(w.text) + 1 for w in cell.words) - 1:
        begin = _COLUMN * cell.left if cell.line.sheet is not None else cell.left
        wide = 1.0 if cell.line.sheet is not None else (cell.right - begin) / len(cell.text)
        return [(begin + wide * at, begin + wide * (at + 1)) for at in range(len(cell.text))]
    edges: list[tuple[float, float]] = []
    for word in cell.words:
        if edges:
            edges.append((edges[-1][1], word.left))
        wide = (word.right - word.left) / len(word.text)
        edges += [
            (word.left + wide * at, word.left + wide * (at + 1)) for at in range(len(word.text))
        ]
    return edges


def part_of(cell: Cell, start: int, end: int) -> Cell:
    """Return a part of a cell as a cell of its own."""
    text = cell.text[start:end]
    bare = text.strip()
    start += len(text) - len(text.lstrip())
    edges = _edges(cell)
    if cell.line.sheet is not None:
        return Cell(
            bare, (cell.left, cell.top, cell.right, cell.bottom), cell.line, (), cell.source
        )
    box = (edges[start][0], cell.top, edges[start + len(bare) - 1][1], cell.bottom)
    return placed(bare, box, cell.line)


def placed(text: str, box: Box, line: Line) -> Cell:
    """Return a cell of a page that is one word."""
    return Cell(text, box, line, (Word(text, *box),))


def ticks_of(pieces: Sequence[Piece]) -> list[tuple[Piece, str]] | None:
    """Return each answer that has a box with what its box tells; None where that is not clear."""
    answers = [at for at, piece in enumerate(pieces) if piece.what == "answer"]
    if not any(piece.what == "box" for piece in pieces):
        return []
    before = [_at(pieces, at - 1) for at in answers]
    behind = [_at(pieces, at + 1) for at in answers]
    is_before, is_behind = all(before), all(behind)
    if is_before and is_behind:
        near = sum(gap(pieces[at], box) for at, box in zip(answers, before, strict=True))
        far = sum(gap(pieces[at], box) for at, box in zip(answers, behind, strict=True))
        is_before, is_behind = near <= _NEARER * far, far <= _NEARER * near
    if not is_before and not is_behind:
        return _alone(pieces, answers)
    step = -1 if is_before else 1
    found = []
    for at in answers:
        box, beyond = pieces[at + step], _at(pieces, at + 2 * step, "answer")
        if beyond and gap(pieces[at], box) > _AS_NEAR * gap(beyond, box) + _SLACK:
            return None
        found.append((pieces[at], box.told))
    return found


def _alone(pieces: Sequence[Piece], answers: Sequence[int]) -> list[tuple[Piece, str]] | None:
    """Return what marks without boxes tell: each belongs to the answer that it stands next to."""
    told: dict[int, str] = dict.fromkeys(answers, "empty")
    for at, box in enumerate(pieces):
        if box.what != "box":
            continue
        if box.told not in {"alone", "empty"}:
            return None
        near = [n for n in (at - 1, at + 1) if _at(pieces, n, "answer")]
        near.sort(key=lambda n: gap(pieces[n], box))
        if box.told == "empty" or not near:
            continue
        if len(near) == 2 and gap(pieces[near[0]], box) > _NEARER * gap(pieces[near[1]], box):
            return None
        told[near[0]] = "full"
    return [(pieces[at], state) for at, state in told.items()]


def _at(pieces: Sequence[Piece], at: int, what: str = "box") -> Piece | None:
    return pieces[at] if 0 <= at < len(pieces) and pieces[at].what == what else None


def gap(one: Piece, other: Piece | None) -> float:
    """Return how far apart two pieces stand, in points."""
    if other is None:
        return 0.0
    return max(one.left - other.right, other.left - one.right, 0.0)
