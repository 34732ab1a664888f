"""From the picture of a page to a `Page` of words with boxes in points."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold_parsers.geometry import Page, Scan, Word

from .detect import Found, find_lines
from .level import Lean, lean_of, levelled, slope_of
from .light import evened
from .poor import is_coarse, look_at, look_at_print
from .recognise import Read, read_lines
from .repairs import mended
from .spacing import spaced
from .straight import quarter, without_table
from .words import pieces_of

Gray = NDArray[np.uint8]
LETTER = 792.0
"""Points of the longer side of a page whose size nobody knows."""
_REMEMBERED = 24
"""Pages: to read a sheet and then show it, it need not be read twice."""
_RECENT: dict[object, Page] = {}
_INSET = 0.12
"""The area of print is taller than its letters by this share at either side."""
_SIDEWAYS = 1.5
"""Areas of print so much taller than wide stand on their side."""
_STEEP = 0.02
"""A page that slopes more is levelled before its lines are found for good."""
_SURE = 0.85
_TRIED = 8
"""Lines that are read the other way round to see whether a page is upside down."""


@dataclass(frozen=True, slots=True)
class Lines:
    """A page made straight, with its lines."""

    picture: Gray
    areas: tuple[Found, ...]
    reads: tuple[Read, ...]
    turn: int


def read_page(picture: Gray, number: int, points: tuple[float, float] | None = None) -> Page:
    """Return the words of a picture as a page; the last pages are remembered.

    ``points`` is the page's size where it is known; else its longer side is that of letter paper.
    Raises `Poor` with a reason when the picture cannot be read.
    """
    key = (hashlib.sha256(picture.tobytes()).digest(), picture.shape, number, points)
    page = _RECENT.pop(key, None) or _read(picture, number, points)
    _RECENT[key] = page
    while len(_RECENT) > _REMEMBERED:
        del _RECENT[next(iter(_RECENT))]
    return page


def _read(picture: Gray, number: int, points: tuple[float, float] | None) -> Page:
    look_at(picture)
    coarse = is_coarse(picture)
    sheet = without_table(picture)
    cut = sheet is not picture
    lines = _upright(evened(sheet))
    look_at_print(lines.picture, lines.areas, lines.reads)
    height, width = lines.picture.shape
    longer = max(points) if points and not cut else LETTER
    scale = max(height, width) / longer
    words, repaired = mended(spaced(_words(lines, scale)))
    _, png = cv2.imencode(".png", lines.picture, [cv2.IMWRITE_PNG_COMPRESSION, 1])
    return Page(
        number,
        round(width / scale, 2),
        round(height / scale, 2),
        tuple(words),
        turn=lines.turn,
        scan=Scan(png.tobytes(), scale, coarse, repaired),
    )


def crop(picture: Gray, area: Found) -> Gray:
    """Return the part of a picture that an area covers."""
    top, left = max(int(area.top), 0), max(int(area.left), 0)
    part = picture[top : int(np.ceil(area.bottom)), left : int(np.ceil(area.right))]
    return np.ascontiguousarray(part)


def _upright(picture: Gray) -> Lines:
    """Find and read the lines of a page, turned so that they can be read."""
    turn, picture, areas = _level(picture)
    if _try_flipped(picture, areas):
        turn += 180
        height, width = picture.shape
        picture = quarter(picture, 180)
        areas = [_opposite(one, width, height) for one in reversed(areas)]
    reads = read_lines([crop(picture, one) for one in areas])
    return Lines(picture, tuple(areas), tuple(reads), turn)


def _level(picture: Gray) -> tuple[int, Gray, list[Found]]:
    """Find the lines of a page and make them level; the page may still be upside down."""
    turn, areas = 0, find_lines(picture)
    long = [one for one in areas if max(one.width, one.height) > 2 * min(one.width, one.height)]
    sideways = sum(one.height > _SIDEWAYS * one.width for one in long)
    if sideways > 0.5 * len(long):
        turn, picture = 90, quarter(picture, 90)
        areas = find_lines(picture)
    slope = slope_of(areas)
    if abs(slope) > _STEEP:
        picture, _ = levelled(picture, (), Lean(slope, 0.0, -slope, 0.0))
        areas = find_lines(picture)
    picture, areas = levelled(picture, areas, lean_of(areas, picture.shape))
    return turn, picture, areas


def _try_flipped(picture: Gray, areas: Sequence[Found]) -> bool:
    """Whether the page is upside down: its longest lines are read both ways where in doubt."""
    longest = sorted(areas, key=lambda one: one.width / max(one.height, 1), reverse=True)
    crops = [crop(picture, one) for one in longest[:_TRIED]]
    if not crops:
        return False
    upright = _mean(read_lines(crops))
    if upright > _SURE + 0.1:
        return False
    return _mean(read_lines([quarter(one, 180) for one in crops])) > upright


def _mean(reads: Sequence[Read]) -> float:
    letters = [letter.sure for one in reads for letter in one.letters]
    return sum(letters) / len(letters) if letters else 0.0


def _opposite(area: Found, width: int, height: int) -> Found:
    left, right = width - area.right, width - area.left
    return Found(left, height - area.bottom, right, height - area.top, area.angle, area.thick)


def _words(lines: Lines, scale: float) -> list[Word]:
    words = []
    for area, read in zip(lines.areas, lines.reads, strict=True):
        top = (area.top + _INSET * area.height) / scale
        bottom = (area.bottom - _INSET * area.height) / scale
        for piece in pieces_of(crop(lines.picture, area), read):
            left, right = ((int(area.left) + x) / scale for x in (piece.left, piece.right))
            sure = min(letter.sure for letter in piece.letters)
            a, b, c, d = (round(edge, 2) for edge in (left, top, right, bottom))
            words.append(Word(piece.text, a, b, c, d, round(sure, 4)))
    return words
