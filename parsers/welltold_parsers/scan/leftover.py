"""Measures how much the rows of a page still lean after it was made level.

The search that makes a page level can settle one row off: the name of a row then stands level with
the number of the next. The lines themselves tell it: the two ends of one line of print belong
together, whatever the search found.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from .detect import Found

Gray = NDArray[np.uint8]
Floats = NDArray[np.float64]
_LONG = 2.8
"""An area so many times wider than high has two ends that can be compared."""
_END = 1.6
"""Of the height of an area: the width of an end."""
_REACH = 0.75
"""Of the same: the two ends are compared up to this shift."""
_FEW = 5
"""With fewer lines that are long nothing can be said."""
_ROUNDS = 4
_MOST = 240
"""Areas whose ends are compared; more tell nothing new."""


class Tilt(NamedTuple):
    """What slope the lines of a page still have."""

    slope: float
    """In the middle of the page; falling to the right."""
    fan: float
    """By how much it grows from the top of the page to its foot."""

    def most(self) -> float:
        """Return the greatest slope on the page."""
        return max(abs(self.slope - self.fan / 2), abs(self.slope + self.fan / 2))


class _Ends(NamedTuple):
    at: float
    slope: float
    weight: float


def tilt_of(picture: Gray, areas: Sequence[Found]) -> Tilt | None:
    """Return the slope that lines of print still have; None with too few long lines."""
    long = [one for one in areas if one.width > _LONG * one.height and one.height >= 6]
    told = [_ends(picture, one) for one in long[:: max(len(long) // _MOST, 1)]]
    ends = [one for one in told if one is not None]
    if len(ends) < _FEW:
        return None
    at = np.array([one.at for one in ends]) / picture.shape[0] - 0.5
    slopes = np.array([one.slope for one in ends])
    weights = np.array([one.weight for one in ends])
    return _fitted(at, slopes, weights)


def rough_tilt(areas: Sequence[Found], tall: int) -> Tilt | None:
    """Return the slope of a page as its areas were found, however steep; None with too few."""
    long = [one for one in areas if one.width > _LONG * one.thick and abs(one.angle) < 30]
    if len(long) < _FEW:
        return None
    at = np.array([(one.top + one.bottom) / 2 for one in long]) / tall - 0.5
    slopes = np.tan(np.radians([one.angle for one in long]))
    return _fitted(at, slopes, np.array([one.width for one in long]))


def _ends(picture: Gray, area: Found) -> _Ends | None:
    """Return by how much the right end of a line stands lower than the left."""
    room = _REACH * area.height
    top, bottom = int(max(area.top - room, 0)), int(area.bottom + room) + 1
    wide = max(_END * area.height, 0.3 * area.width)
    left = picture[top:bottom, int(max(area.left, 0)) : int(area.left + wide)]
    right = picture[top:bottom, int(area.right - wide) : int(area.right) + 1]
    if left.size == 0 or right.size == 0:
        return None
    shift = _shift(_rows(left), _rows(right), round(room))
    apart = area.width - wide
    return None if shift is None else _Ends((area.top + area.bottom) / 2, shift / apart, apart)


def _rows(part: Gray) -> Floats:
    """Return how much ink stands in each row of a picture."""
    ink = part.max(axis=1, keepdims=True).astype(np.float64) - part
    sums: Floats = cv2.GaussianBlur(ink.sum(axis=1)[:, None], (1, 5), 0)[:, 0]
    centred: Floats = sums - sums.mean()
    return centred


def _shift(one: Floats, other: Floats, most: int) -> float | None:
    """Return by how many rows ``other`` stands lower than ``one``; None where they are unlike."""
    size = np.sqrt((one @ one) * (other @ other))
    if size <= 0 or len(one) <= 2 * most:
        return None
    scores = [
        float(one[max(-s, 0) : len(one) - max(s, 0)] @ other[max(s, 0) : len(one) + min(s, 0)])
        for s in range(-most, most + 1)
    ]
    best = int(np.argmax(scores))
    if scores[best] < 0.5 * size or best in {0, 2 * most}:
        return None
    low, mid, high = scores[best - 1 : best + 2]
    bow = low - 2 * mid + high
    return best - most + (0.5 * (low - high) / bow if bow else 0.0)


def _fitted(at: Floats, slopes: Floats, weights: Floats) -> Tilt:
    """Return the line through slopes that is not led astray by single ones."""
    slope, fan = float(np.median(slopes)), 0.0
    for _ in range(_ROUNDS):
        off = np.abs(slopes - slope - fan * at)
        scale = max(float(np.median(off)) * 2, 1e-4)
        trust = weights * np.clip(1 - (off / (2 * scale)) ** 2, 0, 1) ** 2
        if trust.sum() <= 0:
            break
        # A little pull to no fan at all: few lines in one half of the page tell none.
        middle = float((trust * at).sum() / trust.sum())
        spread = float((trust * (at - middle) ** 2).sum() + 0.005 * trust.sum())
        mean = float((trust * slopes).sum() / trust.sum())
        fan = float((trust * (at - middle) * (slopes - mean)).sum() / spread)
        slope = mean - fan * middle
    return Tilt(slope, fan)


def pitch_of(areas: Sequence[Found]) -> float:
    """Return the usual way from one row to the next, in pixels: that of areas below each other."""
    gaps = []
    for one in areas:
        below = [
            other.top - one.top
            for other in areas
            if other.top - one.top > 0.6 * one.height
            and min(other.right, one.right) - max(other.left, one.left) > 0
        ]
        if below:
            gaps.append(min(below))
    return float(np.percentile(gaps, 35)) if gaps else 0.0
