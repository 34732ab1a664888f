"""Finds the lines of print on a picture of a page."""

from __future__ import annotations

from typing import NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from .models import Floats, finder

Gray = NDArray[np.uint8]
SIDE = 1280
"""Pixels of the longer side as the network takes it: the best of 960, 1280 and 1600 measured on
sheets at 200 dots an inch, for what it costs."""
_SURE = 0.3
_MEAN = 0.5
_GROWTH = 1.6
"""The network draws its areas smaller than the print; they are grown by this ratio."""
_SMALLEST = 3


class Found(NamedTuple):
    """One area of print, in pixels of the picture."""

    left: float
    top: float
    right: float
    bottom: float
    angle: float = 0.0
    """Degrees by which the print rises to the right or falls (positive: falls)."""

    thick: float = 0.0
    """Height of the print itself, measured across it."""

    @property
    def width(self) -> float:
        """Pixels."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Pixels."""
        return self.bottom - self.top


def find_lines(picture: Gray, side: int = SIDE) -> list[Found]:
    """Return the areas of print from top to bottom."""
    height, width = picture.shape
    scale = min(side / max(height, width), 1.6)
    rows, columns = (max(round(x * scale / 32), 1) * 32 for x in (height, width))
    small = cv2.resize(picture, (columns, rows), interpolation=cv2.INTER_AREA)
    batch = np.repeat((small.astype(np.float32) / 127.5 - 1)[None, None], 3, axis=1)
    chances: Floats = finder().run(batch)[0, 0]
    found = [
        Found(
            max(area.left * width / columns, 0),
            max(area.top * height / rows, 0),
            min(area.right * width / columns, width),
            min(area.bottom * height / rows, height),
            area.angle,
            area.thick * height / rows,
        )
        for area in _areas(chances)
    ]
    return sorted(found, key=lambda one: (one.top, one.left))


def _areas(chances: Floats) -> list[Found]:
    mask = cv2.dilate((chances > _SURE).astype(np.uint8), np.ones((2, 2), np.uint8))
    outlines, _ = cv2.findContours(mask, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    found = []
    for outline in outlines:
        left, top, wide, tall = cv2.boundingRect(outline)
        if min(wide, tall) < _SMALLEST:
            continue
        inside = mask[top : top + tall, left : left + wide] > 0
        if float(chances[top : top + tall, left : left + wide][inside].mean()) < _MEAN:
            continue
        (_, _), (one, other), angle = cv2.minAreaRect(outline)
        long, short = max(one, other), max(min(one, other), 1.0)
        grow = long * short * _GROWTH / (2 * (long + short))
        if one < other:
            angle -= 90
        angle = (angle + 90) % 180 - 90
        right, bottom = left + wide + grow, top + tall + grow
        thick = short + 2 * grow
        found.append(Found(left - grow, top - grow, right, bottom, angle, thick))
    return found
