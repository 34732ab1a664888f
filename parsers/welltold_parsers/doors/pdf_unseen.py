"""Text that is in the file and not on the page: invisible, or white on white."""

from __future__ import annotations

import math
from ctypes import byref, c_uint
from itertools import repeat
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_calls import number_of, render_mode, text_object
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
    index = letters.index[firsts]
    objects = map(text_object, repeat(number_of(handle)), index.tolist())
    # Words of one object are painted alike: one of them is asked.
    own, first, inverse = np.unique(
        np.fromiter(objects, np.uintp, len(index)), return_index=True, return_inverse=True
    )
    modes = np.fromiter(map(render_mode, own.tolist()), np.intc, len(own))
    unseen = (modes == pdfium.FPDF_TEXTRENDERMODE_INVISIBLE)[inverse]
    white = _white(handle, index[first].tolist())[inverse]
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
    ends = np.append(firsts[1:], len(letters))
    places = np.flatnonzero(asked).tolist()
    words = [slice(int(firsts[place]), int(ends[place])) for place in places]
    tops = [max(int(2 * letters.top[word].min()), 0) for word in words]
    bottoms = [int(2 * letters.bottom[word].max()) + 1 for word in words]
    # Only the stretch of the page on which such words stand is painted.
    high = math.ceil(2 * page.get_height())
    first = min(*tops, high - 1)
    last = min(max(*bottoms, first + 1), high)
    crop = (0, (high - last) / 2, 0, first / 2)
    bitmap = page.render(scale=2, grayscale=True, crop=crop)
    picture = bitmap.to_numpy()
    blank = np.zeros(len(firsts), np.bool_)
    for place, word, top, bottom in zip(places, words, tops, bottoms, strict=True):
        left, right = 2 * letters.left[word].min(), 2 * letters.right[word].max()
        rows = picture[max(top - first, 0) : max(bottom - first, 0)]
        part = rows[:, max(int(left), 0) : int(right) + 1]
        blank[place] = not part.size or int(part.max()) - int(part.min()) < _INK
    bitmap.close()
    return blank
