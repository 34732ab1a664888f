"""Takes specks off a page that is black and white alone, and softens its stairs.

A fax has dots that are wrong, and edges like stairs; the networks learned from shades of grey. A
speck that stands by itself is nobody's; one beside print stays, since a decimal point or a piece of
a broken stroke can be as small.
"""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
_MOST = 3
"""Dots of a speck."""
_LETTER = (8, 60)
"""Pixels: pieces of ink so high are taken for letters."""
_USUAL = 16.0
"""Pixels of a letter's height where a page does not tell."""
_BESIDE = 0.5
"""A speck nearer to print than this share of a letter's height stays."""
_SOFTER = 0.7
"""Pixels."""


def smoothed(picture: Gray) -> Gray:
    """Return a black and white page without lone specks, its edges in shades of grey."""
    return np.asarray(cv2.GaussianBlur(without_specks(picture), (0, 0), _SOFTER), np.uint8)


def without_specks(picture: Gray) -> Gray:
    """Return a black and white page without the specks that stand by themselves."""
    ink = (picture < 128).astype(np.uint8)
    _, pieces, boxes, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    small = boxes[:, cv2.CC_STAT_AREA] <= _MOST
    small[0] = False
    specks = small[pieces]
    high = boxes[1:, cv2.CC_STAT_HEIGHT]
    letters = high[(high >= _LETTER[0]) & (high <= _LETTER[1])]
    reach = round(_BESIDE * (float(np.median(letters)) if len(letters) else _USUAL))
    strokes = ink.copy()
    strokes[specks] = 0
    near = cv2.dilate(strokes, np.ones((2 * reach + 1, 2 * reach + 1), np.uint8))
    clean = picture.copy()
    clean[specks & (near == 0)] = 255
    return clean
