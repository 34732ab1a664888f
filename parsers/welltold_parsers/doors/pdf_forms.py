"""Form fields of a PDF page: their values are in no text layer until they are flattened."""

from __future__ import annotations

from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium

from welltold_parsers.doors.pdf_letters import Floats, seen
from welltold_parsers.geometry import Word

_TICKED = {True: "☑", False: "☐"}
_BOXES = {pdfium.FPDF_FORMFIELD_CHECKBOX, pdfium.FPDF_FORMFIELD_RADIOBUTTON}
_NOT_SEEN = pdfium.FPDF_ANNOT_FLAG_HIDDEN | pdfium.FPDF_ANNOT_FLAG_NOVIEW


def tick_boxes(document: pypdfium2.PdfDocument, page: pypdfium2.PdfPage) -> list[Word]:
    """Return a word "☑" or "☐" for each tick box of a page that is not flattened yet."""
    found: list[Word] = []
    for number in range(pdfium.FPDFPage_GetAnnotCount(page)):
        field = pdfium.FPDFPage_GetAnnot(page, number)
        if not field:
            continue
        try:
            if _is_seen_box(document, field):
                ticked = bool(pdfium.FPDFAnnot_IsChecked(document.formenv, field))
                edges = (float(edge[0]) for edge in seen(page, _rectangle(field)))
                found.append(Word(_TICKED[ticked], *(round(edge, 2) for edge in edges)))
        finally:
            pdfium.FPDFPage_CloseAnnot(field)
    return found


def _is_seen_box(document: pypdfium2.PdfDocument, field: Any) -> bool:
    kind = pdfium.FPDFAnnot_GetFormFieldType(document.formenv, field)
    return kind in _BOXES and not pdfium.FPDFAnnot_GetFlags(field) & _NOT_SEEN


def _rectangle(field: Any) -> Floats:
    """Return the box of a field in the page's own space, one row: left, top, right, bottom."""
    box = pdfium.FS_RECTF()
    pdfium.FPDFAnnot_GetRect(field, box)
    return np.array([[box.left, box.top, box.right, box.bottom]])
