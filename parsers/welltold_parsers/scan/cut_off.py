"""Notices print that runs over the edge of a picture: a part of the sheet is not on it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from .detect import Found
from .straight import Corners
from .words import ink_of

Gray = NDArray[np.uint8]
_NEAR = 0.2
"""Between ink and the edge, as a share of the line's height: no margin of a sheet is so narrow, and
the gap between two letters is, when the edge goes through a word there."""


def touching(picture: Gray, areas: Sequence[Found], frame: Corners) -> list[Found]:
    """Return the areas whose ink reaches an edge of what the camera or scanner took in.

    ``frame`` has the corners of that, top left first, with the clock.
    """
    return [one for one in areas if _near(one, frame) and _inked(picture, one, frame)]


def _near(area: Found, frame: Corners) -> bool:
    return float(_distances(np.array(_rim(area)), frame).min()) < _NEAR * area.height


def _rim(area: Found) -> list[tuple[float, float]]:
    """Return the middles of an area's four sides."""
    across, down = (area.left + area.right) / 2, (area.top + area.bottom) / 2
    return [(area.left, down), (across, area.top), (area.right, down), (across, area.bottom)]


def _inked(picture: Gray, area: Found, frame: Corners) -> bool:
    """Whether ink of an area lies on the edge itself; paper along it belongs to no letter."""
    top, left = max(int(area.top), 0), max(int(area.left), 0)
    part = picture[top : int(np.ceil(area.bottom)), left : int(np.ceil(area.right))]
    if not part.size:
        return False
    rows, columns = np.nonzero(ink_of(np.ascontiguousarray(part)))
    if not len(rows):
        return False
    places = np.stack((columns + left, rows + top), axis=1).astype(np.float64)
    return bool((_distances(places, frame) < _NEAR * area.height).any())


def _distances(places: NDArray[np.floating], frame: Corners) -> NDArray[np.float64]:
    """Return how far each place lies within the nearest side of the frame; below 0: outside."""
    told = []
    for start, end in zip(frame, np.roll(frame, -1, axis=0), strict=True):
        side = (end - start) / max(float(np.hypot(*(end - start))), 1.0)
        away = places - start
        told.append(side[0] * away[:, 1] - side[1] * away[:, 0])
    return np.asarray(np.min(told, axis=0), np.float64)
