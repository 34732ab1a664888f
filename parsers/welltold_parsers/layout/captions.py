"""Reads cards that say "Your result" over each number, wherever the name stands beside it.

    Iron            Your result          Lead            Your result
    stains           0.61 mg/L           heavy metal    Not detected
    0    0.15    0.3    0.45             0   0.0075   0.015   0.0225
    we can see down to 0.01 mg/L         detection level 0.001 mg/L

The caption tells which number is the result; numbers along a bar, limits and advice are none. Each
card becomes a line with its name, its result, and the least that the laboratory can see.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from .cells import Cell, Line, join
from .context import Context
from .headings import cell_of
from .tokens import analyte_in, label_of, microbial, unit_of, value_of

_CAPTION = re.compile(
    r"(?i)(?:your|our|the) (?:(?:water|lab|test) )?(?:results?|levels?|readings?|water has)"
    r"|we (?:found|measured|saw)|(?:su|tu) resultado|test result"
)
_DOWN_TO = re.compile(
    r"(?i)\b(?:(?:detection|reporting) (?:level|limit)s?[:\s]+<?\s?"
    r"|(?:see|detect|measure|report|read|find) (?:it )?(?:down to|from|as little as|as low as) "
    r"|(?:lowest|least|smallest|minimum) (?:\w+ )?(?:that )?"
    r"(?:(?:we|the lab(?:oratory)?|our lab) )?(?:can |could )?"
    r"(?:report|detect|measure|see|find)(?:ed|s)?[:\s]+<?\s?)"
    r"(?P<least>\.?\d[\d.]*)(?:\s?(?P<unit>\S+))?"
)
_BASIS = re.compile(r"(?i)as [a-z]")
_FEWEST = 3
"""Captions on a page."""
_ALIGNED = 6.0
_UP, _DOWN = 2.5, 2.5
"""How far the name may stand above the caption, and the result below, in heights of a caption."""


@dataclass(slots=True)
class _Card:
    caption: Cell
    left: float
    """Where its column begins, and the next one."""
    right: float
    name: Cell | None = None
    value: Cell | None = None
    bottom: float = float("inf")
    basis: Cell | None = None
    limit: tuple[Cell, Cell | None] | None = None
    taken: list[Cell] = field(default_factory=list)


def with_captions(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put a line for each card in the place of cards with captions; return all lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    found = [c for line in lines for c in line.cells if _CAPTION.fullmatch(c.text.rstrip(":"))]
    cells = [c for line in lines for c in line.cells]
    cards = _cards(found, cells) if len(found) >= _FEWEST else []
    if sum(card.value is not None for card in cards) < max(_FEWEST, 0.7 * len(cards)):
        return lines
    made: dict[int, list[Line]] = {}
    gone: set[int] = set()
    for card in cards:
        made.setdefault(id(card.caption.line), []).extend(_line_of(card, context))
        gone |= set(map(id, card.taken))
    for line in lines:
        line.cells = [c for c in line.cells if id(c) not in gone]
    whole = [one for line in lines for one in (*made.get(id(line), ()), line)]
    return [line for line in whole if line.cells]


def _cards(found: Sequence[Cell], cells: Sequence[Cell]) -> list[_Card]:
    """Return the card of each caption, with what stands in it."""
    names = {id(c): c for caption in found if (c := _name(caption, cells)) is not None}
    lefts: list[float] = []
    for left in sorted(c.left for c in names.values()):
        if not lefts or left - lefts[-1] > _ALIGNED:
            lefts.append(left)
    cards = []
    for caption in sorted(found, key=lambda c: (c.top, c.left)):
        at = sum(left <= caption.left + _ALIGNED for left in lefts) - 1
        if at < 0:
            continue
        right = lefts[at + 1] - _ALIGNED if at + 1 < len(lefts) else float("inf")
        card = _Card(caption, lefts[at] - _ALIGNED, right)
        inside = [c for c in cells if card.left <= c.left and c.right <= card.right]
        card.name = _name(caption, inside)
        card.value = _value(card, inside)
        cards.append(card)
    _fill(cards, cells)
    return cards


def _tall(cell: Cell) -> float:
    return cell.bottom - cell.top


def _name(caption: Cell, cells: Sequence[Cell]) -> Cell | None:
    """Return the name that stands above a caption or beside it, to the left."""
    near = [
        c
        for c in cells
        if c.left <= caption.left + _ALIGNED
        and -_UP * _tall(caption) <= c.top - caption.top <= 0.7 * _tall(caption)
        and _is_name(c.text)
    ]
    return max(near, key=lambda c: (c.left, c.top), default=None)


def _is_name(text: str) -> bool:
    return analyte_in(text) is not None or label_of(text).match is not None


def _value(card: _Card, inside: Sequence[Cell]) -> Cell | None:
    """Return the result right below a caption, with the unit beside it."""
    caption = card.caption
    below = [
        c
        for c in inside
        if 0 < c.top + _tall(c) / 2 - (caption.top + _tall(caption) / 2) <= _DOWN * _tall(caption)
        and c.left < caption.right
        and c.right > caption.left
        and c is not card.name
    ]
    if card.name is None or not below:
        return None
    first = min(below, key=lambda c: c.top)
    match = analyte_in(card.name.text) or label_of(card.name.text).match
    if value_of(first.text, letters=match is not None and microbial(match.slug)) is None:
        return None
    beside = [c for c in first.line.cells if first.right <= c.left and c in inside]
    unit = beside[0] if beside and unit_of(beside[0].text) is not None else None
    whole = join([first, unit] if unit is not None else [first])
    card.taken = [first, *([unit] if unit is not None else [])]
    return whole


def _fill(cards: Sequence[_Card], cells: Sequence[Cell]) -> None:
    """Give each card what else stands in it, to the top of the next one in its column."""
    for card in cards:
        top = min(card.caption.top, card.name.top if card.name is not None else float("inf"))
        below = [
            min(c.caption.top, c.name.top if c.name is not None else c.caption.top)
            for c in cards
            if c.left == card.left and c.caption.top > card.caption.top
        ]
        step = min((b - a for a, b in _steps(cards, card.left)), default=8 * _tall(card.caption))
        card.bottom = min([*below, top + 1.02 * step]) - 1.0
        for cell in cells:
            if card.left <= cell.left < card.right and top - 1.0 <= cell.top < card.bottom:
                card.taken.append(cell)
                if card.basis is None and _BASIS.match(cell.text):
                    card.basis = cell
                card.limit = least_told(cell) or card.limit


def least_told(cell: Cell) -> tuple[Cell, Cell | None] | None:
    """Return the least that the laboratory can see, with its unit, where a text on a card tells it.

    "We can detect from 1 ppb."
    """
    found = _DOWN_TO.search(cell.text)
    if found is None:
        return None
    unit = (found["unit"] or "").rstrip(".,;)")
    known = unit_of(unit) is not None
    return cell_of(cell, found["least"].rstrip(".")), cell_of(cell, unit) if known else None


def _steps(cards: Sequence[_Card], left: float) -> list[tuple[float, float]]:
    tops = sorted(c.caption.top for c in cards if c.left == left)
    return list(pairwise(tops))


def _line_of(card: _Card, context: Context) -> Iterator[Line]:
    """Yield the line of a card; one without a name or a result is told as not understood."""
    if card.name is None or card.value is None:
        texts = [c.text for c in card.taken[:6]]
        if any(ch.isdigit() for t in texts for ch in t):
            context.lost(card.caption, "not_understood", "  ".join(texts))
        return
    name = card.name
    if card.basis is not None:
        name = cell_of(name, f"{name.text} {card.basis.text}")
    at = card.caption.line
    line = Line(at.index, page=at.page, plain_text=at.plain_text)
    line.top, line.bottom = at.top, at.bottom
    line.cells = [name, card.value]
    line.answer = (name, card.value)
    line.least = card.limit
    yield line
