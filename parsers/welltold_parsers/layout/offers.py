"""Finds what a form offers: the answers with boxes that belong to one name, and that name.

The answers stand on the line of their name, behind it; or on the line below it; or each on a line
of its own, one below the other. Two names above may have their answers side by side.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import inf
from typing import NamedTuple

from ..answers import OPPOSITE, answers_in, may_answer
from .boxes import BOX, Piece, gap, part_of, pieces_of
from .cells import Cell, Line
from .tokens import analyte_in, analytes_within

ANSWERS = frozenset({"absent", "present"})
_SHEET = re.compile(r"[\[☒☑■✔✓⊠◉●▣🗹☐□◻○◯▢❏❑❒]|\([ xX✓✔]?\)|__")
"""What a cell of a sheet has where it offers answers."""
_VERDICT = re.compile(
    r"(?i)[✓✔✗✘⚠✅❌!]\s*(?:within|below|under|meets?|above|over|exceeds?|ok(?:ay)?|good|pass(?:es|ed)?"
    r"|fail(?:s|ed)?|in range|no concern|normal|acceptable|satisfactory|unsatisfactory)\b.{0,30}"
)
"""A check mark before a verdict is no box that somebody ticked."""
_CHOICE = re.compile(r"\s*(?:/|\||,|;|-|–|\bor\b)?\s*")
"""What stands between two answers that are offered without boxes."""
_NEAR = 1.6
"""How far a line of answers may stand below the one before, in heights of a line."""
_ALIGNED = 8.0
_FARTHER, _SLACK = 3.0, 6.0
"""An answer so many times as far from its box as its like, and some points, has another's."""
_LONGEST = 12
"""A line of more words is a sentence."""


class Offer(NamedTuple):
    """The answers that are offered together for one name."""

    label: Cell | None
    rows: list[list[Piece]]
    """The boxes, the answers and what stands between them, by line."""
    lines: list[Line]

    @property
    def pieces(self) -> list[Piece]:
        """The pieces of all lines."""
        return [piece for row in self.rows for piece in row]

    @property
    def kinds(self) -> set[str]:
        """What kinds of answers there are."""
        return {piece.told for piece in self.pieces if piece.what == "answer"}


def may_offer(first: Sequence[Line], texts: Iterable[str]) -> bool:
    """Whether lines that begin so, with these texts, can offer answers; quicker than to look."""
    if first and first[0].sheet is not None:
        return any(map(_SHEET.search, texts))
    return may_answer("\n".join(texts))


def offers_of(line: Line) -> list[Offer]:
    """Return what a line offers, parted where the next analyte is named."""
    if line.sheet is not None and not any(_SHEET.search(cell.text) for cell in line.cells):
        return []
    if not may_answer(line.text) or not any(answers_in(cell.text) for cell in line.cells):
        return []
    if _only_judged(line.cells):
        return []
    pieces = pieces_of(line)
    parts: list[list[Piece]] = [[]]
    for piece in pieces:
        named = piece.what == "text" and _names(piece.text)
        if named and any(p.what == "answer" for p in parts[-1]):
            parts.append([])
        parts[-1].append(piece)
    offers = []
    for part in parts:
        first = next((at for at, p in enumerate(part) if p.what != "text"), len(part))
        words = [p for p in part[:first] if _names(p.text)]
        label = part_of(words[-1].cell, words[-1].start, words[-1].end) if words else None
        asked = _without_limits(part[first:])
        if _is_offer(asked, label, line):
            offers.append(Offer(label, [asked], [line]))
    return offers


def _only_judged(cells: Sequence[Cell]) -> bool:
    """Whether the only mark of a row decorates its verdict: "Absent | Absent | ✓ Within limit"."""
    marked = [c for c in cells if _VERDICT.fullmatch(c.text)]
    others = [c for c in cells if c not in marked]
    if len(marked) != 1 or any(BOX.search(c.text) for c in others):
        return False
    kinds = {answer.kind for c in others for answer in answers_in(c.text)}
    return len(kinds) == 1 and kinds <= ANSWERS


def _without_limits(pieces: Sequence[Piece]) -> list[Piece]:
    """Take an answer for other text that has no box of its own, where both answers have: a limit.

    A box of another column may stand beside it, but far off.
    """
    far: dict[Piece, float] = {}
    for at, piece in enumerate(pieces):
        if piece.what == "answer":
            beside = (*pieces[max(at - 1, 0) : at], *pieces[at + 1 : at + 2])
            gaps = [gap(piece, other) for other in beside if other.what == "box"]
            far[piece] = min(gaps, default=inf)
    near = {p.told: min(f for q, f in far.items() if q.told == p.told) for p in far}
    if inf in near.values() or not any(OPPOSITE[kind] in near for kind in near):
        return list(pieces)
    return [
        p._replace(what="text") if p in far and far[p] > _FARTHER * near[p.told] + _SLACK else p
        for p in pieces
    ]


