"""Words of PDF pages: against pdfplumber's, against the ink, and against what was drawn."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

import pdfplumber
import pytest
import typst
from pdf_drawn import ROWS, Draw, assert_ink, codes, made, opened, rotate, table, texts

from welltold_parsers.doors import open_document

if TYPE_CHECKING:
    import pikepdf
    from reportlab.pdfgen.canvas import Canvas


def turned(angle: int, text: str, x: float, y: float) -> Draw:
    def draw(canvas: Canvas) -> None:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(angle)
        canvas.drawString(0, 0, text)
        canvas.restoreState()

    return draw


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
@pytest.mark.parametrize("cropped", [False, True])
def test_boxes_lie_on_the_ink_of_the_seen_page(tmp_path: Path, degrees: int, cropped: bool) -> None:
    def change(page: pikepdf.Page) -> None:
        page.obj.Rotate = degrees
        if cropped:
            page.obj.MediaBox = [-20, -30, 640, 830]
            page.obj.CropBox = [40, 35, 600, 770]

    path = made(tmp_path / "sheet.pdf", table, change)
    document = open_document(path)
    assert_ink(path, document.pages[0])
    assert sorted(texts(document.pages[0])) == sorted(cell for row in ROWS for cell in row)


@pytest.mark.parametrize("angle", [0, 90, 180, 270])
@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
def test_a_page_whose_text_stands_sideways_is_turned_upright(
    tmp_path: Path, angle: int, degrees: int
) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.translate(306, 396)
        canvas.rotate(angle)
        canvas.translate(-270, -690)
        table(canvas)

    path = made(tmp_path / "sheet.pdf", draw, rotate(degrees))
    document = open_document(path)
    page = document.pages[0]
    assert page.turn == (angle - degrees) % 360
    assert codes(document) == (["door.page_turned"] if page.turn else [])
    ordered = sorted(page.words, key=lambda word: (word.top, word.left))
    assert [word.text for word in ordered] == [cell for row in ROWS for cell in row]
    assert ordered[0].left == ordered[3].left
    assert_ink(path, page)


def test_words_agree_with_pdfplumber_on_a_typeset_page(tmp_path: Path) -> None:
    body = "\n".join(
        f"[Analyte {row}], [{row * 0.37:.3f}], [mg/L], [EPA 200.{row % 9}]," for row in range(40)
    )
    source = f"= Lab report\nTaken at the kitchen tap.\n#table(columns: 4, stroke: none, {body})"
    path = tmp_path / "typeset.pdf"
    path.write_bytes(typst.compile(source.encode()))
    page = open_document(path).pages[0]
    with pdfplumber.open(path) as pdf:
        theirs = pdf.pages[0].extract_words(use_text_flow=True)
    assert Counter(texts(page)) == Counter(word["text"] for word in theirs)
    for word, other in zip(page.words, theirs, strict=True):
        assert word.text == other["text"]
        assert word.left == pytest.approx(other["x0"], abs=0.5)
        assert word.right == pytest.approx(other["x1"], abs=0.5)
        middle = (other["top"] + other["bottom"]) / 2
        assert word.top < middle < word.bottom
    assert_ink(path, page)


def test_digits_drawn_column_by_column_stay_apart(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        for column, numbers in ((72, "012"), (80, "345")):
            for line, number in enumerate(numbers):
                canvas.drawString(column, 700 - 12 * line, number)

    page = opened(tmp_path, draw).pages[0]
    assert sorted(texts(page)) == list("012345")


def test_text_drawn_twice_for_boldness_is_read_once(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        for shift in (0, 0.3):
            canvas.drawString(72 + shift, 700, "Lead 0.015")

    assert texts(opened(tmp_path, draw).pages[0]) == ["Lead", "0.015"]


def test_text_outside_the_crop_box_is_left_out(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "inside")
        canvas.drawString(72, 30, "below")
        canvas.drawString(800, 700, "beside")

    def crop(page: pikepdf.Page) -> None:
        page.obj.CropBox = [0, 100, 612, 792]

    assert texts(opened(tmp_path, draw, crop).pages[0]) == ["inside"]


@pytest.mark.parametrize(
    ("runs", "expected"),
    [
        ((("10.2", 10, 0), ("1", 6, 4)), ["10.2", "¹"]),
        ((("10.2", 10, 0), ("a,b", 7, 3.3), (" mg/L", 10, 0)), ["10.2", "ᵃ,ᵇ", "mg/L"]),
        ((("2", 6, 4), ("0.5", 10, 0)), ["²", "0.5"]),
        ((("3.1 x 10", 10, 0), ("4", 6, 4)), ["3.1", "x", "10^4"]),
        ((("6.0x10", 10, 0), ("-3", 6, 4)), ["6.0x10^-3"]),
        ((("10", 10, 0), ("1", 6, 4)), ["10", "¹"]),
        ((("CaCO", 10, 0), ("3", 7, -2)), ["CaCO3"]),
        ((("0.5", 10, 0), ("mg/L", 6, 0)), ["0.5mg/L"]),
    ],
)
def test_a_raised_mark_is_no_digit_of_the_number_before_it(
    tmp_path: Path, runs: tuple[tuple[str, float, float], ...], expected: list[str]
) -> None:
    def draw(canvas: Canvas) -> None:
        text = canvas.beginText(72, 700)
        for part, size, rise in runs:
            text.setFont("Helvetica", size)
            text.setRise(rise)
            text.textOut(part)
        canvas.drawText(text)

    assert texts(opened(tmp_path, draw).pages[0]) == expected


def test_a_raised_mark_set_apart_from_its_number_is_told(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 10)
        canvas.drawString(72, 700, "10.2")
        canvas.setFont("Helvetica", 6)
        canvas.drawString(95, 704, "1")

    assert texts(opened(tmp_path, draw).pages[0]) == ["10.2", "¹"]


def test_turned_column_heads_are_whole_words(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        table(canvas, top=500)
        turned(90, "Total Coliform", 300, 600)(canvas)
        turned(90, "E. coli", 320, 600)(canvas)
        turned(270, "Lead", 340, 650)(canvas)
        turned(180, "upside down", 500, 600)(canvas)

    path = made(tmp_path / "sheet.pdf", draw)
    document = open_document(path)
    page = document.pages[0]
    assert page.turn == 0
    found = texts(page)
    for phrase in (["Total", "Coliform"], ["E.", "coli"], ["upside", "down"]):
        assert found[(at := found.index(phrase[0])) : at + 2] == phrase
    total = page.words[found.index("Total")]
    assert total.bottom - total.top > total.right - total.left
    assert_ink(path, page)


def test_a_slanted_watermark_is_left_out_and_told(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        table(canvas)
        canvas.setFont("Helvetica", 60)
        turned(45, "DRAFT", 200, 300)(canvas)

    document = opened(tmp_path, draw)
    assert texts(document.pages[0]) == [cell for row in ROWS for cell in row]
    assert codes(document) == ["door.slanted_text"]
