"""Form fields and typed notes of a PDF page, which are in no text layer until flattened."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import Floats, seen
from welltold_parsers.geometry import Word

_TICKED = {True: "☑", False: "☐"}
_BOXES = {pdfium.FPDF_FORMFIELD_CHECKBOX, pdfium.FPDF_FORMFIELD_RADIOBUTTON}
_NOT_SEEN = pdfium.FPDF_ANNOT_FLAG_HIDDEN | pdfium.FPDF_ANNOT_FLAG_NOVIEW
_TEXTS = {pdfium.FPDF_ANNOT_WIDGET, pdfium.FPDF_ANNOT_FREETEXT, pdfium.FPDF_ANNOT_STAMP}
"""Annotations that show text: form fields, text typed over the page, stamps."""
_DRAWN = {pdfium.FPDF_ANNOT_CIRCLE, pdfium.FPDF_ANNOT_SQUARE, pdfium.FPDF_ANNOT_INK}
_DRAWN |= {pdfium.FPDF_ANNOT_LINE, pdfium.FPDF_ANNOT_POLYLINE, pdfium.FPDF_ANNOT_POLYGON}
"""Annotations that draw: a ring round a word, a tick by hand."""


@dataclass(slots=True)
class Laid:
    """What lies on top of a page."""

    ticks: list[Word] = field(default_factory=list)
    """"☑" or "☐" for each tick box."""
    texts: bool = False
    """Something that shows text, or draws."""
    damaged: bool = False
    """An annotation is broken. pdfium must not flatten such a page: it can crash."""


def laid_on(document: pypdfium2.PdfDocument, page: pypdfium2.PdfPage) -> Laid:
    """Return what lies on top of a page that is not flattened yet."""
    laid = Laid()
    for number in range(pdfium.FPDFPage_GetAnnotCount(page)):
        with _annotation(page, number) as one:
            kind = pdfium.FPDFAnnot_GetSubtype(one) if one else pdfium.FPDF_ANNOT_UNKNOWN
            if kind == pdfium.FPDF_ANNOT_UNKNOWN:
                laid.damaged = True
                continue
            laid.texts = laid.texts or kind in _TEXTS or kind in _DRAWN
            if document.formenv is not None and _is_seen_box(document, one):
                ticked = bool(pdfium.FPDFAnnot_IsChecked(document.formenv, one))
                edges = (float(edge[0]) for edge in seen(page, _rectangle(one)))
                laid.ticks.append(Word(_TICKED[ticked], *(round(edge, 2) for edge in edges)))
    return laid


def flattened(page: pypdfium2.PdfPage) -> bool:
    """Make what lies on the page a part of it, in memory; whether that worked.

    The page must be loaded again to be read.
    """
    done = pdfium.FPDFPage_Flatten(page, pdfium.FLAT_NORMALDISPLAY)
    return bool(done != pdfium.FLATTEN_FAIL)


@contextmanager
def _annotation(page: pypdfium2.PdfPage, number: int) -> Iterator[Any]:
    one = pdfium.FPDFPage_GetAnnot(page, number)
    try:
        yield one
    finally:
        if one:
            pdfium.FPDFPage_CloseAnnot(one)


def _is_seen_box(document: pypdfium2.PdfDocument, one: Any) -> bool:
    kind = pdfium.FPDFAnnot_GetFormFieldType(document.formenv, one)
    return kind in _BOXES and not pdfium.FPDFAnnot_GetFlags(one) & _NOT_SEEN


def _rectangle(one: Any) -> Floats:
    """Return a box in the page's own space, one row: left, top, right, bottom."""
    box = pdfium.FS_RECTF()
    pdfium.FPDFAnnot_GetRect(one, box)
    return np.array([[box.left, box.top, box.right, box.bottom]])