def _names(text: str) -> bool:
    return analyte_in(text) is not None or bool(analytes_within(text))


def _is_offer(pieces: Sequence[Piece], label: Cell | None, line: Line) -> bool:
    """Whether boxes stand beside answers, or a test of germs has two answers and no mark."""
    kinds = {p.told for p in pieces if p.what == "answer"}
    if not kinds:
        return False
    for one, two in pairwise(pieces):
        if {one.what, two.what} == {"box", "answer"}:
            return True
        bare = one.what == two.what == "answer" and OPPOSITE[one.told] == two.told
        if bare and label is not None and len(line.text.split()) <= _LONGEST:
            between = one.cell.text[one.end : two.start] if one.cell is two.cell else None
            if between is not None and _CHOICE.fullmatch(between) and kinds <= ANSWERS:
                return True
    return False


def wraps(offer: Offer, below: Line) -> bool:
    """Take up an answer that stands on the next line, because its cell is narrow."""
    asked = [p for p in offer.pieces if p.cell is offer.pieces[0].cell]
    pieces = pieces_of(below)
    if [p.what for p in asked] != ["box", "answer", "box"] or len(pieces) != 1:
        return False
    first, before, box = asked
    line = offer.lines[0]
    near = below.page == line.page and below.top - line.bottom < line.height
    if pieces[0].what != "answer" or not near:
        return False
    if abs(pieces[0].left - first.left) > _ALIGNED or pieces[0].told != OPPOSITE[before.told]:
        return False
    left = box.right + before.left - first.right
    row = offer.rows[0]
    row.insert(row.index(box) + 1, pieces[0]._replace(left=left, right=left + 1))
    return True


def stacked(lines: Sequence[Line], at: int, found: dict[int, list[Offer]]) -> list[int]:
    """Return the places of the lines that go on with one answer each below the first."""
    first = found[at][0]
    if sum(p.what == "answer" for p in first.pieces) != 1 or lines[at].sheet is not None:
        return []
    below: list[int] = []
    last = lines[at]
    for number in range(at + 1, len(lines)):
        offers = found.get(number, [])
        line = lines[number]
        if len(offers) != 1 or offers[0].label is not None or line.page != last.page:
            break
        pieces = offers[0].pieces
        if sum(p.what == "answer" for p in pieces) != 1 or len(line.cells) > 2:
            break
        if abs(pieces[0].left - first.pieces[0].left) > _ALIGNED:
            break
        if line.top - last.bottom > _NEAR * last.height:
            break
        below.append(number)
        last = line
    return below


def joined(first: Offer, others: Sequence[Offer]) -> Offer:
    """Return one offer of answers that stand below each other."""
    rows = [row for offer in (first, *others) for row in offer.rows]
    return Offer(first.label, rows, [line for offer in (first, *others) for line in offer.lines])


def parts_of(offer: Offer) -> list[Offer]:
    """Part answers that come again: those of two names that stand above."""
    if offer.label is not None or len(offer.lines) > 1:
        return [offer]
    kinds = [p.told for p in offer.pieces if p.what == "answer"]
    if len(kinds) == len(set(kinds)):
        return [offer]
    step = 1 if offer.pieces[0].what == "box" else 0
    parts: list[list[Piece]] = [[]]
    seen: set[str] = set()
    for at, piece in enumerate(offer.pieces):
        answer = offer.pieces[min(at + step, len(offer.pieces) - 1)]
        begins = piece.what == ("box" if step else "answer") and answer.what == "answer"
        if begins and answer.told in seen:
            parts.append([])
            seen = set()
        if begins:
            seen.add(answer.told)
        parts[-1].append(piece)
    return [Offer(None, [part], offer.lines) for part in parts]


def label_above(offer: Offer, above: Line | None) -> Cell | None:
    """Return the name that stands alone above the answers, or as the head of their column."""
    line = offer.lines[0]
    if above is None or above.sheet is not None or above.page != line.page:
        return None
    if line.top - above.bottom > _NEAR * line.height:
        return None
    named = [cell for cell in above.cells if analyte_in(cell.text.rstrip(":")) is not None]
    if len(named) != len(above.cells):
        return None
    if len(named) == 1:
        return named[0]
    left, right = offer.pieces[0].left, max(p.right for p in offer.pieces)
    over = [cell for cell in named if cell.left < right and cell.right > left]
    return over[0] if len(over) == 1 else None
