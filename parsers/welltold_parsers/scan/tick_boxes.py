"""Finds the boxes that a form prints before what can be ticked, and whether each holds a mark.

A reader of print drops such a box, or takes it for a letter; what stands behind an empty one would
then look like something that the sheet says: "[ ] E. coli bacteria were found".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold_parsers.geometry import Word

from .answer_words import holds_answer
from .words import ink_of

Gray = NDArray[np.uint8]
_STROKE = 0.42
"""The sides of a box are straight over so much of a line's height at least."""
_SIDE = (0.5, 1.6)
"""How long they are, in heights of a line."""
_SQUARE = 1.3
"""The longer side is at most so many times the shorter."""
_BAND = 0.2
"""So near to its edge, in shares of its side, lies the stroke of a side."""
_INNER = 0.25
"""The inside begins there."""
_DRAWN = 0.85
"""A side is drawn over so much of its length."""
_TIP, _CORNER = 0.14, 0.25
"""Ink over so much of each corner, that is so large in shares of a side."""
_APART = 0.17
"""Paper on either side, in heights of a line; between the letters of a word there is less."""
_SPECKS = 0.04
"""Less ink is none."""
_MARKED = 0.1
"""Ink over so much of the inside is a mark."""
_BEFORE = 2.2
"""A box stands so near before its word, in heights of a line."""
_LOOKS = frozenset("\u25a1\u2610\u2611\u2612\u25a0\u22a0\u00d7[]")
_LETTERS = frozenset("OoDXxB08KRMN")
"""What a box is read as."""
_NARROW = 0.36
"""Letters of a word are not narrower than this share of its height, in the mean."""


class TickBox(NamedTuple):
    """One box on a page, in points."""

    left: float
    top: float
    right: float
    bottom: float
    marked: bool


def with_tick_boxes(
    words: Sequence[Word], picture: Gray, scale: float, on_end: Sequence[Word] = ()
) -> list[Word]:
    """Return the words of a page with "\u2610" and "\u2612" for the boxes that stand before a word.

    Boxes of answers, whose signs are told by `chosen`, are left to it. ``scale`` is pixels a point;
    letters of words that stand ``on_end`` are none.
    """
    if not words:
        return []
    height = float(np.median([word.bottom - word.top for word in words]))
    told = list(words)
    for one in boxes_of(picture, height * scale):
        left, top, right, bottom = (edge / scale for edge in one[:4])
        box = TickBox(left, top, right, bottom, one.marked)
        if any(word.left < right and left < word.right and _is_level(word, box) for word in on_end):
            continue
        rest = [part for word in told for part in _without(word, box)]
        behind = _behind(box, rest)
        if behind is not None and not holds_answer(behind.text):
            text = "\u2612" if box.marked else "\u2610"
            sign = Word(text, box.left, behind.top, box.right, behind.bottom)
            told = [*rest[: rest.index(behind)], sign, *rest[rest.index(behind) :]]
    return told


def boxes_of(picture: Gray, height: float) -> Iterator[TickBox]:
    """Yield the boxes of a picture in pixels; ``height`` is that of a line's letters."""
    ink = ink_of(picture).astype(np.uint8)
    long = max(round(_STROKE * height), 5)
    level = cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones((1, long), np.uint8))
    upright = cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones((long, 1), np.uint8))
    strokes = cv2.dilate(cv2.bitwise_or(level, upright), np.ones((3, 3), np.uint8))
    count, _, places, _ = cv2.connectedComponentsWithStats(strokes, connectivity=8)
    for x, y, wide, tall, _ in places[1:count].tolist():
        if not _is_size(wide - 2, height) or max(wide, tall) > _SQUARE * min(wide, tall):
            continue
        left, top, right, bottom = x + 1, y + 1, x + wide - 1, y + tall - 1
        apart = max(round(_APART * height), 2)
        beside = (
            ink[top:bottom, max(left - apart, 0) : left - 1],
            ink[top:bottom, right + 1 : right + apart],
        )
        if _is_drawn(ink[top:bottom, left:right]) and not any(_holds_ink(one) for one in beside):
            band = round(_INNER * wide)
            inside = ink[top + band : bottom - band, left + band : right - band]
            marked = bool(inside.size) and float(inside.mean()) > _MARKED
            yield TickBox(left, top, right, bottom, marked)


def _holds_ink(part: NDArray[np.uint8]) -> bool:
    return bool(part.size) and float(part.mean()) > _SPECKS


def _is_size(side: float, height: float) -> bool:
    return _SIDE[0] * height <= side <= _SIDE[1] * height


def _is_drawn(part: NDArray[np.uint8]) -> bool:
    """Whether ink runs along all four sides of a part of a picture."""
    band = max(round(_BAND * min(part.shape)), 2)
    sides = (
        part[:band].any(axis=0), part[-band:].any(axis=0),
        part[:, :band].any(axis=1), part[:, -band:].any(axis=1),
    )  # fmt: skip
    tip = max(round(_TIP * min(part.shape)), 2)
    corners = (part[:tip, :tip], part[:tip, -tip:], part[-tip:, :tip], part[-tip:, -tip:])
    # Letters such as O and D are round where a box has its corners.
    return all(float(side.mean()) >= _DRAWN for side in sides) and all(
        float(corner.mean()) >= _CORNER for corner in corners
    )


def _without(word: Word, box: TickBox) -> Iterator[Word]:
    """Yield a word without the box in it, if anything is left."""
    if not _is_level(word, box) or box.right < word.left or box.left > word.right - 1:
        yield word
        return
    tall = word.bottom - word.top
    if box.left > word.left + 0.3 * tall:  # the box stands behind some of its letters
        shares = (box.left - word.left) / (word.right - word.left)
        if set(word.text[round(shares * len(word.text)) :]) & (_LOOKS | _LETTERS):
            yield replace(word, text=word.text[: round(shares * len(word.text))], right=box.left)
        else:
            yield word
        return
    text = word.text
    wide = (word.right - box.right) / max(len(text), 1)
    if text[0] in _LOOKS or (text[0] in _LETTERS and wide < _NARROW * tall):
        text = text[1:]
    if text and word.right > box.right + 1:
        yield replace(word, text=text, left=box.right + 1)


def _is_level(word: Word, box: TickBox) -> bool:
    return word.top < (box.top + box.bottom) / 2 < word.bottom


def _behind(box: TickBox, words: Sequence[Word]) -> Word | None:
    """Return the word before which a box stands."""
    behind = [
        word
        for word in words
        if _is_level(word, box)
        and -1 <= word.left - box.right <= _BEFORE * (word.bottom - word.top)
        and any(c.isalnum() for c in word.text)
    ]
    return min(behind, key=lambda word: word.left, default=None)
