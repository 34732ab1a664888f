"""The files: accessible, self-contained, escaped, and the same bytes for the same input."""

from __future__ import annotations

import io
import json
import re
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest
import report_cases as cases
import report_making as making
from lxml import html as lxml_html
from openpyxl import load_workbook
from pdfplumber import open as open_pdf
from rich.console import Console

import welltold
from welltold.errors import OutputError
from welltold_reports import print_terminal, render_text, write
from welltold_reports.homeowner import build
from welltold_reports.html import TEMPLATES, homeowner_html
from welltold_reports.pdf import INSTEAD, homeowner_pdf

FORMATS = ("html", "pdf", "xlsx", "json", "text")
PAGES_OF = ("homeowner", "worksheet", "cards")
LETTER = (612, 792)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All formats of all cases, written once."""
    out = tmp_path_factory.mktemp("reports")
    for name, make in cases.CASES.items():
        write(make(), out, FORMATS, name=name)
    return out


def files_of(folder: Path, name: str, kind: str, suffix: str) -> list[Path]:
    found = sorted(folder.glob(f"{name}*.{kind}.{suffix}"))
    assert found
    return found


def test_file_names(tmp_path: Path) -> None:
    one = write(cases.clean_well(), tmp_path, FORMATS, name="sheet")
    assert [path.name for path in one] == [
        "sheet.homeowner.html",
        "sheet.worksheet.html",
        "sheet.cards.html",
        "sheet.homeowner.pdf",
        "sheet.worksheet.pdf",
        "sheet.cards.pdf",
        "sheet.xlsx",
        "sheet.report.json",
        "sheet.report.txt",
    ]
    many = write(cases.many_samples(), tmp_path, ["html"], name="many")
    assert [path.name for path in many if "homeowner" in path.name] == [
        "many.Well-1.homeowner.html",
        "many.well-1-2.homeowner.html",
        "many.Well-1-3.homeowner.html",
        "many.Kitchen-tap.homeowner.html",
        "many.Kuche-2.homeowner.html",
    ]


def test_unknown_format_and_unwritable_folder_are_named(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="docx"):
        write(cases.clean_well(), tmp_path, ["docx"], name="x")
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    with pytest.raises(OutputError, match="cannot be written"):
        write(cases.clean_well(), blocked / "out", ["json"], name="x")


@pytest.mark.parametrize(
    "name", ["clean", "nitrate_and_germs", "hard_and_rusty", "hostile", "nothing"]
)
def test_same_input_same_bytes_in_every_format(folder: Path, tmp_path: Path, name: str) -> None:
    again = write(cases.CASES[name](), tmp_path, FORMATS, name=name)
    assert len(again) == 9
    for path in again:
        assert path.read_bytes() == (folder / path.name).read_bytes(), path.name


# -- HTML -------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", PAGES_OF)
@pytest.mark.parametrize("name", sorted(cases.CASES))
def test_html_structure(folder: Path, name: str, kind: str) -> None:
    for path in files_of(folder, name, kind, "html"):
        root = lxml_html.document_fromstring(path.read_bytes())
        assert root.get("lang") == "en"
        assert root.find(".//title").text.strip()
        levels = [int(one.tag[1]) for one in root.iter("h1", "h2", "h3", "h4", "h5", "h6")]
        assert levels.count(1) == 1
        assert levels[0] == 1
        assert all(after <= before + 1 for before, after in pairwise(levels))
        for table in root.iter("table"):
            assert table.find("caption") is not None
            assert table.xpath(".//thead//th[@scope='col']")
            assert table.xpath(".//tbody/tr")
            assert len(table.xpath(".//tbody/tr[th[@scope='row']]")) == len(
                table.xpath(".//tbody/tr")
            )
        for picture in root.iter("svg"):
            if picture.getparent().tag != "svg":
                assert picture.get("role") == "img"
                assert picture.get("aria-label")
        ids = root.xpath("//@id")
        assert len(ids) == len(set(ids))
        assert len(path.read_bytes()) <= 250_000


@pytest.mark.parametrize("kind", PAGES_OF)
@pytest.mark.parametrize("name", sorted(cases.CASES))
def test_html_is_self_contained(folder: Path, name: str, kind: str) -> None:
    for path in files_of(folder, name, kind, "html"):
        text = path.read_text("utf-8")
        root = lxml_html.document_fromstring(text)
        assert not list(root.iter("script", "link", "iframe", "img", "object", "form"))
        assert not root.xpath("//@src | //@href | //@onload | //@onerror")
        addresses = re.findall(r"https?://[^\s\"'<]+", text)
        assert set(addresses) <= {"http://www.w3.org/2000/svg"}
        assert "@import" not in text
        assert "url(" not in text.replace("url(#hatch", "")


def test_markup_in_names_is_printed_and_not_obeyed(folder: Path) -> None:
    page = (folder / "hostile.homeowner.html").read_text("utf-8")
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in page
    assert "{{ 7*7 }}" in page
    root = lxml_html.document_fromstring(page)
    assert not list(root.iter("script"))
    with open_pdf(folder / "hostile.homeowner.pdf") as document:
        text = document.pages[0].extract_text() + document.pages[1].extract_text()
    assert "<script>alert(1)</script>" in text
    assert "#set page(fill: red) $x$ *bold* _it_ @ref <tag>" in text
    assert INSTEAD in text, "a box stands for a letter that the fonts do not have"


def test_nothing_in_a_name_can_command_a_page_or_a_terminal(folder: Path) -> None:
    sheet = making.Sheet().row(None, "a\x1b[2Jb\u202ec", "1\x00", "cant_tell")
    view = making.view_of(making.sample(sheet, "\u2066id\x07", "tap\r\nbell"))
    texts = [render_text(view), homeowner_html(build(view, 0))]
    for text in texts:
        assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)
        assert "a[2Jbc" in text


def test_terminal_shows_many_samples_by_their_first_pages_only() -> None:
    buffer = io.StringIO()
    print_terminal(cases.many_samples(), Console(file=buffer, width=90))
    assert buffer.getvalue().count("Can we use this water?") == 5
    assert "About this report" not in buffer.getvalue()
    print_terminal(cases.clean_well(), Console(file=buffer, width=90))
    assert "About this report" in buffer.getvalue()


def test_every_letter_that_is_let_through_can_be_printed() -> None:
    """PDF/UA-1 refuses a page with a letter that no font has: so each one is tried out."""
    ranges = [
        (0x20, 0x7E),
        (0xA0, 0x36F),
        (0x384, 0x3CE),
        (0x3D0, 0x4FF),
        (0x1E00, 0x1EFF),
        (0x2000, 0x22FF),
        (0x2500, 0x25FF),
        (0x4E00, 0x4E20),
        (0x1F600, 0x1F610),
        (0xE000, 0xE010),
    ]
    letters = "".join(chr(code) for first, last in ranges for code in range(first, last + 1))
    sheet = making.Sheet().row(None, letters, "1", "cant_tell")
    assert homeowner_pdf(build(making.view_of(making.sample(sheet)), 0)).startswith(b"%PDF")


# -- PDF --------------------------------------------------------------------------------------


def _nodes(node: pikepdf.Object, found: list[pikepdf.Object]) -> list[pikepdf.Object]:
    """All structure elements below a node, in reading order."""
    if isinstance(node, pikepdf.Array):
        for one in node:
            _nodes(one, found)
    elif isinstance(node, pikepdf.Dictionary):
        if "/S" in node:
            found.append(node)
        if "/K" in node:
            _nodes(node.K, found)
    return found


@pytest.mark.parametrize("kind", PAGES_OF)
@pytest.mark.parametrize("name", [name for name in sorted(cases.CASES) if name != "four_hundred"])
def test_pdf_is_tagged_titled_and_in_english(folder: Path, name: str, kind: str) -> None:
    for path in files_of(folder, name, kind, "pdf"):
        with pikepdf.open(path) as pdf:
            assert pdf.Root.MarkInfo.Marked
            assert str(pdf.Root.Lang) == "en"
            assert pdf.Root.ViewerPreferences.DisplayDocTitle
            with pdf.open_metadata() as meta:
                assert meta["pdfuaid:part"] == "1"
                assert meta["dc:title"]
            nodes = _nodes(pdf.Root.StructTreeRoot.K, [])
            kinds = [str(node.S) for node in nodes]
            headings = [int(kind[2]) for kind in kinds if re.fullmatch(r"/H\d", kind)]
            assert headings[0] == 1
            assert headings.count(1) == 1
            assert all(b <= a + 1 for a, b in pairwise(headings))
            for node in nodes:
                if str(node.S) == "/Figure":
                    assert str(node.get("/Alt", "")) != ""
                if str(node.S) == "/Table":
                    below = [str(one.S) for one in _nodes(node.K, [])]
                    assert "/TH" in below
            fonts = [
                font
                for page in pdf.pages
                for font in page.get("/Resources", {}).get("/Font", {}).values()
            ]
            assert fonts
            for font in fonts:
                descriptor = font.DescendantFonts[0].FontDescriptor
                assert {"/FontFile2", "/FontFile3"} & set(descriptor.keys())


@pytest.mark.parametrize("name", [name for name in sorted(cases.CASES) if name != "four_hundred"])
def test_pdf_pages(folder: Path, name: str) -> None:
    """Page 1 is the decision page, 4 pages before the appendix, one page of work sheet; Letter."""
    for path in files_of(folder, name, "homeowner", "pdf"):
        with open_pdf(path) as document:
            texts = [page.extract_text() for page in document.pages]
            assert (document.pages[0].width, document.pages[0].height) == LETTER
        assert "How sure is this?" in texts[0]
        assert "Can we use this water?" in texts[0]
        before = [number for number, text in enumerate(texts) if "\nAppendix:" in f"\n{text}"]
        assert before or name == "nothing"
        assert all(number <= 4 for number in before)
        assert all(f"Page {n} of {len(texts)}" in text for n, text in enumerate(texts, start=1))
    for path in files_of(folder, name, "worksheet", "pdf"):
        with open_pdf(path) as document:
            assert len(document.pages) == 1
            assert "Signature" in document.pages[0].extract_text()


def test_pdf_reads_in_order_and_nothing_leaves_the_page(folder: Path) -> None:
    for path in sorted(folder.glob("*.pdf")):
        if "four_hundred" in path.name:
            continue
        with open_pdf(path) as document:
            for page in document.pages:
                assert all(
                    word["x0"] > 0 and word["x1"] < page.width for word in page.extract_words()
                )
    with open_pdf(folder / "nitrate_and_germs.homeowner.pdf") as document:
        text = document.pages[0].extract_text()
    places = [
        text.index(part)
        for part in (
            "Do not drink",
            "WARNING",
            "What to do",
            "Can we use",
            "Who to call",
            "What was found",
        )
    ]
    assert places == sorted(places)


# -- work sheet ---------------------------------------------------------------------------------


def test_work_sheet_never_prints_unknown_as_holds(folder: Path) -> None:
    root = lxml_html.document_fromstring((folder / "hard_and_rusty.worksheet.html").read_bytes())
    rows = {
        " ".join(row.xpath("./th")[0].text_content().split()): [
            box.text_content() for box in row.xpath(".//span[@role='img']")
        ]
        for row in root.xpath("//table//tr[td//span[@role='img']]")
    }
    assert len(rows) == 4
    (flow,) = [boxes for asks, boxes in rows.items() if "backwash" in asks]
    assert flow == ["", "", "X"]
    assert sum(boxes == ["X", "", ""] for boxes in rows.values()) == 3


def test_work_sheet_has_the_health_lines_as_the_homeowner_has_them(folder: Path) -> None:
    view = cases.nitrate_and_germs()
    sheet = " ".join((folder / "nitrate_and_germs.worksheet.html").read_text("utf-8").split())
    report = build(view, 0)
    for line in (*report.first.main, *(step.text for step in report.first.steps)):
        assert line in sheet


# -- workbook, JSON, text ------------------------------------------------------------------------


def test_workbook(folder: Path) -> None:
    book = load_workbook(io.BytesIO((folder / "arsenic.xlsx").read_bytes()))
    assert " | ".join(book.sheetnames) == (
        "Results | Findings | Sources | Stages | Sizes | Unread and doubts"
    )
    results = list(book["Results"].iter_rows(values_only=True))
    assert len(results) == 1 + len(cases.arsenic_just_above().reading.results)
    arsenic = next(row for row in results if row[3] == "arsenic")
    assert arsenic[4:7] == ("0.0104", "mg/L", 0.0104)
    assert book["Results"].freeze_panes == "A2"
    assert book.properties.created.year == 2000
    assert any(
        "40 CFR 141.62(b)" in str(row) for row in book["Sources"].iter_rows(values_only=True)
    )


def test_workbook_keeps_text_that_looks_like_a_formula(folder: Path) -> None:
    book = load_workbook(io.BytesIO((folder / "hostile.xlsx").read_bytes()))
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert any(cell.value == "=1+1" for cell in cells)
    assert all(cell.data_type != "f" for cell in cells)
    doubts = load_workbook(io.BytesIO((folder / "cant_tell.xlsx").read_bytes()))[
        "Unread and doubts"
    ]
    assert doubts.max_row == 3


def test_json_report(folder: Path) -> None:
    report = json.loads((folder / "cant_tell.report.json").read_text("utf-8"))
    assert report["schema"] == "welltold.report/1"
    assert report["samples"][0]["findings"][2]["verdict"] == "cant_tell"
    assert len(report["unread"]) == 1


def test_text_fits_an_e_mail_and_says_what_the_page_says(folder: Path) -> None:
    text = render_text(cases.nitrate_and_germs())
    assert (folder / "nitrate_and_germs.report.txt").read_text("utf-8") == text
    assert max(len(line) for line in text.splitlines()) <= 88
    assert "\x1b" not in text
    for line in build(cases.nitrate_and_germs(), 0).first.main:
        assert line in " ".join(text.split())


def test_reports_name_version_date_levels_and_checksum(folder: Path) -> None:
    for suffix in ("homeowner.html", "report.txt"):
        text = " ".join((folder / f"clean.{suffix}").read_text("utf-8").split())
        assert f"welltold {welltold.__version__}" in text
        assert "November 25, 2026 (US Environmental Protection Agency)" in text
        assert "5f" * 32 in text


# -- colours --------------------------------------------------------------------------------------


def _luminance(colour: str) -> float:
    """Relative luminance after WCAG 2.2."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _contrast(one: str, other: str) -> float:
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_formula_gives_the_published_value() -> None:
    """#767676 on white is 4.54 (WCAG's own example of the limit)."""
    assert round(_contrast("#767676", "#ffffff"), 2) == 4.54


def test_text_and_lines_have_enough_contrast_in_light_and_dark() -> None:
    """WCAG 2.2: 4.5 for text (1.4.3), 3 for lines and shapes (1.4.11)."""
    css = (TEMPLATES / "homeowner.css").read_text("utf-8")
    palettes = [
        dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", block))
        for block in re.findall(r":root \{([^}]*)\}", css)
    ]
    screens = [palette for palette in palettes if "paper" in palette]
    assert len(screens) == 2
    for palette in screens:
        for name in ("ink", "soft", "accent"):
            assert _contrast(palette[name], palette["paper"]) >= 4.5, name
        assert _contrast(palette["rule"], palette["paper"]) >= 3
