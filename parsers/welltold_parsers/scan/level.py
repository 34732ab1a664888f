"""Makes lines of print level by the lines themselves: skew, and edges that run apart.

A page's own rows say how it stands: turned by the right angle, words of one row share their height.
That holds for a bent fax and for a photo from the side, with or without an edge of the sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import NamedTuple

import cv2
import numpy as np
from numpy.typing import NDArray

from .detect import Found
from .straight import Corners, warped

Gray = NDArray[np.uint8]
Floats = NDArray[np.float64]
_LONG = 4.0
"""An area so many times wider than high tells its slope."""
ON_END = 1.8
"""An area so many times higher than wide holds print on end."""
_STILL = 0.0006
"""Slopes below this shift no row of a page by more than a pixel or two."""
_BETTER = 1.02
"""A lean is believed that makes rows sharper than they are by this much."""
_ROW = 0.13
"""Rows are as sharp as this share of the usual height."""


class Lean(NamedTuple):
    """How the rows of a page fall to the right, and how its columns lean."""

    rows: float
    """Slope of the rows in the middle of the page."""
    fan: float
    """By how much the slope grows from the top of the page to its foot."""
    columns: float
    spread: float
    """The same for columns, from the left edge to the right."""


def slope_of(areas: Sequence[Found]) -> float:
    """Return the slope of the rows, from the areas that are long; falling to the right."""
    long = [
        one
        for one in areas
        if one.width > _LONG * (one.thick or one.height) and abs(one.angle) < 30
    ]
    if not long:
        return 0.0
    angles = np.array([one.angle for one in long])
    weights = np.array([one.width for one in long])
    order = angles.argsort()
    half = np.searchsorted(np.cumsum(weights[order]), weights.sum() / 2)
    return float(np.tan(np.radians(angles[order][half])))


def lean_of(areas: Sequence[Found], shape: tuple[int, int]) -> Lean:
    """Return how a page leans that is nearly level."""
    if len(areas) < 6:
        return Lean(slope_of(areas), 0.0, 0.0, 0.0)
    tall, wide = shape
    boxes = np.array([one[:4] for one in areas])
    height = float(np.median([one.thick for one in areas]))
    x, y = _points(areas)
    x, y = x - wide / 2, y - tall / 2
    rows, fan = _fit(x, y / tall, y, _ROW * height, slope_of(areas))
    middles = (boxes[:, 1] + boxes[:, 3]) / 2 - tall / 2
    left, right = boxes[:, 0] - wide / 2, boxes[:, 2] - wide / 2
    edges, heights = np.concatenate((left, right)), np.concatenate((middles, middles))
    columns, spread = _fit(heights, edges / wide, edges, 2 * _ROW * height, -rows)
    return Lean(rows, fan, columns, spread)


def _points(areas: Sequence[Found]) -> tuple[Floats, Floats]:
    """Return places on the middle of the areas: one of a short area, the ends of a long one."""
    x: list[float] = []
    y: list[float] = []
    for one in areas:
        middle, across = (one.top + one.bottom) / 2, (one.left + one.right) / 2
        reach = 0.45 * one.width if one.width > _LONG * one.thick else 0.0
        fall = reach * float(np.tan(np.radians(one.angle)))
        x += [across - reach, across + reach] if reach else [across]
        y += [middle - fall, middle + fall] if reach else [middle]
    return np.array(x), np.array(y)


def _fit(
    along: Floats, across: Floats, at: Floats, sharp: float, start: float
) -> tuple[float, float]:
    """Return the slope, and its growth, that bring places into the sharpest stripes.

    ``at`` is what should agree within a stripe, ``along`` the way that the stripes run, ``across``
    where on the page they lie, from -0.5 to 0.5.
    """
    best, most = (0.0, 0.0), _BETTER * _sharpness(at, sharp)
    if abs(start) > _STILL:
        best = (start, 0.0)
    steps = ((0.024, 13, 0.04, 5), (0.004, 9, 0.014, 5), (0.0012, 7, 0.004, 5))
    for reach, count, more, counted in steps:
        slopes = best[0] + np.linspace(-reach, reach, count)
        growths = best[1] + np.linspace(-more, more, counted)
        for slope, growth in product(slopes.tolist(), growths.tolist()):
            score = _sharpness(at - along * (slope + growth * across), sharp)
            # A page that leans less explains as much with less.
            score *= 1 - 2 * abs(slope - start) - 1.5 * abs(growth)
            if score > most:
                best, most = (slope, growth), score
    return best


def sharpness_of(
    areas: Sequence[Found],
    slope: float = 0.0,
    fan: float = 0.0,
    shape: tuple[int, int] = (1, 1),
) -> float:
    """Return how strongly areas gather in rows, with a slope and its growth taken away."""
    boxes = np.array([one[:4] for one in areas])
    height = float(np.median([one.thick or one.height for one in areas]))
    x = (boxes[:, 0] + boxes[:, 2]) / 2 - shape[1] / 2
    y = (boxes[:, 1] + boxes[:, 3]) / 2 - shape[0] / 2
    return _sharpness(y - x * (slope + fan * y / shape[0]), _ROW * height)


def _sharpness(places: Floats, sharp: float) -> float:
    """Return how strongly places gather in stripes."""
    order = np.sort(places)
    near = np.searchsorted(order, order + 2.5 * sharp, side="right")
    total = 0.0
    for step in range(1, int((near - np.arange(len(order))).max(initial=1))):
        gaps = (order[step:] - order[:-step]) / sharp
        total += float(np.exp(-0.5 * gaps * gaps).sum())
    return total


class Levelled(NamedTuple):
    """A page whose rows are level."""

    picture: Gray
    areas: list[Found]
    frame: Corners
    """Where the corners of the picture that came in are now, top left first, with the clock."""


def corners_of(picture: Gray) -> Corners:
    """Return the corners of a picture, top left first, then with the clock."""
    tall, wide = picture.shape
    return np.array([[0, 0], [wide, 0], [wide, tall], [0, tall]], np.float32)


def levelled(picture: Gray, areas: Sequence[Found], lean: Lean, frame: Corners) -> Levelled:
    """Return the picture, its areas and its frame with the lean taken away."""
    tall, wide = picture.shape
    if max(abs(x) for x in lean) < _STILL:
        return Levelled(picture, list(areas), frame)
    corners = corners_of(picture).astype(np.float64)
    x, y = corners[:, 0] - wide / 2, corners[:, 1] - tall / 2
    moved_y = y - x * (lean.rows + lean.fan * y / tall)
    moved_x = x - y * (lean.columns + lean.spread * x / wide)
    goal = np.stack((moved_x - moved_x.min(), moved_y - moved_y.min()), axis=1)
    matrix = cv2.getPerspectiveTransform(corners.astype(np.float32), goal.astype(np.float32))
    size = (int(np.ceil(goal[:, 0].max())), int(np.ceil(goal[:, 1].max())))
    moved = cv2.perspectiveTransform(frame[None], matrix)[0]
    areas = [_moved(one, matrix) for one in areas]
    return Levelled(warped(picture, matrix, size), areas, np.asarray(moved, np.float32))


def _moved(area: Found, matrix: cv2.typing.MatLike) -> Found:
    middle = (area.top + area.bottom) / 2
    ends = np.array([[[area.left, middle], [area.right, middle]]], np.float32)
    (x0, y0), (x1, y1) = cv2.perspectiveTransform(ends, matrix)[0].tolist()
    # A slanted line fills a box that is higher than its print; print on end is as high as its box.
    height = area.height if area.height > ON_END * area.width else min(area.thick, area.height)
    half, at = height / 2, (y0 + y1) / 2
    return Found(max(x0, 0.0), max(at - half, 0.0), max(x1, x0 + 1), at + half, 0.0, height)
