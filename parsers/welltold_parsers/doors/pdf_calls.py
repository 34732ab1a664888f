"""pdfium's functions that are called for every letter or word of a page, with plain numbers.

The library's own binding makes an object of ctypes for each argument, which costs more than the
call. Here a handle, a pointer and a result are whole numbers; what is called is the same.
"""

from __future__ import annotations

from ctypes import CFUNCTYPE, c_int, c_size_t, c_void_p, cast
from typing import Any

import pypdfium2.raw as pdfium


def number_of(handle: Any) -> int:
    """Return the address of a handle or a function of the binding."""
    return cast(handle, c_void_p).value or 0


def _plain(function: Any, result: Any, *arguments: Any) -> Any:
    """Return a function of pdfium that takes and gives whole numbers for pointers."""
    return CFUNCTYPE(result, *arguments)(number_of(function))


loose_box = _plain(pdfium.FPDFText_GetLooseCharBox, c_int, c_void_p, c_int, c_void_p)
"""Page of text, letter, where its box is written: four floats."""
text_object = _plain(pdfium.FPDFText_GetTextObject, c_size_t, c_void_p, c_int)
"""Page of text, letter: the object of the page that shows it; 0: none."""
render_mode = _plain(pdfium.FPDFTextObj_GetTextRenderMode, c_int, c_void_p)
"""Object of text: how its letters are painted."""
map_error = _plain(pdfium.FPDFText_HasUnicodeMapError, c_int, c_void_p, c_int)
"""Page of text, letter: 1 where the font does not tell what it means."""
