"""Pages of a PDF that are pictures, drawn at the resolution of the scan itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray

from .shot import Shot

Gray = NDArray[np.uint8]
_COARSEST = 150 / 72
_FINEST = 300 / 72
_USUAL = 200 / 72
_LONGEST = 3600
"""Pixels of the longer side at most."""


def shots_of(document: pypdfium2.PdfDocument, numbers: Sequence[int]) -> Iterator[Shot]:
    """Yield the pictures of pages, each drawn when it is asked for."""
    for number in numbers:
        page = document[number - 1]
        try:
            yield Shot(drawn(page), page.get_size(), number=number, of=len(numbers))
        finally:
            page.close()


def drawn(page: pypdfium2.PdfPage) -> Gray:
    """Return a page as a picture, in the resolution of the largest picture on it."""
    scale = min(_scale_of(page), _LONGEST / max(page.get_size()))
    bitmap = page.render(scale=scale, grayscale=True)
    try:
        shades = bitmap.to_numpy()
        return np.array(shades[:, :, 0] if shades.ndim == 3 else shades, np.uint8)
    finally:
        bitmap.close()


def _scale_of(page: pypdfium2.PdfPage) -> float:
    """Return pixels a point of the largest picture, within what is worth the work."""
    best, area = _USUAL, 0.0
    for picture in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_IMAGE], max_depth=4):
        left, bottom, right, top = picture.get_bounds()
        wide, tall = right - left, top - bottom
        if wide * tall > area and min(wide, tall) > 0:
            area = wide * tall
            across, down = picture.get_px_size()
            best = max(max(across, down) / max(wide, tall), min(across, down) / min(wide, tall))
    return min(max(best, _COARSEST), _FINEST)
