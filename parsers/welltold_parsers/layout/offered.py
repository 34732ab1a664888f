"""Puts the ticked answer in the place of the boxes and answers that a form offers.

    Total coliform   ☐ Absent   ☒ Present        becomes        Total coliform   Present

so that whatever reads the line afterwards finds a name and its result. Where no box is ticked, or
more than one, or nobody can tell which answer a box belongs to, the line is left unread.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from ..answers import OPPOSITE
from .boxes import Piece, part_of, pieces_of, placed, ticks_of
from .cells import Cell, Line, join
from .context import Context
from .tokens import analyte_in, analytes_within, microbial, value_of

_ANSWERS = frozenset({"absent", "present"})
_JUDGES = frozenset({"meets", "fails"})
_COUNT = re.compile(r"(?i)^(?:count|number|mpn|cfu|colonies)\b\D{0,12}\d")
"""A count beside the boxes."""
_CHOICE = re.compile(r"\s*(?:/|\||,|;|-|–|\bor\b)?\s*")
"""What stands between two answers that are offered without boxes."""
_NEAR = 1.6
"""How far a line of answers may stand below the one before, in heights of a line."""
_ALIGNED = 8.0
_LONGEST = 12
"""A line of more words is a sentence."""


class _Offer(NamedTuple):
    """The answers that are offered together for one name."""

    label: Cell | None
    pieces: list[Piece]
    lines: list[Line]


def with_answers(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put the ticked answers in the place of the boxes; return the lines that are left."""
    found: dict[int, list[_Offer]] = {}
    gone: set[int] = set()
    for at, line in enumerate(lines):
        offers = _offers(line)
        if offers:
            found[at] = offers
            if len(offers) == 1 and at + 1 < len(lines) and _wraps(offers[0], lines[at + 1]):
                gone.add(at + 1)
    if not found:
        return lines
    fresh: dict[int, list[Line]] = {}
    for at, offers in found.items():
        if at in gone:
            continue
        below = _stacked(lines, at, found) if len(offers) == 1 else []
        gone |= set(below)
        whole = [_joined(offers[0], [found[n][0] for n in below])] if below else offers
        above = lines[at - 1] if at else None
        fresh[at] = list(_settled(lines[at], whole, above, context))
        if above is not None and any(_is_above(above, f) for f in fresh[at]):
            gone.add(at - 1)
    return [
        kept for at, line in enumerate(lines) if at not in gone for kept in fresh.get(at, [line])
    ]


def _is_above(above: Line, made: Line) -> bool:
    """Whether a line was made with the name that stands above its answers."""
    return any(cell.line is above for cell in made.cells)


def _offers(line: Line) -> list[_Offer]:
    """Return what a line offers, parted where the next analyte is named."""
    pieces = pieces_of(line)
    if not any(p.what == "answer" for p in pieces) or len(pieces) < 2:
        return []
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
        asked = [p for p in part[first:] if p.what != "text"]
        if _is_offer(asked, part[first:], label, line):
            offers.append(_Offer(label, part[first:], [line]))
    return offers


def _names(text: str) -> bool:
    return analyte_in(text) is not None or bool(analytes_within(text))


def _is_offer(
    asked: Sequence[Piece], pieces: Sequence[Piece], label: Cell | None, line: Line
) -> bool:
    """Whether boxes stand beside answers, or a test of germs has two answers and no mark."""
    kinds = {p.told for p in asked if p.what == "answer"}
    if not kinds:
        return False
    for one, two in pairwise(pieces):
        if {one.what, two.what} == {"box", "answer"}:
            return True
        bare = one.what == two.what == "answer" and OPPOSITE[one.told] == two.told
        if bare and label is not None and len(line.text.split()) <= _LONGEST:
            between = one.cell.text[one.end : two.start] if one.cell is two.cell else None
            if between is not None and _CHOICE.fullmatch(between) and kinds <= _ANSWERS:
                return True
    return False


def _wraps(offer: _Offer, below: Line) -> bool:
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
    at = offer.pieces.index(box) + 1
    offer.pieces.insert(at, pieces[0]._replace(left=left, right=left + 1))
    return True


def _stacked(lines: Sequence[Line], at: int, found: dict[int, list[_Offer]]) -> list[int]:
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


def _joined(first: _Offer, others: Sequence[_Offer]) -> _Offer:
    pieces = [p for offer in (first, *others) for p in offer.pieces]
    lines = [line for offer in (first, *others) for line in offer.lines]
    return _Offer(first.label, pieces, lines)


