"""Makes the picture of a page straight: the sheet cut out of a photo, its skew taken away."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
_LOOKED_AT = 1000
"""Pixels of the longer side when the skew is looked for."""
_STEEPEST = 12.0
"""Degrees of skew that are looked for."""
_WORTH = 0.06
"""Degrees below which a skew is left alone."""
_OUTLINE_SIDE = 700
_LEAST_SHEET = 0.2
"""A sheet takes at least this share of a photo."""
_MOST_SHEET = 0.97
_DARKER = 25
"""Of 255: what lies round a sheet is darker than it by this."""


def quarter(picture: Gray, turn: int) -> Gray:
    """Return the picture turned with the clock by 0, 90, 180 or 270 degrees."""
    turned: Gray = np.ascontiguousarray(np.rot90(picture, -(turn // 90)))
    return turned


def without_table(picture: Gray) -> Gray:
    """Return the sheet of a photo without what it lies on; the picture itself for a plain scan."""
    corners = _corners(picture)
    if corners is None:
        return picture
    (a, b, c, d) = corners
    wide = round(max(np.hypot(*(b - a)), np.hypot(*(c - d))))
    tall = round(max(np.hypot(*(d - a)), np.hypot(*(c - b))))
    goal = np.array([[0, 0], [wide, 0], [wide, tall], [0, tall]], np.float32)
    matrix = cv2.getPerspectiveTransform(corners, goal)
    return np.asarray(
        cv2.warpPerspective(
            picture, matrix, (wide, tall), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE
        ),
        np.uint8,
    )


def _corners(picture: Gray) -> NDArray[np.float32] | None:
    """Return the corners of a bright sheet on a darker ground: top left, then with the clock."""
    scale = _OUTLINE_SIDE / max(picture.shape)
    if scale < 1:
        small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    else:
        small, scale = picture, 1.0
    # Print must not cut the sheet in pieces: what is dark and narrow is filled with paper.
    paper = cv2.morphologyEx(small, cv2.MORPH_CLOSE, np.ones((15, 15), np.uint8))
    paper = cv2.GaussianBlur(paper, (5, 5), 0)
    _, bright = cv2.threshold(paper, 0, 255, cv2.THRESH_BINARY | cv2.THRESH_OTSU)
    outlines, _ = cv2.findContours(bright, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    if not outlines:
        return None
    sheet = max(outlines, key=cv2.contourArea)
    share = cv2.contourArea(sheet) / small.size
    hull = cv2.convexHull(sheet)
    if not _LEAST_SHEET < share < _MOST_SHEET or cv2.contourArea(sheet) < 0.9 * cv2.contourArea(
        hull
    ):
        return None
    four = _four(hull)
    if four is None:
        return None
    inside = np.zeros(small.shape, np.uint8)
    cv2.fillConvexPoly(inside, four.astype(np.int32), 255)
    ground = paper[inside == 0]
    if not ground.size or np.median(paper[inside > 0]) - np.median(ground) < _DARKER:
        return None
    return (_in_order(four) / scale).astype(np.float32)


def _four(hull: cv2.typing.MatLike) -> NDArray[np.float32] | None:
    """Return the four corners that a hull comes down to, or None when it has another shape."""
    length = cv2.arcLength(hull, closed=True)
    for slack in (0.01, 0.02, 0.03, 0.05):
        corners = cv2.approxPolyDP(hull, slack * length, closed=True)
        if len(corners) == 4:
            four: NDArray[np.float32] = np.asarray(corners, np.float32).reshape(4, 2)
            return four
    return None


def _in_order(four: NDArray[np.float32]) -> NDArray[np.float32]:
    sums, differences = four.sum(axis=1), four[:, 1] - four[:, 0]
    places = [sums.argmin(), differences.argmin(), sums.argmax(), differences.argmax()]
    return np.array([four[place] for place in places], np.float32)


def skew_of(picture: Gray) -> float:
    """Return the degrees by which lines of print fall to the right, on a page turned or not."""
    scale = min(1.0, _LOOKED_AT / max(picture.shape))
    small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    light = cv2.GaussianBlur(small, (0, 0), 12)
    ink = ((small.astype(np.int16) < light.astype(np.int16) - 12) * 255).astype(np.uint8)
    if ink.mean() < 0.05:
        return 0.0
    best = 0.0
    for reach, step in ((_STEEPEST, 1.0), (1.0, 0.25), (0.25, 0.05)):
        angles = np.arange(best - reach, best + reach + step / 2, step)
        best = float(max(angles, key=lambda angle: _striped(ink, angle)))
    return best


def _striped(ink: Gray, angle: float) -> float:
    """Return how much ink lies in stripes along or across, after turning the page back."""
    turned = _turned(ink, angle, 0)
    rows, columns = (turned.sum(axis=side, dtype=np.float64) for side in (1, 0))
    return float(max(np.square(np.diff(rows)).sum(), np.square(np.diff(columns)).sum()))


def without_skew(picture: Gray, angle: float) -> Gray:
    """Return the picture turned back by the skew's angle; what comes in at the edges is paper."""
    if abs(angle) < _WORTH:
        return picture
    return _turned(picture, angle, None)


def _turned(picture: Gray, angle: float, edge: int | None) -> Gray:
    height, width = picture.shape
    matrix = cv2.getRotationMatrix2D((width / 2, height / 2), angle, 1.0)
    cosine, sine = abs(matrix[0, 0]), abs(matrix[0, 1])
    if edge is None:
        wide, tall = round(height * sine + width * cosine), round(height * cosine + width * sine)
    else:
        wide, tall = width, height
    matrix[:, 2] += ((wide - width) / 2, (tall - height) / 2)
    how = cv2.INTER_CUBIC if edge is None else cv2.INTER_NEAREST
    paper = float(np.percentile(picture[:: max(height // 200, 1)], 90)) if edge is None else edge
    turned = cv2.warpAffine(
        picture, matrix, (wide, tall), flags=how, borderMode=cv2.BORDER_CONSTANT, borderValue=paper
    )
    return np.asarray(turned, np.uint8)
