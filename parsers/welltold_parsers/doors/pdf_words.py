"""Words with boxes from one PDF page: letters are cut where blanks or their boxes say so."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import repeat
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import (
    PRIVATE,
    UNKNOWN,
    Flags,
    Floats,
    Ints,
    Letters,
    letters_of,
)
from welltold_parsers.doors.pdf_marks import cut_marks, tell_marks
from welltold_parsers.geometry import Word

_GAP = 0.6
"""A gap inside a word wider than this share of the letters' height separates two cells."""
_STEP = 0.5
"""Letters whose middles differ by more than this share of their height stand on two lines."""
_TURNED_GAP = 0.15
"""Turned text comes without blanks that could be trusted; a blank is at least this wide."""
_NO_MAP_SHARE = 0.3
"""More letters than this without a meaning: the page's fonts have no character map."""
_UNSEEN_CONFIDENCE = 0.9
"""Invisible text is somebody's recognition of a picture, which nobody here can vouch for."""
_SLANT = 0.1
"""Radians by which text may differ from a right angle."""


@dataclass(frozen=True, slots=True)
class Found:
    """The words of a page, and the names of what should be told about it."""

    words: tuple[Word, ...] = ()
    notes: tuple[str, ...] = ()


def words_of(page: pypdfium2.PdfPage) -> Found:
    """Return the words of ``page`` in the order of its text layer.

    Words turned by a right angle follow behind the others, each whole and in its own reading
    direction, with the box that it covers. Slanted text (a watermark) and text outside the crop
    box are left out; the first is noted.
    """
    text_page = page.get_textpage()
    try:
        letters = letters_of(page, text_page.raw)
        if letters is None:
            return Found()
        if np.count_nonzero(_meaningless(letters)) > _NO_MAP_SHARE * len(letters):
            return Found(notes=("no_character_map",))
        return _found(page, text_page.raw, letters)
    finally:
        text_page.close()


def _found(page: pypdfium2.PdfPage, handle: Any, letters: Letters) -> Found:
    notes: list[str] = []
    starts = _cut(letters, letters.line, _GAP)
    turned: list[Word] = []
    turns = _turns(page, handle, letters, starts)
    if turns is not None:
        for quarter in (1, 2, 3):
            part = letters.only(turns == quarter)
            if len(part):
                turned += _turned_words(part, quarter)
        if (turns < 0).any():
            notes.append("slanted_text")
        letters = letters.only(turns == 0)
        starts = _cut(letters, letters.line, _GAP)
    words = _words(letters, starts, handle, notes) if len(letters) else []
    width, height = page.get_size()
    inside = (word for word in words + turned if _inside(word, width, height))
    return Found(tuple(inside), tuple(notes))


def _inside(word: Word, width: float, height: float) -> bool:
    across, down = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return 0 <= across <= width and 0 <= down <= height


def _meaningless(letters: Letters) -> Flags:
    """Return which letters have no known meaning; symbol fonts count until they are known."""
    return UNKNOWN[letters.units] | PRIVATE[letters.units]


def _cut(letters: Letters, line: Ints, gap: float) -> Flags:
    """Return which letters begin a word.

    A blank before them, a wide gap to either side, or a step to another line: text drawn column
    by column, or cell by cell without blanks, comes glued together.
    """
    begins = np.ones(len(letters), np.bool_)
    if len(letters) < 2:
        return begins
    left, right = letters.left, letters.right
    height = letters.bottom - letters.top
    tall = np.maximum(height[1:], height[:-1])
    middle = (letters.top + letters.bottom) / 2
    space = np.maximum(left[1:] - right[:-1], left[:-1] - right[1:])
    begins[1:] = (
        (line[1:] != line[:-1])
        | (space > gap * tall)
        | (np.abs(middle[1:] - middle[:-1]) > _STEP * tall)
    )
    return begins


