"""Reads print that stands on end, such as the heads of narrow columns.

The network that reads lines wants them level; a head on end is turned for it, the way that reads
better. Its words keep their places on the page, higher than wide, as a text layer has them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from welltold_parsers.geometry import Word

from .detect import Found
from .level import ON_END
from .recognise import Read, read_lines
from .straight import quarter
from .words import pieces_of

Gray = NDArray[np.uint8]
_FEWEST = 3
"""So many stand side by side, or they are rules, brackets and figures in a narrow box."""
_SURE = 0.85
"""Letters of print on end are read with so much certainty in the mean; strokes are not."""
_LETTERS = 2
_INSET = 0.12
"""The area of print is wider than its letters by this share at either side."""


def standing(areas: Sequence[Found]) -> list[Found]:
    """Return the areas that may hold print on end; none where there are but one or two."""
    found = [one for one in areas if one.height > ON_END * one.width]
    return found if len(found) >= _FEWEST else []


def words_on_end(picture: Gray, areas: Sequence[Found], scale: float) -> list[Word]:
    """Return the words of areas on end, in points; ``scale`` is pixels a point."""
    crops = [_crop(picture, one) for one in areas]
    rising = read_lines([quarter(one, 90) for one in crops])
    falling = read_lines([quarter(one, 270) for one in crops])
    up = sum(read.sure for read in rising) >= sum(read.sure for read in falling)
    words: list[Word] = []
    for area, crop, read in zip(areas, crops, rising if up else falling, strict=True):
        if read.sure >= _SURE and sum(c.isalnum() for c in read.text) >= _LETTERS:
            words += _words(area, quarter(crop, 90 if up else 270), read, scale, up=up)
    return words


def _crop(picture: Gray, area: Found) -> Gray:
    top, left = max(int(area.top), 0), max(int(area.left), 0)
    part = picture[top : int(np.ceil(area.bottom)), left : int(np.ceil(area.right))]
    return np.ascontiguousarray(part)


def _words(area: Found, line: Gray, read: Read, scale: float, *, up: bool) -> Iterator[Word]:
    """Yield the words of one area; what is left on the turned line is low on the page, if up."""
    left = (area.left + _INSET * area.width) / scale
    right = (area.right - _INSET * area.width) / scale
    top, bottom = int(max(area.top, 0)), int(max(area.top, 0)) + line.shape[1]
    for piece in pieces_of(line, read):
        ends = (
            (bottom - piece.right, bottom - piece.left)
            if up
            else (top + piece.left, top + piece.right)
        )
        sure = min(letter.sure for letter in piece.letters)
        a, b, c, d = (round(x, 2) for x in (left, ends[0] / scale, right, ends[1] / scale))
        yield Word(piece.text, a, b, c, d, round(sure, 4))
