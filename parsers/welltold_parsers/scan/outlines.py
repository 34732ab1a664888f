"""The ink of a form: straight strokes of boxes and rules, marks put by hand, rings round a word."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from .words import ink_of

Gray = NDArray[np.uint8]
Ink = NDArray[np.uint8]
Edges = tuple[int, int, int, int]
"""Left, top, right, bottom in pixels."""
_STRAIGHT = 0.45
"""Strokes of boxes and rules are at least so long, in heights of a line; a cross has none."""
_RULE = 4.5
"""Longer ones are rules of a table."""
_SOLID = 0.3
"""A filled box is at least so thick."""
_ZONE = 0.35
"""The upper and the lower part of a ring's height, in which its stroke runs over the word."""
_OVER = 0.7
"""It is seen over so much of the ring's width, above and below."""
_HIGHER = 1.25
"""A ring is so much higher than the letters in it; letters that touch are not."""
_WIDER = 0.8
"""It is so wide at least, in widths of its word."""
_MOST_HIGH, _MOST_WIDE = 4.0, 2.4


@dataclass(frozen=True, slots=True)
class Form:
    """The ink of a page, parted; all of one size, 255 where there is ink."""

    ink: Ink
    strokes: Ink
    """Straight and level: the upper and the lower edge of a box, or a rule to write on."""
    marks: Ink
    """All else, and what is filled."""


def form_of(picture: Gray, height: float) -> Form:
    """Return the ink of a page whose lines are ``height`` pixels high."""
    ink = np.where(ink_of(picture), 255, 0).astype(np.uint8)
    long, thick = max(round(_STRAIGHT * height), 5), max(round(_SOLID * height), 4)
    level = _opened(ink, (1, long))
    strokes = cv2.bitwise_or(level, _opened(ink, (long, 1)))
    solid = _opened(ink, (thick, thick))
    edges = cv2.dilate(cv2.subtract(strokes, solid), np.ones((3, 3), np.uint8))
    marks = cv2.bitwise_or(cv2.subtract(ink, edges), solid)
    level = np.asarray(cv2.subtract(level, _opened(ink, (1, round(_RULE * height)))), np.uint8)
    return Form(ink, level, np.asarray(marks, np.uint8))


def _opened(ink: Ink, size: tuple[int, int]) -> Ink:
    return np.asarray(cv2.morphologyEx(ink, cv2.MORPH_OPEN, np.ones(size, np.uint8)), np.uint8)


def share(ink: Ink, edges: Edges, height: float) -> float:
    """Return how much ink lies within edges, in squares of a line's height."""
    left, top, right, bottom = edges
    part = ink[max(top, 0) : max(bottom, 0), max(left, 0) : max(right, 0)]
    return float(np.count_nonzero(part)) / max(height * height, 1.0)


def is_ringed(form: Form, word: Edges, others: tuple[float, ...]) -> bool:
    """Whether one stroke goes round a word, and round none of the ``others`` (their middles)."""
    left, top, right, bottom = word
    tall, wide = bottom - top, right - left
    near = (max(left - tall, 0), max(top - tall, 0), right + tall, bottom + tall)
    part = form.ink[near[1] : near[3], near[0] : near[2]]
    if not part.size:
        return False
    count, marks, boxes, _ = cv2.connectedComponentsWithStats(part, connectivity=8)
    letters = _letter_height(boxes[1:count], tall)
    middle = (left + right) / 2 - near[0]
    for at, (x, y, across, down, _) in enumerate(boxes[1:count].tolist(), start=1):
        holds_other = any(x < other - near[0] < x + across for other in others)
        fits = _WIDER * wide <= across <= _MOST_WIDE * wide + tall
        fits = fits and _HIGHER * letters <= down <= _MOST_HIGH * letters
        if not fits or holds_other or not x < middle < x + across:
            continue
        if _is_round(marks[y : y + down, x : x + across] == at):
            return True
    return False


def _letter_height(boxes: NDArray[np.integer | np.floating], tall: int) -> float:
    """Return how high the letters in a window are; those that touch a ring are left out."""
    heights = [down for _, _, across, down, _ in boxes.tolist() if across < 1.5 * down]
    letters = [down for down in heights if 0.3 * tall < down < 1.2 * tall]
    return float(np.percentile(letters, 80)) if len(letters) > 2 else 0.7 * tall


def _is_round(mark: NDArray[np.bool_]) -> bool:
    """Whether a mark runs above and below over most of its width."""
    tall = mark.shape[0]
    zone = max(round(_ZONE * tall), 1)
    above, below = mark[:zone].any(axis=0), mark[-zone:].any(axis=0)
    return float(above.mean()) >= _OVER and float(below.mean()) >= _OVER
