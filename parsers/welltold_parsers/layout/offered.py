"""Puts the ticked answer in the place of the boxes and answers that a form offers.

    Total coliform   ☐ Absent   ☒ Present        becomes        Total coliform   Present

so that whatever reads the line afterwards finds a name and its result. Where no box is ticked, or
more than one, or nobody can tell which answer a box belongs to, the line is left unread.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from ..geometry import Box
from .boxes import Piece, part_of, placed, ticks_of
from .cells import Cell, Line, join
from .context import Context
from .distinct import texts_in
from .offers import (
    ANSWERS,
    Offer,
    joined,
    label_above,
    may_offer,
    offers_of,
    parts_of,
    stacked,
    wraps,
)
from .tokens import analyte_in, analytes_within, microbial, value_of

_SAID = ANSWERS | {"meets", "fails"}
_COUNT = re.compile(r"(?i)^(?:count|number|mpn|cfu|colonies)\b\D{0,12}\d")
"""A count beside the boxes."""


def with_answers(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put the ticked answers in the place of the boxes; return the lines that are left."""
    if not may_offer(lines[:1], texts_in(lines)):
        return lines
    found: dict[int, list[Offer]] = {}
    gone: set[int] = set()
    for at, line in enumerate(lines):
        offers = offers_of(line)
        if offers:
            found[at] = offers
            if len(offers) == 1 and at + 1 < len(lines) and wraps(offers[0], lines[at + 1]):
                gone.add(at + 1)
    if not found:
        return lines
    fresh: dict[int, list[Line]] = {}
    for at, offers in found.items():
        if at in gone:
            continue
        below = stacked(lines, at, found) if len(offers) == 1 else []
        gone |= set(below)
        whole = [joined(offers[0], [found[n][0] for n in below])] if below else offers
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


def _settled(
    line: Line, offers: Sequence[Offer], above: Line | None, context: Context
) -> Iterator[Line]:
    """Yield the lines that stand for one line and what it offers."""
    whole = [part for offer in offers for part in parts_of(offer)]
    for offer in whole:
        label = offer.label or label_above(offer, above)
        chosen = _chosen(offer)
        if label is None:
            if offer.kinds >= ANSWERS:
                context.lost(join(line.cells), "no_label")
            elif len(whole) == 1:
                yield from offer.lines  # it judges, or tells of the well: no result
            continue
        if not _is_germ(label) and not offer.kinds & _SAID:
            yield from [_without(line, offer)] if len(whole) == 1 else ()  # asks, tells no result
            continue
        why = _unread(line, offer, chosen)
        if why is not None:
            words = offer.lines[0].text if offer.label else f"{label.text} {line.text}"
            context.lost(join(offer.lines[0].cells), why, words)
            continue
        if chosen is None:
            yield from [_without(line, offer)] if len(whole) == 1 else ()
            continue
        if len(whole) == 1 and offer.label is not None:
            yield _with_answer(line, offer, chosen, context)
        else:
            yield _apart(line, label, offer, chosen)


def _unread(line: Line, offer: Offer, chosen: Piece | None) -> str | None:
    """Return why nothing may be read from a line, if so.

    A number beside boxes that judge it is a result all the same. Beside boxes that say what was
    found it may be a limit, and is none.
    """
    if offer.kinds & ANSWERS:
        return "ticks_unclear" if chosen is None else None
    if _is_valued(line, offer):
        return None
    return "ticks_unclear" if chosen is None else "words_only"


def _is_germ(label: Cell) -> bool:
    return any(microbial(match.slug) for _, _, match in analytes_within(label.text)) or (
        (match := analyte_in(label.text)) is not None and microbial(match.slug)
    )


def _is_valued(line: Line, offer: Offer) -> bool:
    """Whether a line has a value beside the boxes, so that they only judge it."""
    taken = {id(p.cell) for p in offer.pieces if p.what != "text"}
    if any(value_of(c.text) is not None for c in line.cells if id(c) not in taken):
        return True
    words = offer.label.text.split() if offer.label else []
    ends = [end for _, end, _ in analytes_within(" ".join(words))]
    behind = " ".join(words[ends[-1] :]).lstrip(" :=-") if ends else ""
    return bool(behind) and value_of(behind) is not None


def _chosen(offer: Offer) -> Piece | None:
    """Return the ticked answer, if there is exactly one and nothing speaks against it."""
    told: list[tuple[Piece, str]] = []
    schemes = set()
    for pieces in offer.rows:
        ticks = ticks_of(pieces)
        if ticks is None:
            return None
        told += ticks
        schemes.add(pieces[0].what)
    full = [piece for piece, state in told if state in {"full", "alone"}]
    if len(schemes) > 1 or any(state == "unclear" for _, state in told):
        return None
    return full[0] if len(full) == 1 else None


def _box_of(piece: Piece) -> Box:
    cell = piece.cell
    if piece.end - piece.start == len(cell.text):
        return cell.left, cell.top, cell.right, cell.bottom
    return piece.left, cell.top, piece.right, cell.bottom


def _answer_cell(line: Line, offer: Offer, chosen: Piece) -> Cell:
    """Return the chosen answer where the first answer stands; its own place is kept beside."""
    if line.sheet is not None:
        cell = chosen.cell
        box = (cell.left, cell.top, cell.right, cell.bottom)
        return Cell(chosen.text, box, line, (), cell.source)
    first = min(offer.pieces, key=lambda p: p.left)
    answer = next(p for p in offer.pieces if p.what == "answer")
    right = max(answer.right, first.right)
    made = placed(chosen.text, (first.left, first.cell.top, right, first.cell.bottom), line)
    made.printed_at = _box_of(chosen)
    return made


def _with_answer(line: Line, offer: Offer, chosen: Piece, context: Context) -> Line:
    """Put the chosen answer into its line."""
    made = _without(line, offer)
    for cell in list(made.cells):
        if _COUNT.match(cell.text):
            name = offer.label.text if offer.label else ""
            context.lost(cell, "not_understood", f"{name} {cell.text}")
            made.cells.remove(cell)
    value = _answer_cell(line, offer, chosen)
    if offer.label is None or chosen.told not in ANSWERS:
        made.cells = sorted([*made.cells, value], key=lambda cell: cell.left)
        return made
    return _answered(made, offer.label, value)


def _answered(line: Line, label: Cell, value: Cell) -> Line:
    """Add the answer to a line that has the name already, and tell that it has one."""
    line.cells = sorted([*line.cells, value], key=lambda cell: cell.left)
    line.answer = (label, value)
    return line


def _without(line: Line, offer: Offer) -> Line:
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


def _apart(line: Line, label: Cell, offer: Offer, chosen: Piece) -> Line:
    """Return a line of its own for one name and its answer."""
    made = Line(line.index, page=line.page, sheet=line.sheet, plain_text=line.plain_text)
    made.top, made.bottom = line.top, line.bottom
    made.cells = [label]
    return _answered(made, label, _answer_cell(line, offer, chosen))
