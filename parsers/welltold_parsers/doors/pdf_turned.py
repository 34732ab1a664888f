"""Text that does not run from left to right: turned by right angles, upside down, slanted."""

from __future__ import annotations

import math
from itertools import repeat
from typing import Any

import numpy as np
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import Flags, Ints, Letters

_SLANT = 0.1
"""Radians by which text may differ from a right angle."""
_TALL = 1.8
"""A word of so many times the usual height may be slanted, or a turned one."""
_MOST = 0.5
"""The page as a whole is turned when more than this share of its letters is."""
SLANTED = -1


def turns_of(handle: Any, letters: Letters, begins: Flags, rotation: int) -> Ints | None:
    """Return by how many right angles, against the clock, each letter is turned as seen.

    `SLANTED` for any other angle; None when all text is upright. Turned text comes one letter a
    line from the text layer, slanted text in boxes that are too high, so only the first letters of
    such words are asked before all are.
    """
    starts = np.flatnonzero(begins)
    single = np.diff(np.append(starts, len(letters))) == 1
    height = np.maximum.reduceat(letters.bottom, starts) - np.minimum.reduceat(letters.top, starts)
    asked = starts[single | (height > _TALL * np.median(height))]
    if not len(asked) or not _quarters(handle, letters.index[asked], rotation).any():
        return None
    return _quarters(handle, letters.index, rotation)


def _quarters(handle: Any, index: Ints, rotation: int) -> Ints:
    angles = np.fromiter(
        map(pdfium.FPDFText_GetCharAngle, repeat(handle), index.tolist()), np.float64, len(index)
    )
    # pdfium gives the angle with the clock, before the page's own rotation.
    angles = -(angles + math.radians(rotation))
    quarter = np.round(angles / (math.pi / 2))
    slanted = np.abs(angles - quarter * (math.pi / 2)) > _SLANT
    return np.where(slanted, SLANTED, quarter.astype(np.intp) % 4)


def main_turn(turns: Ints) -> int:
    """Return the turn that most letters of the page share, 0 if there is none such."""
    counts = np.bincount(turns[turns != SLANTED], minlength=4)
    most = int(counts.argmax())
    return most if counts[most] > _MOST * len(turns) else 0


def upright(letters: Letters, quarter: int, width: float, height: float) -> Letters:
    """Return letters as seen after the page is turned so that theirs stand upright.

    ``quarter`` right angles against the clock is how the letters are turned; ``width`` and
    ``height`` are those of the page before.
    """
    left, top, right, bottom = letters.left, letters.top, letters.right, letters.bottom
    if quarter == 1:
        box = (height - bottom, left, height - top, right)
    elif quarter == 2:
        box = (width - right, height - bottom, width - left, height - top)
    elif quarter == 3:
        box = (top, width - right, bottom, width - left)
    else:
        box = (left, top, right, bottom)
    return Letters(letters.units, letters.index, letters.line, *box)
