"""Tells ticked boxes and circled words of a picture as signs: "☒" for chosen, "☐" for not.

What is chosen is told by the mark's ink alone, compared with the place beside the other answer, and
never by the printed words. Where no answer is marked, more than one, or nobody can tell, none is
told as chosen, and the row is left unread.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from welltold_parsers.geometry import Word

from .answer_words import Answer, groups_of, is_typed, rest_of
from .outlines import Edges, Form, Ink, is_ringed, share

_REACH = 2.6
"""Heights of a line from an answer, within which its box lies."""
_DRAWN = 0.06
"""So much of level strokes is a box or a rule to be marked, in squares of a line's height."""
_MARKED, _BARE = 0.07, 0.03
"""So much of other ink is a mark, and so little is none; the same unit."""
_OVER = 0.25
"""Marks stick out above and below their line by this share of its height."""
_BEFORE = (3.0, 1.0)
"""Points before an answer in which its sign is told."""


def with_signs(words: Sequence[Word], form: Form, scale: float) -> list[Word]:
    """Return the words of a page with signs before answers that are to be marked.

    ``scale`` is pixels a point.
    """
    told = list(words)
    for group in groups_of(words):
        beside = [w for w in words if any(_is_beside(w, one.word) for one in group)]
        if is_typed(beside, group):
            continue
        ringed = _ringed(group, form, scale)
        slots = None if any(ringed) else _slots(group, beside, form, scale)
        if slots is None and not any(ringed):
            continue
        marked = ringed if slots is None else slots[1]
        taken = {id(word) for word in (slots[0] if slots else ())}
        taken |= {id(one.source) for one in group}
        rest = {id(one.source): rest_of(one) for one in group}
        told = [word for word in told if id(word) not in taken]
        told += [word for word in rest.values() if word is not None]
        for one, is_marked in zip(group, marked, strict=True):
            told += [_sign(one.word, chosen=is_marked and sum(marked) == 1), one.word]
    return told


def _is_beside(word: Word, other: Word) -> bool:
    return other.top < (word.top + word.bottom) / 2 < other.bottom


def _sign(word: Word, *, chosen: bool) -> Word:
    far, near = _BEFORE
    sign = "☒" if chosen else "☐"
    return replace(word, text=sign, left=word.left - far, right=word.left - near)


def _ringed(group: Sequence[Answer], form: Form, scale: float) -> list[bool]:
    middles = [(one.word.left + one.word.right) / 2 * scale for one in group]
    return [
        is_ringed(form, _edges(one.word, scale), tuple(m for m in middles if m != middles[at]))
        for at, one in enumerate(group)
    ]


def _edges(word: Word, scale: float) -> Edges:
    left, top, right, bottom = (
        round(edge * scale) for edge in (word.left, word.top, word.right, word.bottom)
    )
    return left, top, right, bottom


def _slots(
    group: Sequence[Answer], beside: Sequence[Word], form: Form, scale: float
) -> tuple[list[Word], list[bool]] | None:
    """Return the words that are boxes, and which answers are marked; None where no box is drawn.

    Boxes stand before all answers, or behind all of them; where they do not, none is marked.
    """
    found, some = [], False
    for before in (True, False):
        places = [_slot(one, group, beside, before=before) for one in group]
        level = [_ink(form.strokes, place, scale) for place in places]
        # A mark can hide the rule or box below it.
        marks = [_ink(form.marks, place, scale) for place in places]
        drawn = [one + other for one, other in zip(level, marks, strict=True)]
        some = some or max(level) >= _DRAWN or max(marks) >= _MARKED
        if min(drawn) >= _DRAWN <= max(level):
            found.append((places, _marked(places, form, scale)))
    if not some:
        return None
    if len(found) != 1:
        return [], [False] * len(group)
    places, marked = found[0]
    inside = [
        word
        for word in beside
        if not _is_text(word, group) and any(_holds(place, word) for place in places)
    ]
    return inside, marked


def _ink(ink: Ink, place: Word, scale: float) -> float:
    over = _OVER * (place.bottom - place.top)
    high = replace(place, top=place.top - over, bottom=place.bottom + over)
    return share(ink, _edges(high, scale), (place.bottom - place.top) * scale)


def _marked(places: Sequence[Word], form: Form, scale: float) -> list[bool]:
    """Return which places hold a mark; none where one of them cannot be told."""
    inks = [_ink(form.marks, place, scale) for place in places]
    if any(_BARE < ink < _MARKED for ink in inks):
        return [False] * len(places)
    return [ink >= _MARKED for ink in inks]


def _slot(answer: Answer, group: Sequence[Answer], beside: Sequence[Word], *, before: bool) -> Word:
    """Return the place before or behind an answer, as far as the next text."""
    word = answer.word
    tall = word.bottom - word.top
    edges = [(o.left, o.right) for o in _texts(beside, group) if _is_beside(o, word)]
    if before:
        near = [right for _, right in edges if right <= word.left + 0.1]
        left = max([word.left - _REACH * tall, *(x + 0.15 * tall for x in near)])
        return replace(word, text="", left=left, right=word.left - 0.1 * tall)
    near = [left for left, _ in edges if left >= word.right - 0.1]
    right = min([word.right + _REACH * tall, *(x - 0.1 * tall for x in near)])
    return replace(word, text="", left=word.right + 0.1 * tall, right=right)


def _texts(beside: Sequence[Word], group: Sequence[Answer]) -> Iterator[Word]:
    """Yield the words of a row that are no mark or box."""
    sources = {id(one.source) for one in group}
    yield from (one.word for one in group)
    for word in beside:
        if id(word) not in sources and _is_text(word, group):
            yield word


def _is_text(word: Word, group: Sequence[Answer]) -> bool:
    return sum(c.isalnum() for c in word.text) > 1 or any(word is one.source for one in group)


def _holds(place: Word, word: Word) -> bool:
    return place.left <= (word.left + word.right) / 2 <= place.right
