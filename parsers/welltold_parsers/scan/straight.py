"""Cuts the sheet out of a photo: its four edges against the ground that it lies on."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
Corners = NDArray[np.float32]
_SIDE = 700
"""Pixels of the longer side when the edges are looked for."""
_LEAST = 0.2
_MOST = 0.97
"""A sheet takes no less and no more of a photo than these shares; more is a plain scan."""
_SECOND = 0.4
"""Another sheet on the same photo has at least this share of the larger one's size."""
_MANY = 3
"""Outlines that are looked at."""
_BRIGHTER = 14.0
"""Of 255: along each edge the sheet is brighter than its ground by this."""
_ALIKE = 0.72
"""The shorter of two opposite edges is at least this share of the longer."""
_SQUARE = 0.26
"""The cosine of a corner's angle stays below this: between 75 and 105 degrees."""
_STRIP = 6


def quarter(picture: Gray, turn: int) -> Gray:
    """Return the picture turned with the clock by 0, 90, 180 or 270 degrees."""
    turned: Gray = np.ascontiguousarray(np.rot90(picture, -(turn // 90)))
    return turned


def sheets_of(picture: Gray) -> list[Gray]:
    """Return the sheets of a photo without what they lie on, in reading order.

    The picture itself, alone, for a plain scan.
    """
    return [_cut_out(picture, corners) for corners in _corners(picture)] or [picture]


def _cut_out(picture: Gray, corners: Corners) -> Gray:
    a, b, c, d = corners
    wide = round(max(float(np.hypot(*(b - a))), float(np.hypot(*(c - d)))))
    tall = round(max(float(np.hypot(*(d - a))), float(np.hypot(*(c - b)))))
    goal = np.array([[0, 0], [wide, 0], [wide, tall], [0, tall]], np.float32)
    return warped(picture, cv2.getPerspectiveTransform(corners, goal), (wide, tall))


def warped(picture: Gray, matrix: cv2.typing.MatLike, size: tuple[int, int]) -> Gray:
    """Return the picture moved by a matrix of perspective; what comes in is like the edge."""
    how, edge = cv2.INTER_CUBIC, cv2.BORDER_REPLICATE
    return np.asarray(
        cv2.warpPerspective(picture, matrix, size, flags=how, borderMode=edge), np.uint8
    )


def _corners(picture: Gray) -> list[Corners]:
    """Return the corners of bright sheets on a darker ground: top left, then with the clock."""
    scale = min(_SIDE / max(picture.shape), 1.0)
    small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    # Print must not cut the sheet in pieces: what is dark and narrow is filled with paper.
    paper = cv2.morphologyEx(small, cv2.MORPH_CLOSE, np.ones((13, 13), np.uint8))
    soft = np.asarray(cv2.GaussianBlur(paper, (5, 5), 0), np.uint8)
    found = [four for level in _levels(soft) for four in _sheets(soft, level)]
    if not any(cv2.contourArea(four) > _LEAST * soft.size for four in found):
        return []
    found.sort(key=cv2.contourArea, reverse=True)
    kept: list[Corners] = []
    for four in found:
        if cv2.contourArea(four) < _SECOND * cv2.contourArea(found[0]):
            break
        if not any(_overlap(four, other) for other in kept):
            kept.append(four)
    kept.sort(key=lambda four: float(four.mean(axis=0).sum()))
    return [np.asarray(four / scale, np.float32) for four in kept]


def _overlap(one: Corners, other: Corners) -> bool:
    shared, _ = cv2.intersectConvexConvex(one, other)
    return shared > 0.1 * min(cv2.contourArea(one), cv2.contourArea(other))


def _levels(paper: Gray) -> Iterator[float]:
    """Yield shades that may part the sheet from its ground: a shadow can lie over both."""
    edge = np.concatenate((paper[:4].ravel(), paper[-4:].ravel(), paper[:, :4].ravel()))
    ground = float(np.median(edge))
    bright = float(np.percentile(paper, 95))
    for share in (0.15, 0.25, 0.4, 0.6):
        if bright - ground > 2 * _BRIGHTER:
            yield ground + share * (bright - ground)


def _sheets(paper: Gray, level: float) -> Iterator[Corners]:
    _, bright = cv2.threshold(paper, level, 255, cv2.THRESH_BINARY)
    outlines, _ = cv2.findContours(bright, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_SIMPLE)
    for outline in sorted(outlines, key=cv2.contourArea, reverse=True)[:_MANY]:
        hull = cv2.convexHull(outline)
        share = cv2.contourArea(hull) / paper.size
        four = _four(hull)
        if four is None or not _LEAST * _SECOND < share < _MOST:
            continue
        four = _in_order(four)
        if _is_sheet(four) and _stands_out(paper, four):
            yield four


def _four(hull: cv2.typing.MatLike) -> Corners | None:
    """Return the four corners that a hull comes down to, or None when it has another shape."""
    length = cv2.arcLength(hull, closed=True)
    for slack in (0.01, 0.02, 0.03, 0.05):
        corners = cv2.approxPolyDP(hull, slack * length, closed=True)
        if len(corners) == 4:
            four: Corners = np.asarray(corners, np.float32).reshape(4, 2)
            return four
    return None


def _in_order(four: Corners) -> Corners:
    sums, differences = four.sum(axis=1), four[:, 1] - four[:, 0]
    places = [sums.argmin(), differences.argmin(), sums.argmax(), differences.argmax()]
    return np.array([four[place] for place in places], np.float32)


def _is_sheet(four: Corners) -> bool:
    """Whether four corners are those of a rectangle seen not too much from the side."""
    sides = np.roll(four, -1, axis=0) - four
    lengths = np.hypot(sides[:, 0], sides[:, 1])
    if lengths.min() < 0.1 * _SIDE:
        return False
    after = np.roll(sides, -1, axis=0)
    cosines = np.abs((sides * after).sum(axis=1)) / (lengths * np.roll(lengths, -1))
    pairs = (lengths[:2] / lengths[2:], lengths[2:] / lengths[:2])
    return bool(cosines.max() < _SQUARE and min(pair.min() for pair in pairs) > _ALIKE)


def _stands_out(paper: Gray, four: Corners) -> bool:
    """Whether the sheet is brighter than its ground along every edge that lies in the picture."""
    middle = four.mean(axis=0)
    tall, wide = paper.shape
    for start, end in zip(four, np.roll(four, -1, axis=0), strict=True):
        points = start + (end - start) * np.linspace(0.1, 0.9, 40)[:, None]
        inward = middle - (start + end) / 2
        inward = _STRIP * inward / max(float(np.hypot(*inward)), 1.0)
        inside, outside = np.rint(points + inward), np.rint(points - inward)
        kept = (outside >= 0).all(axis=1) & (outside < (wide, tall)).all(axis=1)
        if not kept.any():
            continue
        one, other = inside[kept].astype(int), outside[kept].astype(int)
        rise = paper[one[:, 1], one[:, 0]].astype(float) - paper[other[:, 1], other[:, 0]]
        if np.median(rise) < _BRIGHTER:
            return False
    return True
