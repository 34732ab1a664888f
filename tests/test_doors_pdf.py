"""Words of PDF pages: against pdfplumber's, against the ink, and against what was drawn."""

from __future__ import annotations

import io
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pdfplumber
import pikepdf
import pypdfium2
import pytest
import typst
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


def turned(angle: int, text: str, x: float, y: float) -> Draw:
    def draw(canvas: Canvas) -> None:
        canvas.saveState()
        canvas.translate(x, y)
        canvas.rotate(angle)
        canvas.drawString(0, 0, text)
        canvas.restoreState()

    return draw


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


def test_invisible_text_is_kept_told_and_trusted_less(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "seen")
        text = canvas.beginText(72, 600)
        text.setTextRenderMode(3)
        text.textOut("ghost")
        canvas.drawText(text)

    document = opened(tmp_path, draw)
    seen, ghost = document.pages[0].words
    assert (seen.text, seen.confidence) == ("seen", 1.0)
    assert ghost.text == "ghost"
    assert ghost.confidence < 1
    assert codes(document) == ["door.invisible_text"]


def test_white_text_is_unseen_on_white_and_seen_on_dark_ground(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFillGray(0.2)
        canvas.rect(60, 690, 200, 24, fill=1, stroke=0)
        canvas.setFillGray(1)
        canvas.drawString(72, 700, "Analyte Result")
        canvas.drawString(72, 600, "tag 99")
        canvas.setFillGray(0)
        canvas.drawString(72, 500, "Lead")

    document = opened(tmp_path, draw)
    trusted = {word.text: word.confidence == 1 for word in document.pages[0].words}
    expected = {"Analyte": True, "Result": True, "tag": False, "99": False, "Lead": True}
    assert trusted == expected
    assert codes(document) == ["door.invisible_text"]


def test_values_of_form_fields_and_tick_boxes_are_read(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.acroForm.textfield(name="lead", value="0.015", x=72, y=690, width=90, height=20)
        for number, (word, ticked) in enumerate((("Absent", True), ("Present", False))):
            x = 72 + 100 * number
            canvas.acroForm.checkbox(name=word, checked=ticked, x=x, y=600, size=14)
            canvas.drawString(x + 20, 602, word)

    page = opened(tmp_path, draw).pages[0]
    words = {word.text: word for word in page.words}
    assert set(words) == {"0.015", "☑", "☐", "Absent", "Present"}
    assert words["☑"].left == 72
    assert words["☑"].top == pytest.approx(792 - 614, abs=1)
    assert words["☑"].right < words["Absent"].left < words["☐"].left < words["Present"].left


def without_maps(path: Path, source: str) -> Path:
    """Compile a page whose fonts do not say what their glyphs mean."""
    with pikepdf.open(io.BytesIO(typst.compile(source.encode()))) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and "/ToUnicode" in thing:
                del thing["/ToUnicode"]
        pdf.save(path)
    return path


def test_a_font_without_a_character_map_is_told_not_read_as_rubbish(tmp_path: Path) -> None:
    path = without_maps(tmp_path / "sheet.pdf", "Lead 0.015 mg/L. Nitrate 10.2 mg/L.")
    document = open_document(path)
    assert document.pages[0].words == ()
    assert codes(document) == ["door.no_character_map"]


def coded(path: Path, text: str, code: dict[str, int]) -> Path:
    """Write a page with a font that names its glyphs by nothing but their codes."""
    named = pikepdf.Array([0, *(pikepdf.Name(f"/c{number:02x}") for number in range(256))])
    with pikepdf.new() as pdf:
        pdf.add_blank_page(page_size=(612, 792))
        font = pikepdf.Dictionary(
            Type=pikepdf.Name.Font,
            Subtype=pikepdf.Name.TrueType,
            BaseFont=pikepdf.Name("/ABCDEF+Custom"),
            FirstChar=0,
            LastChar=255,
            Widths=pikepdf.Array([600] * 256),
            Encoding=pikepdf.Dictionary(Type=pikepdf.Name.Encoding, Differences=named),
            FontDescriptor=pikepdf.Dictionary(
                Type=pikepdf.Name.FontDescriptor,
                FontName=pikepdf.Name("/ABCDEF+Custom"),
                Flags=4,
                Ascent=700,
                Descent=-200,
                FontBBox=pikepdf.Array([0, -200, 600, 700]),
            ),
        )
        pdf.pages[0].Resources = pikepdf.Dictionary(Font=pikepdf.Dictionary(F=font))
        raw = bytes(code[letter] for letter in text).hex()
        pdf.pages[0].Contents = pdf.make_stream(f"BT /F 10 Tf 72 700 Td <{raw}> Tj ET".encode())
        pdf.save(path)
    return path


CODED = "Lead 0.015 mg/L Nitrate 10.2 Iron 1.25"


def test_a_font_whose_codes_are_the_letters_is_believed(tmp_path: Path) -> None:
    path = coded(tmp_path / "sheet.pdf", CODED, {letter: ord(letter) for letter in CODED})
    document = open_document(path)
    assert texts(document.pages[0]) == CODED.split()
    assert document.warnings == ()


def test_a_font_whose_codes_are_numbers_in_order_of_use_is_not_believed(tmp_path: Path) -> None:
    order = {letter: 33 + number for number, letter in enumerate(dict.fromkeys(CODED))}
    document = open_document(coded(tmp_path / "sheet.pdf", CODED, order))
    assert document.pages[0].words == ()
    assert codes(document) == ["door.no_character_map"]


def test_letters_beyond_the_basic_plane_do_not_shift_their_neighbours(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(typst.compile("𝑥 Lead 𝑦𝑦 0.015 mg/L".encode()))
    page = open_document(path).pages[0]
    assert texts(page)[-2:] == ["0.015", "mg/L"]
    assert "Lead" in texts(page)
    assert_ink(path, page)


def test_a_hyphen_at_a_line_end_stays_a_hyphen(tmp_path: Path) -> None:
    source = '#set page(width: 120pt)\n#set text(hyphenate: true, lang: "en")\nContamination'
    path = tmp_path / "sheet.pdf"
    path.write_bytes(typst.compile((source + " laboratory certification " * 4).encode()))
    found = texts(open_document(path).pages[0])
    assert any(text.endswith("-") for text in found)
    assert not any(ord(letter) > 0x7E for text in found for letter in text)


def test_ligatures_are_parted(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(typst.compile("office ﬂuoride".encode()))
    assert texts(open_document(path).pages[0]) == ["office", "fluoride"]


def test_a_heading_with_spaced_letters_is_whole_words(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 12)
        canvas.drawString(72, 700, "HEAVY METALS", charSpace=5)
        for column, flag in enumerate("UJBUQ"):
            canvas.drawString(72 + 40 * column, 650, flag)

    found = texts(opened(tmp_path, draw).pages[0])
    assert found == ["HEAVY", "METALS", *"UJBUQ"]


READING_A_PDF = """
import sys
from pathlib import Path
from welltold_parsers.doors import open_document
open_document(Path(sys.argv[1]))
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""


def test_reading_a_pdf_imports_nothing_that_only_workbooks_need(tmp_path: Path) -> None:
    path = made(tmp_path / "sheet.pdf", table)
    root = Path(__file__).parents[1]
    environment = {"PYTHONPATH": f"{root / 'pipeline'}:{root / 'parsers'}"}
    done = subprocess.run(
        [sys.executable, "-c", READING_A_PDF, str(path)],
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = set(done.stdout.split())
    assert {"pypdfium2", "numpy"} <= loaded
    late = {"pandas", "openpyxl", "xlrd", "lxml", "python_calamine", "charset_normalizer", "pint"}
    assert not loaded & (late | {"pydantic", "typst", "pdfplumber"})


def test_pages_are_numbered_and_sized_as_seen(tmp_path: Path) -> None:
    document = open_document(made(tmp_path / "sheet.pdf", table, rotate(90), pages=3))
    assert [page.number for page in document.pages] == [1, 2, 3]
    first, second = document.pages[:2]
    # The first page is landscape with upright text in the file, so its text was turned back.
    assert (first.turn, first.width, first.height) == (270, 612, 792)
    assert (second.turn, second.width, second.height) == (0, 612, 792)