def _words(letters: Letters, begins: Flags, handle: Any, notes: list[str]) -> list[Word]:
    marks = cut_marks(letters, begins)
    starts = np.flatnonzero(begins)
    texts = _texts(letters, starts)
    boxes = _boxes(letters, starts)
    unseen = _unseen(handle, letters.index[starts])
    words = [Word(text, *box) for text, box in zip(texts, boxes, strict=True)]
    if unseen.any():
        notes.append("invisible_text")
        for place in np.flatnonzero(unseen).tolist():
            words[place] = replace(words[place], confidence=_UNSEEN_CONFIDENCE)
    if marks:
        words = tell_marks(words, {int(np.searchsorted(starts, mark)) for mark in marks})
    return words


def _texts(letters: Letters, starts: Ints) -> list[str]:
    text = letters.units.tobytes().decode("utf-16-le", "replace")
    ends = [*starts[1:].tolist(), len(letters)]
    if len(text) == len(letters):
        return [text[i:j] for i, j in zip(starts.tolist(), ends, strict=True)]
    # Characters outside the basic plane are two units each.
    return [
        letters.units[i:j].tobytes().decode("utf-16-le", "replace")
        for i, j in zip(starts.tolist(), ends, strict=True)
    ]


def _boxes(letters: Letters, starts: Ints) -> list[list[float]]:
    """Return left, top, right, bottom of each word, to a hundredth of a point."""
    edges = np.stack(
        (
            np.minimum.reduceat(letters.left, starts),
            np.minimum.reduceat(letters.top, starts),
            np.maximum.reduceat(letters.right, starts),
            np.maximum.reduceat(letters.bottom, starts),
        ),
        axis=1,
    )
    boxes: list[list[float]] = edges.round(2).tolist()
    return boxes


def _unseen(handle: Any, index: Ints) -> Flags:
    """Return which characters are drawn invisibly (render mode 3)."""
    objects = map(pdfium.FPDFText_GetTextObject, repeat(handle), index.tolist())
    modes = map(pdfium.FPDFTextObj_GetTextRenderMode, objects)
    invisible = pdfium.FPDF_TEXTRENDERMODE_INVISIBLE
    return np.fromiter((mode == invisible for mode in modes), np.bool_, len(index))


def _turns(page: pypdfium2.PdfPage, handle: Any, letters: Letters, begins: Flags) -> Any:
    """Return by how many right angles each letter is turned (-1: slanted), or None if none is.

    Turned text comes one letter a line, so only such letters are asked first.
    """
    starts = np.flatnonzero(begins)
    lengths = np.diff(np.append(starts, len(letters)))
    single = starts[lengths == 1]
    if len(single) < 2:
        return None
    turn = page.get_rotation()
    if not _quarters(handle, letters.index[single], turn).any():
        return None
    return _quarters(handle, letters.index, turn)


def _quarters(handle: Any, index: Ints, rotation: int) -> Ints:
    angles = np.fromiter(
        map(pdfium.FPDFText_GetCharAngle, repeat(handle), index.tolist()), np.float64, len(index)
    )
    angles -= math.radians(rotation)
    quarter = np.round(angles / (math.pi / 2))
    slanted = np.abs(angles - quarter * (math.pi / 2)) > _SLANT
    return np.where(slanted, -1, quarter.astype(np.intp) % 4)


def _turned_words(letters: Letters, quarter: int) -> list[Word]:
    """Return the words of turned text; ``quarter`` right angles, against the clock."""
    along, across = _frame(letters, quarter)
    upright = Letters(
        letters.units, letters.index, letters.line, along[0], across[0], along[1], across[1]
    )
    starts = np.flatnonzero(_cut(upright, np.zeros(len(letters), np.intp), _TURNED_GAP))
    texts = _texts(letters, starts)
    return [Word(text, *box) for text, box in zip(texts, _boxes(letters, starts), strict=True)]


def _frame(letters: Letters, quarter: int) -> tuple[tuple[Floats, Floats], tuple[Floats, Floats]]:
    """Return (begin, end) along the reading direction and (begin, end) across it."""
    left, top, right, bottom = letters.left, letters.top, letters.right, letters.bottom
    if quarter == 1:
        return (-bottom, -top), (left, right)
    if quarter == 2:
        return (-right, -left), (-bottom, -top)
    return (top, bottom), (-right, -left)
