"""Text that does not run from left to right: turned by right angles, upside down, slanted."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import repeat
from typing import Any, TypeVar

import numpy as np
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import Flags, Floats, Ints, Letters

_SLANT = 0.1
"""Radians by which text may differ from a right angle."""
_TALL = 1.8
"""A word of so many times the usual height may be slanted, or a turned one."""
_SAMPLE = 8
"""So many words are asked in any case."""
_MOST = 0.5
"""The page as a whole is turned when more than this share of its letters is."""
SLANTED = -1

Edge = TypeVar("Edge", float, Floats)
Box = tuple[Edge, Edge, Edge, Edge]


def turns_of(handle: Any, letters: Letters, begins: Flags, rotation: int) -> Ints | None:
    """Return by how many right angles, against the clock, each letter is turned as seen.

    `SLANTED` for any other angle; None when all text is upright. Turned text comes one letter a
    line from the text layer, slanted text in boxes that are too high, a page upside down shows
    anywhere. So only the first letters of such words and a few others are asked before all are.
    """
    starts = np.flatnonzero(begins)
    single = np.diff(np.append(starts, len(letters))) == 1
    height = np.maximum.reduceat(letters.bottom, starts) - np.minimum.reduceat(letters.top, starts)
    asked = single | (height > _TALL * _median(height))
    asked[:: max(len(starts) // _SAMPLE, 1)] = True
    if not _quarters(handle, letters.index[starts[asked]], rotation).any():
        return None
    return _quarters(handle, letters.index, rotation)


def _median(values: Floats) -> float:
    """Return what numpy's own would, which takes ten times as long for so few."""
    ordered = np.sort(values)
    half = len(ordered) // 2
    return float(ordered[half] if len(ordered) % 2 else (ordered[half - 1] + ordered[half]) / 2)


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


def turned_box(box: Box[Edge], quarter: int, width: float, height: float) -> Box[Edge]:
    """Return left, top, right, bottom as seen after the page is turned with the clock.

    ``quarter`` is by how many right angles; ``width`` and ``height`` are those of the page before.
    """
    left, top, right, bottom = box
    if quarter == 1:
        return height - bottom, left, height - top, right
    if quarter == 2:
        return width - right, height - bottom, width - left, height - top
    if quarter == 3:
        return top, width - right, bottom, width - left
    return box


def upright(letters: Letters, quarter: int, width: float, height: float) -> Letters:
    """Return letters that are turned by ``quarter`` as seen when their page is turned back."""
    box = (letters.left, letters.top, letters.right, letters.bottom)
    left, top, right, bottom = turned_box(box, quarter, width, height)
    return replace(letters, left=left, top=top, right=right, bottom=bottom)
