"""Finds the lines of a page, turns and levels it, and reads them once it is known how it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from welltold.messages import say

from .cut_off import touching
from .detect import Found, find_lines
from .level import Lean, corners_of, levelled, slope_of
from .poor import Poor, look_at_letters, look_at_print
from .recognise import Read, read_lines
from .rows import LOST, Straight, straightened
from .straight import Corners, quarter

Gray = NDArray[np.uint8]
_SIDEWAYS = 1.5
"""Areas of print so much taller than wide stand on their side."""
_STEEP = 0.02
"""A page that slopes more is levelled before its lines are found for good."""
_SURE = 0.95
_TRIED = 8
"""Lines that are read the other way round to see whether a page is upside down."""


@dataclass(frozen=True, slots=True)
class Lines:
    """A page made straight, with its lines."""

    picture: Gray
    areas: tuple[Found, ...]
    reads: tuple[Read, ...]
    turn: int
    softness: float
    """Width of the edges of letters, as a share of the height of their line."""
    cut: tuple[Found, ...] = ()
    """Areas that run over the edge of what the camera or scanner took in."""
    aslant: bool = False
    """Rows may still shift across the page, so that a name stands level with another's number."""


def upright(picture: Gray, before: Gray) -> Lines:
    """Find and read the lines of a page, turned so that they can be read.

    ``before`` is the page in its own light. Raises `Poor` where the first lines show that the rest
    need not be read.
    """
    turn, straight = _level(picture)
    page = straight.page
    softness = look_at_print(page.picture, page.areas, before)
    flipped, sure = _try_flipped(page.picture, page.areas)
    look_at_letters(sure, page.areas, before)
    if straight.shift > LOST:
        raise Poor(say("scan.aslant_page"))
    cut = touching(page.picture, page.areas, page.frame)
    picture, areas = page.picture, page.areas
    if flipped:
        turn += 180
        height, width = picture.shape
        picture = quarter(picture, 180)
        areas, cut = (
            [_opposite(one, width, height) for one in reversed(some)] for some in (areas, cut)
        )
    reads = read_lines([crop(picture, one) for one in areas])
    look_at_letters(_mean(reads), areas, before)
    return Lines(picture, tuple(areas), tuple(reads), turn, softness, tuple(cut), straight.doubtful)


def crop(picture: Gray, area: Found) -> Gray:
    """Return the part of a picture that an area covers."""
    top, left = max(int(area.top), 0), max(int(area.left), 0)
    part = picture[top : int(np.ceil(area.bottom)), left : int(np.ceil(area.right))]
    return np.ascontiguousarray(part)


def _level(picture: Gray) -> tuple[int, Straight]:
    """Find the lines of a page and make them level; the page may still be upside down."""
    turn, areas = 0, find_lines(picture)
    long = [one for one in areas if max(one.width, one.height) > 2 * min(one.width, one.height)]
    sideways = sum(one.height > _SIDEWAYS * one.width for one in long)
    if sideways > 0.5 * len(long):
        turn, picture = 90, quarter(picture, 90)
        areas = find_lines(picture)
    frame: Corners = corners_of(picture)
    slope = slope_of(areas)
    if abs(slope) > _STEEP:
        picture, _, frame = levelled(picture, (), Lean(slope, 0.0, -slope, 0.0), frame)
        areas = find_lines(picture)
    return turn, straightened(picture, areas, frame)


def _try_flipped(picture: Gray, areas: Sequence[Found]) -> tuple[bool, float | None]:
    """Whether the page is upside down, and how surely its longest lines are then read.

    They are read both ways where in doubt; None where no letter is read at all.
    """
    longest = sorted(areas, key=lambda one: one.width / max(one.height, 1), reverse=True)
    crops = [crop(picture, one) for one in longest[:_TRIED]]
    so = _mean(read_lines(crops)) or 0.0
    if so > _SURE:
        return False, so
    other = _mean(read_lines([quarter(one, 180) for one in crops])) or 0.0
    return other > so, max(so, other) or None


def _mean(reads: Sequence[Read]) -> float | None:
    letters = [letter.sure for one in reads for letter in one.letters]
    return sum(letters) / len(letters) if letters else None


def _opposite(area: Found, width: int, height: int) -> Found:
    left, right = width - area.right, width - area.left
    return Found(left, height - area.bottom, right, height - area.top, area.angle, area.thick)
