"""PDF pages drawn for one test each, and what the door makes of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from reportlab.lib.pagesizes import letter
from reportlab.pdfgen.canvas import Canvas

from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Document, Page

Draw = Callable[[Canvas], object]
Change = Callable[[pikepdf.Page], object]

ROWS = (("Lead", "0.015", "mg/L"), ("Iron", "<0.10", "mg/L"), ("Nitrate-N", "10.2", "mg/L"))


def table(canvas: Canvas, top: float = 700) -> None:
    canvas.setFont("Helvetica", 10)
    for line, cells in enumerate(ROWS):
        for column, text in enumerate(cells):
            canvas.drawString(72 + 130 * column, top - 14 * line, text)


def made(path: Path, draw: Draw, change: Change | None = None, pages: int = 1) -> Path:
    canvas = Canvas(str(path), pagesize=letter)
    for _ in range(pages):
        draw(canvas)
        canvas.showPage()
    canvas.save()
    if change:
        with pikepdf.open(path, allow_overwriting_input=True) as pdf:
            change(pdf.pages[0])
            pdf.save(path)
    return path


def opened(path: Path, draw: Draw, change: Change | None = None) -> Document:
    return open_document(made(path / "sheet.pdf", draw, change))


def texts(page: Page) -> list[str]:
    return [word.text for word in page.words]


def codes(document: Document) -> list[str]:
    return [warning.code for warning in document.warnings]


def rotate(degrees: int) -> Change:
    def change(page: pikepdf.Page) -> None:
        page.obj.Rotate = degrees

    return change


def assert_ink(path: Path, page: Page, scale: float = 3.0) -> None:
    """Every word's box has dark ink in it, and hardly any ink is outside of all boxes."""
    pdf = pypdfium2.PdfDocument(path)
    picture = pdf[0].render(scale=scale, rotation=page.turn, grayscale=True).to_numpy().copy()
    assert picture.shape[1] == pytest.approx(page.width * scale, abs=3)
    assert picture.shape[0] == pytest.approx(page.height * scale, abs=3)
    all_ink = int((picture < 128).sum())
    for word in page.words:
        rows = slice(int(word.top * scale), int(word.bottom * scale) + 1)
        columns = slice(int(word.left * scale), int(word.right * scale) + 1)
        assert (picture[rows, columns] < 128).any(), word
    for word in page.words:
        rows = slice(max(int(word.top * scale) - 2, 0), int(word.bottom * scale) + 3)
        columns = slice(max(int(word.left * scale) - 2, 0), int(word.right * scale) + 3)
        picture[rows, columns] = 255
    assert int((picture < 128).sum()) < 0.02 * all_ink
    pdf.close()