def _settled(
    line: Line, offers: Sequence[_Offer], above: Line | None, context: Context
) -> Iterator[Line]:
    """Yield the lines that stand for one line and what it offers."""
    whole = [part for offer in offers for part in _parts(offer)]
    for offer in whole:
        label = offer.label or _label_above(offer, above)
        chosen = _chosen(offer)
        if label is None:
            kinds = {p.told for p in offer.pieces if p.what == "answer"}
            if kinds >= _ANSWERS:
                context.lost(join(line.cells), "no_label")
            elif len(whole) == 1:
                yield from offer.lines  # it judges, or tells of the well: no result
            continue
        if chosen is None or (chosen.told not in _ANSWERS and _is_germ(label)):
            why = "ticks_unclear" if chosen is None else "words_only"
            if chosen is None or not _is_valued(line, offer):
                words = offer.lines[0].text if offer.label else f"{label.text} {line.text}"
                context.lost(join(offer.lines[0].cells), why, words)
                if len(whole) == 1 and not _is_germ(label):
                    yield _without(line, offer)
                continue
        if len(whole) == 1 and offer.label is not None:
            yield _with_answer(line, offer, chosen, context)
        else:
            yield _apart(line, label, offer, chosen)


def _is_germ(label: Cell) -> bool:
    return any(microbial(match.slug) for _, _, match in analytes_within(label.text)) or (
        (match := analyte_in(label.text)) is not None and microbial(match.slug)
    )


def _is_valued(line: Line, offer: _Offer) -> bool:
    """Whether a line has a value beside the boxes, so that they only judge it."""
    taken = {id(p.cell) for p in offer.pieces if p.what != "text"}
    return any(value_of(c.text) is not None for c in line.cells if id(c) not in taken)


def _parts(offer: _Offer) -> list[_Offer]:
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
    return [_Offer(None, part, offer.lines) for part in parts]


def _label_above(offer: _Offer, above: Line | None) -> Cell | None:
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


def _chosen(offer: _Offer) -> Piece | None:
    """Return the ticked answer, if there is exactly one and nothing speaks against it."""
    told: list[tuple[Piece, str]] = []
    schemes = set()
    for line in offer.lines:
        pieces = [p for p in offer.pieces if p.cell.line is line]
        ticks = ticks_of(pieces)
        if ticks is None:
            return None
        told += ticks
        schemes.add(pieces[0].what)
    full = [piece for piece, state in told if state in {"full", "alone"}]
    if len(schemes) > 1 or any(state == "unclear" for _, state in told):
        return None
    offered = {piece.told for piece, _ in told}
    if len(full) != 1 or (len(told) == 1 and OPPOSITE[full[0].told] in offered):
        return None
    return full[0]


def _box_of(line: Line, piece: Piece) -> tuple[float, float, float, float]:
    cell = piece.cell
    return (
        (piece.left, cell.top, piece.right, cell.bottom)
        if line.sheet is None
        else (cell.left, cell.top, cell.right, cell.bottom)
    )


def _answer_cell(line: Line, offer: _Offer, chosen: Piece) -> Cell:
    """Return the chosen answer where the first answer stands; its own place is kept beside."""
    if line.sheet is not None:
        return Cell(chosen.text, _box_of(line, chosen), line, (), chosen.cell.source)
    first = min(offer.pieces, key=lambda p: p.left)
    answer = next(p for p in offer.pieces if p.what == "answer")
    right = max(answer.right, first.right)
    made = placed(chosen.text, (first.left, first.cell.top, right, first.cell.bottom), line)
    made.printed_at = _box_of(line, chosen)
    return made


def _with_answer(line: Line, offer: _Offer, chosen: Piece, context: Context) -> Line:
    """Put the chosen answer into its line."""
    made = _without(line, offer)
    for cell in list(made.cells):
        if _COUNT.match(cell.text):
            name = offer.label.text if offer.label else ""
            context.lost(cell, "not_understood", f"{name} {cell.text}")
            made.cells.remove(cell)
    value = _answer_cell(line, offer, chosen)
    if offer.label is None or chosen.told not in _ANSWERS:
        made.cells = sorted([*made.cells, value], key=lambda cell: cell.left)
        return made
    return _answered(made, offer.label, value)


def _answered(line: Line, label: Cell, value: Cell) -> Line:
    """Add the answer to a line that has the name already, and tell that it has one."""
    line.cells = sorted([*line.cells, value], key=lambda cell: cell.left)
    line.answer = (label, value)
    return line


def _without(line: Line, offer: _Offer) -> Line:
    """Take the boxes and answers out of their line; what else the line says stays."""
    taken = [p for p in offer.pieces if p.what != "text"]
    kept: list[Cell] = []
    for cell in line.cells:
        mine = [p for p in taken if p.cell is cell]
        if not mine:
            kept.append(cell)
            continue
        at = 0
        for start, end in (*((p.start, p.end) for p in mine), (len(cell.text), len(cell.text))):
            if cell.text[at:start].strip(" ,;:/|.-–\u2014"):
                kept.append(part_of(cell, at, start))
            at = end
    line.cells = kept
    return line


def _apart(line: Line, label: Cell, offer: _Offer, chosen: Piece) -> Line:
    """Return a line of its own for one name and its answer."""
    made = Line(line.index, page=line.page, sheet=line.sheet, plain_text=line.plain_text)
    made.top, made.bottom = line.top, line.bottom
    made.cells = [label]
    return _answered(made, label, _answer_cell(line, offer, chosen))
