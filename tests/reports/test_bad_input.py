"""What a lab, a person or a program may put into a name: shown as text, never a broken page."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pikepdf
import pytest
import report_cases as cases
from lxml import html as lxml_html
from openpyxl import load_workbook
from pdfplumber import open as open_pdf
from report_making import Sheet, level, nitrate, notes, quiet_germs, sample, view_of

from welltold.interpretation import Interpretation
from welltold.look import PAPERS, Look
from welltold.messages import LANGUAGES
from welltold_reports import render_text, write
from welltold_reports.homeowner import build
from welltold_reports.html import homeowner_html
from welltold_reports.pdf import homeowner_pdf

OBEYED = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]"
)
NASTY = (
    "<img src=x onerror=alert(1)>",
    '"><svg onload=alert(1)>',
    "</style><script>alert(1)</script>",
    "\u202egnp.exe\u2066\u200f",
    "{{ 7*7 }}{% raw %}",
    "#import sys; #eval(1) \\ $x^2$ @a <b> ~ ` * _",
    "=cmd|' /C calc'!A0",
    "A" * 300,
    "Perfluoro-" * 30,
    "\u0645\u0627\u0621 \u05de\u05d9\u05dd \u6c34",
    "e\u0301\u0327" * 60,
)


def named(text: str) -> Interpretation:
    """A sheet with the text as sample id, as place, as label, as unit, as qualifier and as file."""
    sheet = nitrate(quiet_germs(Sheet()), "12.0", "health_concern", urgency="now")
    sheet.row(
        None, text, text, "cant_tell", why=notes("We do not know this test."), qualifiers=(text,)
    )
    sheet.row(
        "arsenic",
        text,
        "0.004",
        "watch",
        value=Decimal("0.004"),
        unit="mg/L",
        printed_unit=text,
        levels=(level("primary_limit", "0.010"),),
    )
    view = view_of(sample(sheet, text, text))
    source = replace(view.reading.source, file=text)
    return replace(view, reading=replace(view.reading, source=source))


@pytest.mark.parametrize("text", NASTY, ids=range(len(NASTY)))
def test_a_hostile_name_is_text_on_every_page(tmp_path: Path, text: str) -> None:
    for path in write(named(text), tmp_path, name="x"):
        if path.suffix == ".html":
            root = lxml_html.document_fromstring(path.read_bytes())
            assert not list(root.iter("script", "img", "iframe", "object"))
            assert not root.xpath("//@onload | //@onerror | //@src")
            assert not OBEYED.search(root.text_content())
        elif path.suffix == ".pdf":
            with open_pdf(path) as document:
                for page in document.pages:
                    words = page.extract_words()
                    assert all(one["x0"] > 0 and one["x1"] < page.width for one in words)
        elif path.suffix == ".xlsx":
            book = load_workbook(io.BytesIO(path.read_bytes()))
            cells = (cell for sheet in book for row in sheet.iter_rows() for cell in row)
            assert all(cell.data_type != "f" for cell in cells)
        elif path.suffix == ".txt":
            assert not OBEYED.search(path.read_text("utf-8"))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["four_hundred", "nothing", "hostile", "many"])
def test_odd_sheets_on_every_paper(tmp_path: Path, name: str, paper: str) -> None:
    """400 results, none at all, markup, several samples of one name: whole pages, not too heavy."""
    look = Look(paper=paper)  # type: ignore[arg-type]  # one of PAPERS
    for path in write(cases.CASES[name](), tmp_path, ["html", "pdf"], name=name, look=look):
        if path.suffix == ".html":
            assert path.stat().st_size <= 250_000
        else:
            with pikepdf.open(path) as pdf:
                assert pdf.Root.MarkInfo.Marked
                assert len(pdf.pages) < 20


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_pages_of_a_language_say_so_to_a_screen_reader(tmp_path: Path, language: str) -> None:
    view = replace(cases.nitrate_and_germs(), language=language)  # type: ignore[arg-type]  # one of LANGUAGES
    for path in write(view, tmp_path, ["html", "pdf"], name="x"):
        if path.suffix == ".html":
            assert lxml_html.document_fromstring(path.read_bytes()).get("lang") == language
        else:
            with pikepdf.open(path) as pdf:
                assert str(pdf.Root.Lang) == language


def structure(node: pikepdf.Object, found: list[pikepdf.Object]) -> list[pikepdf.Object]:
    """All structure elements below a node, in reading order."""
    for one in node if isinstance(node, pikepdf.Array) else [node]:
        if isinstance(one, pikepdf.Dictionary):
            if "/S" in one:
                found.append(one)
            if "/K" in one:
                structure(one.K, found)
    return found


def test_every_picture_of_a_pdf_speaks_and_every_list_is_one(tmp_path: Path) -> None:
    for path in write(cases.nitrate_and_germs(), tmp_path, ["pdf"], name="x"):
        with pikepdf.open(path) as pdf:
            assert pdf.Root.ViewerPreferences.DisplayDocTitle
            found = structure(pdf.Root.StructTreeRoot.K, [])
            kinds = [str(one.S) for one in found]
            pictures = [one for one in found if str(one.S) == "/Figure"]
            assert all(str(one.get("/Alt", "")).strip() for one in pictures)
            assert kinds.count("/L") >= 1
            assert kinds.count("/H1") == 1
            assert all(page.get("/Tabs") in {None, "/S"} for page in pdf.pages)


def test_very_many_tests_that_nobody_knows_share_one_table() -> None:
    """390 names that no list has: a card each would be sixty pages."""
    sheet = Sheet()
    for number in range(390):
        sheet.row(None, f"Substance number {number}", "1.2", "cant_tell", unit="mg/L")
    report = build(view_of(sample(sheet)), 0)
    assert report.groups == ()
    assert report.unknown is not None
    assert len(report.unknown.rows) == 390
    assert report.unknown.rows[7][:2] == ("Substance number 7", "1.2 mg/L")
    assert len(homeowner_html(report).encode()) <= 250_000
    text = render_text(view_of(sample(sheet)))
    assert "Substance number 389" in text
    with open_pdf(io.BytesIO(homeowner_pdf(report))) as pdf:
        assert len(pdf.pages) <= 25


def test_a_few_tests_that_nobody_knows_have_cards() -> None:
    sheet = Sheet()
    for number in range(6):
        sheet.row(None, f"Substance {number}", "1.2", "cant_tell", unit="mg/L")
    report = build(view_of(sample(sheet)), 0)
    assert report.unknown is None
    assert len(report.groups[0].cards) == 6
