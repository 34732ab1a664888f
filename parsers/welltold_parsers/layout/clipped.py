"""Cells of a printed spreadsheet that are cut off where the next one begins.

A name that is too long for its column ends at the column's edge, and the number beside it follows
without a blank: "Perfluorooctanoic aci3.7", "Nitrogen, Ammonia (a 0.303". Such a run is parted at
the edge, where what follows is a value or a unit.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Sequence

from ..geometry import Word
from .cells import Cell, Line, of_words
from .tokens import is_denial, unit_of, value_of

_SLACK = 1.0
_LETTER = 7.0
"""A letter is no wider."""
_GLUED = re.compile(
    r"(?P<left>.*?[A-Za-z(),;-])"
    r"(?P<right>[<>]?\d[\d.,]*|ND\b.*|[munµ]g/[lL].*|MG/L.*|UG/L.*|pCi/L|NTU"
    r"|(?<=[a-z(),;-])(?:N/?A|N\.D\.?|BDL|BRL|None|Not|Absent|Present|Negative|Positive))"
)

_NUMBERED = re.compile(r"[A-Z\d-]*\d{3,}[A-Z]?-")
"""The number of an order before that of its sample."""


def part_at_edges(rows: Sequence[Line], heads: Sequence[Cell]) -> bool:
    """Part the cells of these rows that run over an edge; return whether any was parted."""
    edges = sorted(h.left - _SLACK for h in heads)
    parted = False
    for row in rows:
        cells = [piece for cell in row.cells for piece in _pieces(cell, edges)]
        if len(cells) > len(row.cells) or any(
            a is not b for a, b in zip(cells, row.cells, strict=True)
        ):
            row.cells = cells
            parted = True
    return parted


def part_glued(rows: Sequence[Line], heads: Sequence[Cell]) -> None:
    """Part only the cells in which a name runs into its value without a blank."""
    edges = sorted(h.left - _SLACK for h in heads)
    for row in rows:
        row.cells = [
            piece
            for cell in row.cells
            for piece in (
                _pieces(cell, edges)
                if any(len(_unglued(w, edges)) > 1 for w in cell.words)
                else [cell]
            )
        ]


def _pieces(cell: Cell, edges: Sequence[float]) -> list[Cell]:
    """Return a cell in one piece, or parted where a value or unit begins in the next column."""
    if not cell.words or bisect_right(edges, cell.left + _SLACK) == bisect_right(
        edges, cell.right - _SLACK
    ):
        return [cell]
    words = [part for word in cell.words for part in _unglued(word, edges)]
    if any(_over(word, edges) > _LETTER for word in words):
        return [cell]  # the edges are not those of the cells
    runs: list[list[Word]] = []
    for word in words:
        if runs and _stretch(runs[-1][0], edges) == _stretch(word, edges):
            runs[-1].append(word)
        else:
            runs.append([word])
    whole: list[list[Word]] = []
    for run in runs:
        if whole and not _begins(_text(whole[-1]), _text(run)):
            whole[-1].extend(run)
        else:
            whole.append(run)
    return [of_words(tuple(_within_edge(run, edges)), cell.line) for run in whole]


def _text(run: Sequence[Word]) -> str:
    return " ".join(w.text for w in run)


def _begins(before: str, text: str) -> bool:
    """Whether a cell of its own begins here: a value, or a unit that is not its number's own."""
    if unit_of(text) is not None:
        whole = unit_of(f"{before} {text}") is not None  # "Std. Units"
        return value_of(before) is None and not whole
    if is_denial(f"{before} {text}"):
        return False
    return value_of(text) is not None


def _within_edge(run: Sequence[Word], edges: Sequence[float]) -> Sequence[Word]:
    """Return the words of a name whose last letter is cut through by the edge, ending before it."""
    last = run[-1]
    if not _over(last, edges) or last.text[:1].isdigit():
        return run
    edge = edges[bisect_right(edges, last.right - _SLACK) - 1] - _SLACK
    cut = Word(last.text, min(last.left, edge), last.top, edge, last.bottom, last.confidence)
    return [*run[:-1], cut]


def _stretch(word: Word, edges: Sequence[float]) -> int:
    return bisect_right(edges, word.left + _SLACK)


def _over(word: Word, edges: Sequence[float]) -> float:
    """Return by how much a word reaches over an edge, in points."""
    end = bisect_right(edges, word.right - _SLACK)
    return word.right - edges[end - 1] if _stretch(word, edges) != end else 0.0


def _is_code(text: str) -> bool:
    """Whether a text is a number that figures go on with: "2408417-", "26K0417-", "RC-90411-"."""
    figures = any(c.isdigit() for c in text) and not any(c.isalpha() for c in text)
    return figures or _NUMBERED.fullmatch(text) is not None


def _unglued(word: Word, edges: Sequence[float]) -> list[Word]:
    """Part a word that an edge runs through where its letters end and a number or unit begins."""
    first, last = _stretch(word, edges), bisect_right(edges, word.right - _SLACK)
    found = _GLUED.fullmatch(word.text) if first != last else None
    if found is None or _is_code(found["left"]):
        return [word]
    edge = edges[last - 1] + _SLACK
    left = Word(found["left"], word.left, word.top, edge - 3 * _SLACK, word.bottom, word.confidence)
    right = Word(found["right"], edge, word.top, word.right, word.bottom, word.confidence)
    return [left, right]
