"""Plain text with the places in it framed: the same characters, cut where a mark begins or ends."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from welltold_parsers.geometry import Page

from .marks import KINDS, Mark, visible

WIDE, HIGH = 6.0, 12.0
"""Points of a character and of a line, as the door for plain text sets them."""
_PLACE = re.compile(r"L(\d+)C(\d+)")
_CELL = re.compile(r"\S+(?: \S+)*")


@dataclass(frozen=True, slots=True)
class Piece:
    """A run of characters under the same marks, the strongest first."""

    text: str
    marks: tuple[Mark, ...]
    first: bool
    """Whether the strongest mark begins here, so that its number is shown once."""


def lines_of(page: Page, marks: Iterable[Mark]) -> tuple[tuple[Piece, ...], ...]:
    """Return the lines of a page of plain text, each cut into pieces."""
    lines = _texts(page)
    spans: dict[int, list[tuple[int, int, Mark]]] = {}
    for mark in marks:
        found = _PLACE.fullmatch(mark.where.cell or "")
        if found and int(found[1]) <= len(lines):
            line, start = int(found[1]), int(found[2]) - 1
            end = start + _length(lines[line - 1][start:], mark.text)
            spans.setdefault(line, []).append((start, end, mark))
    return tuple(_pieces(text, spans.get(number, [])) for number, text in enumerate(lines, 1))


def _texts(page: Page) -> list[str]:
    lines = [""] * max(round(page.height / HIGH), 1)
    for word in sorted(page.words, key=lambda word: (word.top, word.left)):
        at, column = round(word.top / HIGH), round(word.left / WIDE)
        lines[at] = lines[at].ljust(column) + word.text
    return lines


def _length(rest: str, wanted: str) -> int:
    """Return how many characters the mark covers: what was read, else up to two blanks."""
    if wanted and rest.startswith(wanted):
        return len(wanted)
    cell = _CELL.match(rest)
    return cell.end() if cell else max(len(rest), 1)


def _pieces(text: str, spans: list[tuple[int, int, Mark]]) -> tuple[Piece, ...]:
    ends = [end for _, end, _ in spans]
    text = text.ljust(max(ends, default=0))
    cuts = sorted({0, len(text), *(start for start, _, _ in spans), *ends})
    pieces = []
    for left, right in pairwise(cuts):
        over = [(start, mark) for start, end, mark in spans if start <= left and right <= end]
        over.sort(key=lambda span: KINDS.index(span[1].kind))
        marks = tuple(mark for _, mark in over)
        first = bool(over) and over[0][0] == left
        pieces.append(Piece(visible(text[left:right]), marks, first))
    return tuple(pieces)
