"""Says of a picture that it cannot be read, and why, before much time is spent on it."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold.messages import Message, say

from .detect import Found
from .light import contrast

Gray = NDArray[np.uint8]
_SMALLEST = 200
"""Pixels of the longer side, below which no sheet can be read."""
_BLANK = 12.0
"""Of 255: a page whose print is paler than this against its paper is blank."""
_LOWEST = 17.0
"""Pixels of an area of print; letters lower than half of it lack dots rather than sharpness."""
_UNSURE = 0.72
"""A page whose letters are read with less certainty than this, in the mean, is too poor."""
_FEW = 6
_UNSURE_FEW = 0.9
"""Print of so few areas may be none: folds, hair and shadows are read as letters too."""
_SMALLEST_LINE = 10.5
"""Pixels of an area of print: words are read wrong, with certainty, from there on."""
_BLURRED = 0.215
"""Softness from which letters of sheets drawn at 200 dots an inch were no longer told apart."""
_SOFT = 0.15
"""Softness from which digits were taken for one another now and then."""
_DARK = 70.0
_TRIED = 60
"""Areas of print whose edges are measured."""


class Poor(Exception):  # noqa: N818 - a reason, which a door turns into its own error or a warning
    """The picture cannot be read; ``reason`` says why, in words."""

    def __init__(self, reason: Message) -> None:
        super().__init__(reason.text)
        self.reason = reason


def look_at(picture: Gray) -> None:
    """Raise `Poor` for a picture that is too small, or blank."""
    if max(picture.shape) < _SMALLEST or min(picture.shape) < _SMALLEST / 4:
        raise Poor(say("scan.too_small", width=picture.shape[1], height=picture.shape[0]))
    if contrast(picture) < _BLANK and float(np.ptp(picture)) < 4 * _BLANK:
        raise Poor(say("scan.blank"))


def look_at_print(picture: Gray, areas: Sequence[Found], before: Gray) -> float:
    """Return how soft the print is, before it is read; `Poor` when there is none, or too soft.

    ``before`` is the picture as it came, with its own light.
    """
    if not areas:
        raise Poor(say("scan.too_dark" if before.mean() < _DARK else "scan.no_print"))
    if _height(areas) < _SMALLEST_LINE:
        raise Poor(say("scan.print_small"))
    soft = softness(picture, areas)
    if soft > _BLURRED:
        raise Poor(say("scan.print_small" if _height(areas) < _LOWEST else "scan.blurred"))
    return soft


def look_at_letters(sure: float | None, areas: Sequence[Found], before: Gray) -> None:
    """Raise `Poor` for print that is read with too little certainty; None: no letter was read."""
    if sure is not None and sure >= (_UNSURE_FEW if len(areas) < _FEW else _UNSURE):
        return
    if len(areas) < _FEW or sure is None:
        raise Poor(say("scan.no_print"))
    if _height(areas) < _LOWEST:
        raise Poor(say("scan.print_small"))
    raise Poor(say("scan.too_dark" if before.mean() < _DARK else "scan.unclear"))


def is_soft(softness_of_print: float) -> bool:
    """Whether print can still be read, but each digit needs a look."""
    return softness_of_print > _SOFT


def softness(picture: Gray, areas: Sequence[Found]) -> float:
    """Return how wide the edges of letters are, as a share of the height of their line.

    About 0.05 on a clean page of any resolution; blur and few dots both let it grow.
    """
    told = []
    for area in areas[:: max(len(areas) // _TRIED, 1)]:
        top, left = max(int(area.top), 0), max(int(area.left), 0)
        part = picture[top : int(area.bottom) + 1, left : int(area.right) + 1]
        if min(part.shape) < 4:
            continue
        shades = cv2.GaussianBlur(part.astype(np.float32), (0, 0), 0.6)
        steepest = float(np.percentile(np.abs(np.diff(shades, axis=1)), 99))
        low, high = (float(x) for x in np.percentile(shades, (3, 95)))
        told.append((high - low) / max(steepest, 1.0) / max(area.thick or area.height, 1.0))
    return float(np.median(told)) if told else 1.0


def _height(areas: Sequence[Found]) -> float:
    return float(np.median([one.thick or one.height for one in areas]))


def is_coarse(picture: Gray) -> bool:
    """Whether a picture is black and white, and most of its lines are there twice.

    So comes a fax in low resolution, drawn as high as wide: digits lose half of their shape.
    """
    if not is_bilevel(picture):
        return False
    part = picture[:: max(len(picture) // 4000, 1)]
    inked = part[(part < 128).any(axis=1)]
    if len(inked) < 40:
        return False
    same = (inked[1:] == inked[:-1]).all(axis=1)
    return float(same.mean()) > 0.4


def is_bilevel(picture: Gray) -> bool:
    """Whether a picture is black and white, without shades between."""
    part = picture[:: max(len(picture) // 4000, 1)]
    return float(((part > 30) & (part < 225)).mean()) <= 0.02
