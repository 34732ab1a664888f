"""Text that is in the file and not on the page: invisible, or white on white."""

from __future__ import annotations

from ctypes import byref, c_uint
from itertools import repeat
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import Flags, Ints, Letters

_WHITE = 250
"""Of 255: a fill colour that is at least this in red, green and blue cannot be told from white."""
_INK = 16
"""Of 255: a box in which the picture varies by less than this shows nothing."""


def unseen_letters(
    page: pypdfium2.PdfPage, handle: Any, letters: Letters, firsts: Ints
) -> Flags | None:
    """Return which letters cannot be seen, None if all can.

    ``firsts`` are the places of the first letters of words, which speak for the rest. White letters
    are looked at in a small picture of the page: on a dark ground they are seen.
    """
    index = letters.index[firsts].tolist()
    objects = map(pdfium.FPDFText_GetTextObject, repeat(handle), index)
    modes = [pdfium.FPDFTextObj_GetTextRenderMode(one) for one in objects]
    unseen = np.array(modes) == pdfium.FPDF_TEXTRENDERMODE_INVISIBLE
    white = _white(handle, index)
    if white.any():
        unseen |= white & _blank(page, letters, firsts, white)
    if not unseen.any():
        return None
    return np.repeat(unseen, np.diff(np.append(firsts, len(letters))))


def _white(handle: Any, index: list[int]) -> Flags:
    red, green, blue, alpha = c_uint(), c_uint(), c_uint(), c_uint()
    pointers = byref(red), byref(green), byref(blue), byref(alpha)
    white = np.zeros(len(index), np.bool_)
    for place, one in enumerate(index):
        if pdfium.FPDFText_GetFillColor(handle, one, *pointers):
            white[place] = min(red.value, green.value, blue.value) >= _WHITE
    return white


def _blank(page: pypdfium2.PdfPage, letters: Letters, firsts: Ints, asked: Flags) -> Flags:
    """Return behind which of the ``asked`` words the picture of the page shows nothing at all."""
    bitmap = page.render(scale=2, grayscale=True)
    picture = bitmap.to_numpy()
    ends = np.append(firsts[1:], len(letters))
    blank = np.zeros(len(firsts), np.bool_)
    for place in np.flatnonzero(asked).tolist():
        word = slice(int(firsts[place]), int(ends[place]))
        left, right = 2 * letters.left[word].min(), 2 * letters.right[word].max()
        top, bottom = 2 * letters.top[word].min(), 2 * letters.bottom[word].max()
        part = picture[max(int(top), 0) : int(bottom) + 1, max(int(left), 0) : int(right) + 1]
        blank[place] = not part.size or int(part.max()) - int(part.min()) < _INK
    bitmap.close()
    return blank
