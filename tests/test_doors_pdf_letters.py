"""Letters of a PDF: what is unseen, what fonts do not tell, ligatures, hyphens, headings."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pikepdf
import pytest
import typst
from pdf_drawn import assert_ink, codes, made, opened, rotate, table, texts

from welltold_parsers.doors import open_document

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas


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
