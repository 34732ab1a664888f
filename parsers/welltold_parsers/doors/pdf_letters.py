"""The characters of one PDF page as columns of an array, in the coordinates of the seen page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import repeat
from typing import Any

import numpy as np
import numpy.typing as npt
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_calls import loose_box, number_of

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.intp]
Flags = npt.NDArray[np.bool_]
Units = npt.NDArray[np.uint16]


def among(*codes: int | range) -> Flags:
    """Return a table that tells for each UTF-16 unit whether it is one of ``codes``."""
    table = np.zeros(0x10000, np.bool_)
    for code in codes:
        table[list(code) if isinstance(code, range) else code] = True
    return table


BLANK = among(range(0x9, 0xE), range(0x1C, 0x21), 0x85, 0xA0, range(0x2000, 0x200B), 0x202F, 0x3000)
"""Characters that end a word."""
NOTHING = among(range(0x200B, 0x2010), 0x2060, 0xFEFF)
"""Characters without a picture that do not end a word."""
UNKNOWN = among(range(9), range(0xE, 0x1C), range(0x7F, 0x85), range(0x86, 0xA0), 0xFFFD, 0xFFFF)
"""What comes when a font does not tell what its glyphs mean."""
PRIVATE = among(range(0xE000, 0xF900))
"""Symbol fonts put their own glyphs here."""
_HYPHENS = among(0xFFFE, 0xAD)
"""pdfium marks a hyphen at a line's end with U+FFFE; a soft hyphen with a picture is one too."""


@dataclass(frozen=True, slots=True)
class Letters:
    """The characters of a page that are no blanks; points from the top left of the seen page."""

    units: Units
    """UTF-16 units; a character outside the basic plane is two letters."""
    index: Ints
    """Where each stands in pdfium's own list."""
    line: Ints
    """How many blanks stand before it: letters of one word have the same number."""
    left: Floats
    top: Floats
    right: Floats
    bottom: Floats
    unseen: Flags | None = None
    """Which letters are in the file and not on the page; None: all are on it."""

    def __len__(self) -> int:
        return len(self.units)

    def only(self, which: Flags) -> Letters:
        """Return the letters for which ``which`` is true."""
        return Letters(
            self.units[which],
            self.index[which],
            self.line[which],
            self.left[which],
            self.top[which],
            self.right[which],
            self.bottom[which],
            None if self.unseen is None else self.unseen[which],
        )


def letters_of(page: pypdfium2.PdfPage, handle: Any) -> Letters | None:
    """Return the letters of ``page``, or None when it has none.

    Loose boxes are taken: as tall as the font, not as the glyph, and so words of one row have one
    height. One pass over the C function fills the array.
    """
    count = pdfium.FPDFText_CountChars(handle)
    if count <= 0:
        return None
    units = _units(handle, count)
    blank = BLANK[units]
    index = np.flatnonzero(~(blank | NOTHING[units]))
    if not len(index):
        return None
    boxes = np.zeros((len(index), 4), np.float32)
    places = range(boxes.ctypes.data, boxes.ctypes.data + boxes.nbytes, boxes.itemsize * 4)
    sum(map(loose_box, repeat(number_of(handle)), index.tolist(), places))
    units[_HYPHENS[units]] = ord("-")
    left, top, right, bottom = seen(page, boxes.astype(np.float64))
    return Letters(
        units[index], index, np.cumsum(blank, dtype=np.intp)[index], left, top, right, bottom
    )


def _units(handle: Any, count: int) -> Units:
    """Return the text as UTF-16 units, one for each character of pdfium's list."""
    buffer = np.zeros(count + 1, np.uint16)
    pointer = (pdfium.c_ushort * (count + 1)).from_buffer(buffer)
    written = pdfium.FPDFText_GetText(handle, 0, count, pointer) - 1
    if written == count:
        return buffer[:count]
    # Characters without a meaning are left out of that text, which shifts all behind them.
    codes: Iterable[int] = map(pdfium.FPDFText_GetUnicode, repeat(handle), range(count))
    return np.fromiter((min(code, 0xFFFF) for code in codes), np.uint16, count)


def seen(page: pypdfium2.PdfPage, box: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """Turn boxes from the page's own space to points from the top left of what is seen.

    The text layer knows nothing of the page's rotation nor of its crop box.
    """
    x0, y0, x1, y1 = page.get_bbox()
    left, top, right, bottom = box.T
    turn = page.get_rotation()
    if turn == 90:
        return bottom - y0, left - x0, top - y0, right - x0
    if turn == 180:
        return x1 - right, bottom - y0, x1 - left, top - y0
    if turn == 270:
        return y1 - top, x1 - right, y1 - bottom, x1 - left
    return left - x0, y1 - top, right - x0, y1 - bottom
