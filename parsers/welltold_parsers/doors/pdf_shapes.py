"""Small drawn shapes of a PDF page: squares and rings to be ticked, ellipses round a word.

Whether a square is ticked is seen in a picture of the page: a cross of two lines, a filled square,
a letter, a sign of an unknown font and a picture all leave ink in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

import numpy as np
import numpy.typing as npt
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import seen
from welltold_parsers.geometry import Box

_MOST = 20_000
"""A page with more drawings than this is a drawing, and no form."""
_DEEPEST = 4
_SIDE = (4.5, 20.0)
"""Points: how long the side of a tick box is."""
_SQUARE = 0.7
"""The shorter side of a tick box against the longer one."""
_RING = (8.0, 60.0)
"""Points: how high a ring round a word is."""
_RING_WIDE = 200.0
_THIN = 3.0
"""A shape that is thinner is a line."""
_CURVES = 4
"""A ring is made of at least so many curves."""
_PIECES = 4
"""A ring that is drawn by hand has so many short straight pieces for each curve."""
_SAME = 0.6
"""Two shapes whose middles are nearer than this share of the side are one box and its cross."""
_SCALE = 4.0
"""Pixels a point of the picture in which ink is looked for."""
_INSET = 0.3
"""The share of a box left out on each side: its own edge."""
_STEP = 50
"""Of 255: ink is so much darker than the paper in its box."""
_DARK, _GREY = 128, 200
_TICKED, _EMPTY = 0.06, 0.01
"""The share of ink in a ticked and in an empty box; between the two nobody can tell."""

Matrix = tuple[float, float, float, float, float, float]
_SAME_SPACE: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


def shapes_of(page: pypdfium2.PdfPage) -> tuple[list[Box], list[Box]]:
    """Return the boxes and the rings of a page, in points from the top left of what is seen."""
    squares: list[Box] = []
    rings: list[Box] = []
    for box, curves in islice(_paths(page), _MOST):
        left, top, right, bottom = box
        short, long = sorted((right - left, bottom - top))
        if _SIDE[0] <= long <= _SIDE[1] and short >= _SQUARE * long:
            squares.append(box)
        elif curves >= _CURVES and _RING[0] <= bottom - top <= _RING[1] and long <= _RING_WIDE:
            rings.append(box)
    return _outermost(squares), rings


def _paths(page: pypdfium2.PdfPage) -> Iterator[tuple[Box, int]]:
    """Yield the box as seen and the number of curves of each drawing that is small enough."""
    for one, matrix in _objects(page, page, _SAME_SPACE, 0):
        left, bottom, right, top = one.get_bounds()
        corners = [_moved(matrix, x, y) for x in (left, right) for y in (bottom, top)]
        across, down = zip(*corners, strict=True)
        low, high = (min(across), min(down)), (max(across), max(down))
        short, long = sorted((high[0] - low[0], high[1] - low[1]))
        if not _SIDE[0] <= long <= _RING_WIDE or short < _THIN:
            continue
        box = np.array([[low[0], high[1], high[0], low[1]]])
        edges = [float(edge[0]) for edge in seen(page, box)]
        count = min(pdfium.FPDFPath_CountSegments(one), _MOST)
        kinds = [
            pdfium.FPDFPathSegment_GetType(pdfium.FPDFPath_GetPathSegment(one, number))
            for number in range(count)
        ]
        curves = kinds.count(pdfium.FPDF_SEGMENT_BEZIERTO) // 3
        curves = max(curves, kinds.count(pdfium.FPDF_SEGMENT_LINETO) // _PIECES)
        yield (edges[0], edges[1], edges[2], edges[3]), curves


def _objects(
    page: pypdfium2.PdfPage,
    parent: pypdfium2.PdfPage | pypdfium2.PdfObject,
    matrix: Matrix,
    depth: int,
) -> Iterator[tuple[pypdfium2.PdfObject, Matrix]]:
    """Yield the drawings of a page, and of what it holds, each with the matrix of its holder."""
    inside = parent if depth else None
    kinds = [pdfium.FPDF_PAGEOBJ_PATH, pdfium.FPDF_PAGEOBJ_FORM]
    for one in page.get_objects(filter=kinds, max_depth=1, form=inside):
        if one.type == pdfium.FPDF_PAGEOBJ_PATH:
            yield one, matrix
        elif depth < _DEEPEST:
            yield from _objects(page, one, _after(one.get_matrix().get(), matrix), depth + 1)


def _moved(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return a * x + c * y + e, b * x + d * y + f


def _after(first: Matrix, then: Matrix) -> Matrix:
    """Return the matrix that does ``first`` and then ``then``."""
    a, b = _moved((*then[:4], 0.0, 0.0), first[0], first[1])
    c, d = _moved((*then[:4], 0.0, 0.0), first[2], first[3])
    return a, b, c, d, *_moved(then, first[4], first[5])


def _outermost(squares: list[Box]) -> list[Box]:
    """Return one box for the shapes that lie in each other: an edge, its cross, its filling."""
    kept: list[Box] = []
    for box in sorted(squares, key=lambda b: b[1] - b[3]):
        side = max(box[2] - box[0], box[3] - box[1])
        if not any(_apart(box, other) < _SAME * max(side, other[3] - other[1]) for other in kept):
            kept.append(box)
    return kept


def _apart(one: Box, other: Box) -> float:
    return max(
        abs(one[0] + one[2] - other[0] - other[2]) / 2,
        abs(one[1] + one[3] - other[1] - other[3]) / 2,
    )


def ticked(page: pypdfium2.PdfPage, boxes: list[Box]) -> list[bool | None]:
    """Return for each box whether it is ticked; None where the picture does not settle it."""
    if not boxes:
        return []
    bitmap = page.render(scale=_SCALE, grayscale=True)
    try:
        picture = bitmap.to_numpy()
        picture = picture.reshape(picture.shape[:2])
        return [_has_ink(_inside(picture, box)) for box in boxes]
    finally:
        bitmap.close()


def _inside(picture: npt.NDArray[np.uint8], box: Box) -> npt.NDArray[np.uint8]:
    wide, high = _INSET * (box[2] - box[0]), _INSET * (box[3] - box[1])
    left, right = round(_SCALE * (box[0] + wide)), round(_SCALE * (box[2] - wide))
    top, bottom = round(_SCALE * (box[1] + high)), round(_SCALE * (box[3] - high))
    return picture[max(top, 0) : bottom + 1, max(left, 0) : right + 1]


def _has_ink(part: npt.NDArray[np.uint8]) -> bool | None:
    if not part.size:
        return None
    paper = int(part.max())
    if paper < _DARK:
        return True
    share = float((part < paper - _STEP).mean())
    if share >= _TICKED:
        return True
    return False if share <= _EMPTY and paper >= _GREY else None
