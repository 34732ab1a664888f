"""Letters whose meaning the page's fonts do not tell, and symbols that can be known by their font.

A letter that stays unknown becomes U+FFFD and stays in its place: were it left out, "<0.5" with a
"<" from a font of signs would be read as 0.5.
"""

from __future__ import annotations

from ctypes import byref, c_int, create_string_buffer
from itertools import repeat
from typing import Any

import numpy as np
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_calls import map_error, number_of
from welltold_parsers.doors.pdf_letters import PRIVATE, UNKNOWN, Flags, Ints, Letters, Units, among

_REPLACEMENT = 0xFFFD
_OFFSET = 0xF000
"""Symbol fonts show their codes in the private area from here on."""

_NUMBERED_SHARE = 0.02
"""Of the letters without a map, more than this below the printable ones: they are numbered."""

_TEXT_SHARE = 0.6
"""A text has at least this share of letters and digits; lab sheets have more than 0.8."""
_ALPHANUMERIC = among(range(0x30, 0x3A), range(0x41, 0x5B), range(0x61, 0x7B), range(0xC0, 0x250))

_SYMBOL = {
    0x25: "%", 0x2B: "+", 0x3C: "<", 0x3D: "=", 0x3E: ">", 0x61: "α", 0x62: "β", 0x67: "γ",
    0x6D: "µ", 0xA3: "≤", 0xB0: "°", 0xB1: "±", 0xB3: "≥", 0xB4: "×", 0xB7: "•", 0xD7: "·",
}  # fmt: skip
"""Adobe's Symbol encoding (ISO 32000-1, annex D.5), the signs that a lab sheet uses."""
_WINGDINGS = {
    0x6E: "■", 0x6F: "☐", 0x71: "☐", 0x72: "☐", 0xA7: "▪", 0xA8: "☐", 0xFB: "✗", 0xFC: "✓",
    0xFD: "☒", 0xFE: "☑",
}  # fmt: skip
"""Ticks and boxes of the Wingdings font as its glyphs look."""


def settle_unknown(handle: Any, letters: Letters, firsts: Ints) -> float:
    """Replace symbols by what they are and unknown letters by U+FFFD; return the share of these.

    A font without a map gives the codes of its glyphs. In many fonts these are the letters
    themselves; in others the glyphs are just numbered, and then none of that kind is believed.
    ``firsts`` are the places of the first letters of words; only when one of them lacks a map are
    all letters asked.
    """
    units = letters.units
    for place in np.flatnonzero(PRIVATE[units]).tolist():
        known = _symbol(handle, int(letters.index[place]), int(units[place]))
        units[place] = ord(known) if known else _REPLACEMENT
    unknown = UNKNOWN[units]
    if _unmapped(handle, letters.index[firsts]).any():
        unmapped = _unmapped(handle, letters.index)
        if _is_numbered(units[unmapped]):
            unknown |= unmapped
    units[unknown] = _REPLACEMENT
    return float(np.count_nonzero(unknown)) / len(letters)


def _is_numbered(units: Units) -> bool:
    """Whether codes that no font maps are numbers of glyphs and not the letters themselves.

    Numbers that begin at 0 fall below the printable characters; those that begin at the first
    printable one make the most frequent letters signs of punctuation.
    """
    if np.count_nonzero(UNKNOWN[units]) > _NUMBERED_SHARE * len(units):
        return True
    return bool(np.count_nonzero(_ALPHANUMERIC[units]) < _TEXT_SHARE * len(units))


def _unmapped(handle: Any, index: Ints) -> Flags:
    """Return which characters come as their code only, because the font does not map it."""
    errors = map(map_error, repeat(number_of(handle)), index.tolist())
    told: Flags = np.fromiter(errors, np.intc, len(index)) == 1
    return told


def _symbol(handle: Any, index: int, unit: int) -> str | None:
    """Return the sign that a private code of a known symbol font stands for."""
    name = create_string_buffer(128)
    pdfium.FPDFText_GetFontInfo(handle, index, name, len(name), byref(c_int()))
    font = name.value.lower()
    code = unit - _OFFSET
    if b"wingdings" in font:
        return _WINGDINGS.get(code)
    return _SYMBOL.get(code) if b"symbol" in font else None
