"""Makes a page level by its rows, and says how much lean is left.

Two ways that can fail differently: `level` looks for the lean that brings print into the sharpest
stripes, and may settle one row off on a photo from far aside; `leftover` follows the lines
themselves. Where the two disagree the sharper stripes decide.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from .detect import Found
from .leftover import Tilt, pitch_of, rough_tilt, tilt_of
from .level import Lean, Levelled, lean_of, levelled, sharpness_of
from .straight import Corners

Gray = NDArray[np.uint8]
LEANS = 1 / 3
"""Of the way from row to row: rows of a page that still shift so much across it may be mixed."""
LOST = 2 / 3
"""From here on nobody can say which name and which number share a row."""
_HALF = 0.5
"""A search that settled one row off disagrees with the lines by twice that."""
_TRIED = 0.25
"""From here on the lines themselves are followed."""
_LEVEL = 0.1
_ROUNDS = 8
_QUICKER = 1.3
"""The growth of the slope is measured too small by about this."""
_SHARPER = 1.01
_STEPS = ((0.012, 13, 0.04, 11), (0.0015, 7, 0.006, 5))


class Straight(NamedTuple):
    """A page made level, and what is left."""

    page: Levelled
    shift: float
    """By how many rows the print still shifts across the page; 0 where nothing tells it."""
    doubtful: bool
    """Whether names and numbers may stand on one another's rows."""


def straightened(picture: Gray, areas: Sequence[Found], frame: Corners) -> Straight:
    """Return a page with level rows."""
    lean = lean_of(areas, picture.shape)
    page = levelled(picture, areas, lean, frame)
    tilt, rough = tilt_of(page.picture, page.areas), rough_tilt(areas, picture.shape[0])
    if tilt is None and rough is None:
        # Nothing but the stripes told the lean: they may have settled one row off.
        moved = _shift(page, Tilt(lean.rows, lean.fan))
        return Straight(page, 0.0, moved > LEANS)
    shift = 0.0 if tilt is None else _shift(page, tilt)
    if rough is not None:
        apart = _shift(page, Tilt(rough.slope - lean.rows, rough.fan - lean.fan))
        # Areas tell their slope only roughly; rows that are lost they tell, unless the lines
        # themselves bear the lean out before it was taken away, and are level after.
        borne_out = _bears_out(page, lean, tilt_of(picture, areas))
        shift = max(shift, apart) if apart > LOST and not borne_out else shift
    if rough is None or shift < _TRIED:
        return Straight(page, shift, doubtful=False)
    starts = (lean, lean._replace(rows=rough.slope, fan=rough.fan))
    other = max(
        (_followed(picture, areas, frame, start) for start in starts),
        key=lambda one: sharpness_of(one.areas),
    )
    left = _left(other)
    if left < shift and sharpness_of(other.areas) >= _SHARPER * sharpness_of(page.areas):
        return Straight(other, left, left > LEANS)
    return Straight(page, min(shift, left), shift > LEANS)


def _bears_out(page: Levelled, lean: Lean, tilt: Tilt | None) -> bool:
    """Whether the lines of the page as it came had the slope that was taken away."""
    if tilt is None:
        return False
    return _shift(page, Tilt(tilt.slope - lean.rows, tilt.fan - lean.fan)) < _HALF


def _left(page: Levelled) -> float:
    tilt = tilt_of(page.picture, page.areas)
    return 0.0 if tilt is None else _shift(page, tilt)


def _shift(page: Levelled, tilt: Tilt) -> float:
    pitch = pitch_of(page.areas)
    if not pitch:
        return 0.0
    wide = max(one.right for one in page.areas) - min(one.left for one in page.areas)
    return tilt.most() * wide / pitch


def _followed(picture: Gray, areas: Sequence[Found], frame: Corners, lean: Lean) -> Levelled:
    """Return the page made level by its lines, and then by the stripes nearby."""
    page = levelled(picture, areas, lean, frame)
    for _ in range(_ROUNDS):
        tilt = tilt_of(page.picture, page.areas)
        if tilt is None or _shift(page, tilt) < _LEVEL:
            break
        lean = _more(lean, tilt.slope, _QUICKER * tilt.fan)
        page = levelled(picture, areas, lean, frame)
    lean = _more(lean, *_nearby(page))
    page = levelled(picture, areas, lean, frame)
    left = lean_of(page.areas, page.picture.shape)
    columns, spread = lean.columns + left.columns, lean.spread + left.spread
    return levelled(picture, areas, lean._replace(columns=columns, spread=spread), frame)


def _more(lean: Lean, slope: float, fan: float) -> Lean:
    return lean._replace(rows=lean.rows + slope, fan=lean.fan + fan)


def _nearby(page: Levelled) -> tuple[float, float]:
    """Return the small slope and fan that bring the rows of a page into the sharpest stripes."""
    best, most = (0.0, 0.0), sharpness_of(page.areas)
    tall, wide = page.picture.shape
    for reach, count, more, counted in _STEPS:
        slopes = best[0] + np.linspace(-reach, reach, count)
        fans = best[1] + np.linspace(-more, more, counted)
        for slope, fan in product(slopes.tolist(), fans.tolist()):
            score = sharpness_of(page.areas, slope, fan, (tall, wide))
            score *= 1 - 2 * abs(slope) - 1.5 * abs(fan)
            if score > most:
                best, most = (slope, fan), score
    return best
