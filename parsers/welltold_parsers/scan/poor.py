"""Says of a picture that it cannot be read, and why, before much time is spent on it."""

from __future__ import annotations

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold.messages import Message, say

from .detect import Found
from .light import contrast
from .recognise import Read

Gray = NDArray[np.uint8]
_SMALLEST = 200
"""Pixels of the longer side, below which no sheet can be read."""
_BLANK = 12.0
"""Of 255: a page whose print is paler than this against its paper is blank."""
_LOWEST = 9.0
"""Pixels of an area of print, below which letters cannot be told apart."""
_UNSURE = 0.72
"""A page whose letters are read with less certainty than this, in the mean, is too poor."""
_SHARP = 60.0
"""Variance of the second derivative over an area of print; below it the picture is blurred."""
_DARK = 70.0


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


def look_at_print(picture: Gray, areas: Sequence[Found], reads: Sequence[Read]) -> None:
    """Raise `Poor` for a page without print, or with print that cannot be read."""
    letters = [letter.sure for one in reads for letter in one.letters]
    if not letters:
        raise Poor(say("scan.no_print"))
    sure = sum(letters) / len(letters)
    if sure >= _UNSURE:
        return
    if float(np.median([one.height for one in areas])) < _LOWEST:
        raise Poor(say("scan.print_small"))
    if _sharpness(picture, areas) < _SHARP:
        raise Poor(say("scan.blurred"))
    raise Poor(say("scan.too_dark" if picture.mean() < _DARK else "scan.unclear"))


def _sharpness(picture: Gray, areas: Sequence[Found]) -> float:
    told = []
    for area in areas[:40]:
        part = picture[int(area.top) : int(area.bottom) + 1, int(area.left) : int(area.right) + 1]
        told.append(float(cv2.Laplacian(part, cv2.CV_64F).var()))
    return float(np.median(told)) if told else 0.0


def is_coarse(picture: Gray) -> bool:
    """Whether a picture is black and white, and most of its lines are there twice.

    So comes a fax in low resolution, drawn as high as wide: digits lose half of their shape.
    """
    part = picture[:: max(len(picture) // 4000, 1)]
    if float(((part > 30) & (part < 225)).mean()) > 0.02:
        return False
    inked = part[(part < 128).any(axis=1)]
    if len(inked) < 40:
        return False
    same = (inked[1:] == inked[:-1]).all(axis=1)
    return float(same.mean()) > 0.4
