"""Evens out the light on a page: shadows, tinted paper, pale print."""

from __future__ import annotations

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
_PAPER = 245
_UNEVEN = 12
"""Of 255: paper that differs by this over a page is unevenly lit."""
_PALE = 110
"""Of 255: print is at least so much darker than its paper on a good copy."""


def evened(picture: Gray) -> Gray:
    """Return the page with white paper and dark print; one that is so already stays as it is."""
    paper = paper_of(picture)
    low, high = np.percentile(paper, (2, 98))
    if high - low < _UNEVEN and low > 225 and contrast(picture) > _PALE:
        return picture
    flat = cv2.divide(picture, paper, scale=float(_PAPER))
    dark = float(np.percentile(flat, 0.5))
    if _PAPER - dark < 2 * _PALE and dark < _PAPER - 8:
        stretched = (flat.astype(np.float32) - dark) * (_PAPER / (_PAPER - dark))
        flat = np.clip(stretched, 0, 255).astype(np.uint8)
    return np.asarray(flat, np.uint8)


def paper_of(picture: Gray) -> Gray:
    """Return how bright the paper is at each place, the print left out."""
    height, width = picture.shape
    scale = 400 / max(height, width)
    small = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    paper = cv2.morphologyEx(small, cv2.MORPH_CLOSE, np.ones((25, 25), np.uint8))
    paper = cv2.GaussianBlur(paper, (0, 0), 8)
    whole = cv2.resize(paper, (width, height), interpolation=cv2.INTER_LINEAR)
    return np.asarray(np.maximum(whole, 1), np.uint8)


def contrast(picture: Gray) -> float:
    """Return how much darker than the paper the darkest hundredth of the page is, of 255."""
    rows = picture[:: max(picture.shape[0] // 600, 1), :: max(picture.shape[1] // 600, 1)]
    return float(np.percentile(rows, 70) - np.percentile(rows, 1))
