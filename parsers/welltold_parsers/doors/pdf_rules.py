"""Drawn lines and edges of rectangles on a PDF page, extracted only when somebody asks.

Going through a page's drawings takes longer than reading its words, and most tables can be read
without.
"""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import byref, c_float
from itertools import pairwise
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold.errors import DamagedFileError
from welltold_parsers.doors.pdf_letters import seen
from welltold_parsers.doors.pdf_turned import turned_box
from welltold_parsers.geometry import Page, Rule

_THICKEST = 2.5
"""Points. A thicker rectangle is an area, and its edges are rules."""
_SHORTEST = 3.0
_MOST = 20_000
"""A page with more pieces of lines than this is a drawing, and no table."""

Ends = tuple[float, float, float, float]


def rules_of(path: Path, page: Page) -> tuple[Rule, ...]:
    """Return the upright and level rules of a page that `open_document` read from ``path``.

    In the coordinates of the page's words; empty for a drawing with too many lines.
    """
    try:
        document = pypdfium2.PdfDocument(path)
    except pypdfium2.PdfiumError as error:
        raise DamagedFileError(str(path), "PDF", str(error)) from error
    try:
        loaded = document[page.number - 1]
        ends: list[Ends] = []
        for drawn in loaded.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1):
            ends += _straight(drawn)
            if len(ends) > _MOST:
                return ()
        return _rules(ends, loaded, page.turn)
    finally:
        document.close()


def _straight(drawn: pypdfium2.PdfObject) -> Iterator[Ends]:
    """Return the straight pieces of one drawing, thin rectangles as one piece."""
    count = min(pdfium.FPDFPath_CountSegments(drawn), _MOST)
    left, bottom, right, top = drawn.get_bounds()
    if count > 2 and (right - left <= _THICKEST or top - bottom <= _THICKEST):
        yield left, bottom, right, top
        return
    matrix = drawn.get_matrix()
    points: list[tuple[float, float] | None] = []
    for number in range(count):
        segment = pdfium.FPDFPath_GetPathSegment(drawn, number)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        x, y = c_float(), c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, byref(x), byref(y))
        if kind != pdfium.FPDF_SEGMENT_LINETO:
            points.append(None)  # a jump or a curve leads here, no straight line
        points.append(matrix.on_point(x.value, y.value))
    for first, second in pairwise(points):
        if first and second:
            yield (*first, *second)


def _rules(ends: list[Ends], loaded: pypdfium2.PdfPage, turn: int) -> tuple[Rule, ...]:
    if not ends:
        return ()
    x0, y0, x1, y1 = np.array(ends, np.float64).T
    box = (np.minimum(x0, x1), np.maximum(y0, y1), np.maximum(x0, x1), np.minimum(y0, y1))
    width, height = loaded.get_size()
    left, top, right, bottom = turned_box(
        seen(loaded, np.stack(box, axis=1)), turn // 90, width, height
    )
    across, down = right - left, bottom - top
    kept = (np.minimum(across, down) <= _THICKEST) & (np.maximum(across, down) >= _SHORTEST)
    edges = np.stack((left, top, right, bottom), axis=1)[kept].round(2)
    return tuple(Rule(*edge) for edge in edges.tolist())
