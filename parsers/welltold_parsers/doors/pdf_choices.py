"""Tick boxes that are drawn and words that are circled, told as words: "☒", "☐", "[?]".

Looked for only on pages that offer an answer and its opposite, such as "Absent" and "Present", and
kept only beside or below such a word: other small squares are bullets, logos and legends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from welltold_parsers.answers import OPPOSITE, answers_in, may_answer, offers_answers
from welltold_parsers.doors.pdf_shapes import shapes_of, ticked
from welltold_parsers.doors.pdf_turned import turned_box
from welltold_parsers.geometry import Box, Word

if TYPE_CHECKING:
    import pypdfium2

_SIGN = {True: "☒", False: "☐", None: "[?]"}
_SIGNS = frozenset("☒☑☐□◻○❏❑❒◯▢")
"""Boxes that are letters of the text or fields of the form, and are told already."""
_MARKS = frozenset(["x", "X", "✓", "✔", "✗", "✘", "✕", "✖", "☓", "■", "●", "•", "*", "×", "\ufffd"])
_BESIDE = 20.0
"""Points between a box and the answer that it may belong to."""
_BELOW = 12.0
"""How far the middle of a box may stand beside the answer that is its column's head."""
_BEFORE = (3.0, 1.0)
"""Points before a circled word in which its sign is told."""
_ROUND = 2.5
"""A ring round one word is at most so many times as wide, and twenty points."""


def with_choices(page: pypdfium2.PdfPage, words: tuple[Word, ...], turn: int) -> tuple[Word, ...]:
    """Return the words of a page with a sign for each box beside an answer and each circled word.

    ``turn``: degrees by which the words were turned after the page was seen.
    """
    if not offers_answers([word.text for word in words]):
        return words
    squares, rings = shapes_of(page)
    if not squares and not rings:
        return _crossed(words)
    size = page.get_size()
    answers = list(_answers(words))
    told = _crossed(words)
    places = [turned_box(box, turn // 90, *size) for box in squares]
    kept = [
        (box, place)
        for box, place in zip(squares, places, strict=True)
        if any(_belongs(place, answer) for answer, _ in answers)
    ]
    states = ticked(page, [box for box, _ in kept])
    for (_, place), state in zip(kept, states, strict=True):
        told = _told(told, place, answers, _SIGN[state])
    circles = [turned_box(box, turn // 90, *size) for box in rings]
    return _circled(told, answers, circles)


def _answers(words: Sequence[Word]) -> Iterator[tuple[Word, str]]:
    """Yield each answer as one word with its box, "NOT DETECTED" too, and its kind."""
    for at, word in enumerate(words):
        if not may_answer(word.text):
            continue
        before = words[at - 1] if at else None
        if before is not None and abs(before.top - word.top) < 2 and before.right < word.left:
            both = f"{before.text} {word.text}"
            whole = [a for a in answers_in(both) if a.start < len(before.text) < a.end]
            if whole:
                box = (before.left, min(word.top, before.top), word.right)
                yield Word(both, *box, max(word.bottom, before.bottom)), whole[0].kind
                continue
        wide = (word.right - word.left) / max(len(word.text), 1)
        for answer in answers_in(word.text):
            left, right = word.left + wide * answer.start, word.left + wide * answer.end
            text = word.text[answer.start : answer.end]
            yield Word(text, left, word.top, right, word.bottom), answer.kind


def _belongs(box: Box, answer: Word) -> bool:
    """Whether a box stands beside an answer, or below it as below the head of a column."""
    left, top, right, bottom = box
    middle = (top + bottom) / 2
    if answer.top <= middle <= answer.bottom:
        return -_BESIDE < answer.left - right < _BESIDE or -_BESIDE < left - answer.right < _BESIDE
    return middle > answer.bottom and abs(left + right - answer.left - answer.right) < 2 * _BELOW


def _told(
    words: tuple[Word, ...], box: Box, answers: Sequence[tuple[Word, str]], sign: str
) -> tuple[Word, ...]:
    """Return the words with the sign of one box, without the mark that is set in it."""
    inside = [word for word in words if _holds(box, word)]
    if any(word.text in _SIGNS for word in inside):
        return words
    if any(word.text not in _MARKS for word in inside):
        return words  # a letter in a square of its own, as in a date or in a small cell
    row = next((a for a, _ in answers if a.top <= (box[1] + box[3]) / 2 <= a.bottom), None)
    top, bottom = (row.top, row.bottom) if row else (box[1], box[3])
    told = Word(_SIGN[True] if inside else sign, box[0], top, box[2], bottom)
    return (*(word for word in words if word not in inside), told)


def _holds(box: Box, word: Word) -> bool:
    across, down = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return box[0] <= across <= box[2] and box[1] - 2 <= down <= box[3] + 2


def _crossed(words: tuple[Word, ...]) -> tuple[Word, ...]:
    """Return the words with each empty box that a mark is printed over made one ticked box."""
    boxes = [word for word in words if word.text in _SIGNS]
    marks = [word for word in words if word.text in _MARKS] if boxes else []
    pairs = [(b, m) for m in marks for b in boxes if _holds((b.left, b.top, b.right, b.bottom), m)]
    if not pairs:
        return words
    gone = {id(mark) for _, mark in pairs}
    full = {id(box) for box, _ in pairs}
    return tuple(
        Word("☒", w.left, w.top, w.right, w.bottom) if id(w) in full else w
        for w in words
        if id(w) not in gone
    )


def _circled(
    words: tuple[Word, ...], answers: Sequence[tuple[Word, str]], rings: Sequence[Box]
) -> tuple[Word, ...]:
    """Return the words with a sign before each circled answer and before its opposite."""
    chosen = [(a, kind) for a, kind in answers if any(_round(ring, a, answers) for ring in rings)]
    signs: list[Word] = []
    for answer, kind in chosen:
        signs.append(_before(answer, ticked=True))
        others = [
            a
            for a, k in answers
            if k == OPPOSITE[kind] and a.top < answer.bottom and a.bottom > answer.top
        ]
        nearest = min(others, key=lambda a: abs(a.left - answer.left), default=None)
        if nearest is not None and not any(nearest is a for a, _ in chosen):
            signs.append(_before(nearest, ticked=False))
    return (*_parted(words, signs), *signs) if signs else words


def _round(ring: Box, answer: Word, answers: Sequence[tuple[Word, str]]) -> bool:
    """Whether a ring goes round one answer and no other."""
    held = [a for a, _ in answers if _holds(ring, a)]
    wide = answer.right - answer.left
    return held == [answer] and 0.6 * wide < ring[2] - ring[0] < _ROUND * wide + 20


def _before(answer: Word, *, ticked: bool) -> Word:
    far, near = _BEFORE
    return Word(_SIGN[ticked], answer.left - far, answer.top, answer.left - near, answer.bottom)


def _parted(words: tuple[Word, ...], signs: Sequence[Word]) -> Iterator[Word]:
    """Yield the words, those cut in two in which a sign stands: "PRESENT/ABSENT"."""
    for word in words:
        found = answers_in(word.text)
        inside = [s for s in signs if word.left < s.left < word.right and s.top == word.top]
        if len(found) < 2 or not inside:
            yield word
            continue
        wide = (word.right - word.left) / len(word.text)
        for answer in found:
            left, right = word.left + wide * answer.start, word.left + wide * answer.end
            text = word.text[answer.start : answer.end]
            yield Word(text, left, word.top, right, word.bottom, word.confidence)
