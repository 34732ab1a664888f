"""The whole way from every sample sheet to its reports, read with a homeowner's eyes."""

from __future__ import annotations

import io
import re
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import textstat
from pdfplumber import open as open_pdf
from test_reports_boil import LETS_BOIL
from test_reports_schema import validator
from test_reports_words import (
    EXEMPT,
    FORBIDDEN,
    LONGEST,
    MEAN,
    UNEXPLAINED,
    _masked,
    running_text,
    sentences,
    strings,
)

from welltold import face
from welltold.boil import boil_advice, boil_facts
from welltold.errors import WelltoldError
from welltold.interpretation import Interpretation
from welltold.jsonform import to_jsonable
from welltold.messages import LANGUAGES, Language
from welltold_reports.homeowner import HomeownerReport, build
from welltold_reports.pdf import homeowner_pdf
from welltold_reports.worksheet import build_worksheet

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator

SHEETS = Path(__file__).parent.parent / "samples" / "sheets"
NO_REPORT = {"price-list.csv", "pump-invoice.pdf", "truncated.pdf"}
"""Sheets that are there to be refused."""
NAMES = sorted(path.name for path in SHEETS.iterdir() if path.name not in NO_REPORT)


@cache
def view_of(name: str) -> Interpretation:
    return face.interpret(face.read(SHEETS / name), as_of=date(2026, 11, 25))


def reports(name: str) -> list[HomeownerReport]:
    view = view_of(name)
    return [build(view, index) for index in range(len(view.samples))]


def own_words(name: str) -> str:
    """All text of the reports and work sheets, without what is quoted from the lab's own print."""
    view = view_of(name)
    parts = []
    for index, report in enumerate(reports(name)):
        parts += strings(report) + strings(build_worksheet(view, index, report))
    text = EXEMPT.sub("", " ".join(parts))
    quoted = {one for result in view.reading.results for one in (result.text, result.label)}
    for one in sorted(quoted, key=len, reverse=True):
        text = re.sub(rf"(?<!\w){re.escape(one)}(?!\w)", "…", text) if one else text
    return text


@pytest.fixture(scope="module")
def contract() -> Draft202012Validator:
    return validator("welltold.report-1.json")


def test_there_are_sheets_and_the_refused_ones_are_refused() -> None:
    assert len(NAMES) >= 16
    for name in NO_REPORT:
        with pytest.raises(WelltoldError):
            face.read(SHEETS / name)


@pytest.mark.parametrize("name", NAMES)
def test_no_forbidden_word_no_gap_and_no_unexplained_short_form(name: str) -> None:
    text = own_words(name)
    assert not FORBIDDEN.findall(text)
    assert not re.findall(r"\{\w*\}|\bnan\b", text)
    pages = " ".join(one for report in reports(name) for one in strings(report.first))
    assert not UNEXPLAINED.findall(pages)


@pytest.mark.parametrize("name", NAMES)
def test_page_one_is_plain(name: str) -> None:
    for report in reports(name):
        texts = running_text(report.first)
        whole = " ".join(texts).replace("E. coli", "E coli")
        assert textstat.flesch_kincaid_grade(whole) <= 10
        assert textstat.flesch_kincaid_grade(_masked(whole)) <= 8
        lengths = [len(one.split()) for text in texts for one in sentences(text)]
        assert max(lengths) <= LONGEST
        assert sum(lengths) / len(lengths) <= MEAN


@pytest.mark.parametrize("name", NAMES)
def test_urgent_findings_are_on_page_one_and_boiling_follows_the_rule(name: str) -> None:
    for sample, report in zip(view_of(name).samples, reports(name), strict=True):
        urgent = [finding for finding in sample.findings if finding.urgency == "now"]
        assert (report.first.panel is not None) is bool(urgent)
        advice = boil_advice(boil_facts(sample.findings))
        if advice in {"never", "silent"}:
            assert not LETS_BOIL.search(" ".join(strings(report)))


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_stands_once_and_every_result_in_the_appendix(name: str) -> None:
    for sample, report in zip(view_of(name).samples, reports(name), strict=True):
        tested = [finding for finding in sample.findings if finding.verdict != "not_tested"]
        cards = sum(len(group.cards) for group in report.groups)
        quiet = len(report.quiet.rows) if report.quiet else 0
        assert cards + quiet == len(tested)
        assert len(report.appendix.rows if report.appendix else ()) == len(tested)


@pytest.mark.parametrize("name", NAMES)
def test_json_follows_the_contract(name: str, contract: Draft202012Validator) -> None:
    assert not list(contract.iter_errors(to_jsonable(view_of(name))))


def test_results_of_one_sentence_are_told_apart() -> None:
    """The letter tells of coliform and E. coli, and of iron and lead, in one sentence each."""
    (report,) = reports("letter.pdf")
    cards = {card.name: card.value for group in report.groups for card in group.cards}
    assert cards["Lead"] == "less than 1 µg/L (less than 1 part per billion)"
    assert cards["Iron"].startswith("0.52 mg/L")
    assert report.quiet is not None
    assert [row[:2] for row in report.quiet.rows] == [("E. coli bacteria", "absent")]


@pytest.mark.parametrize("name", ["nitrate-bacteria.pdf", "page-break.pdf", "letter.pdf"])
def test_a_usual_sheet_has_four_pages_before_the_appendix(name: str) -> None:
    (report,) = reports(name)
    with open_pdf(io.BytesIO(homeowner_pdf(report))) as pdf:
        pages = [page.extract_text() or "" for page in pdf.pages]
    first = next(i for i, text in enumerate(pages) if "Appendix: every line" in text)
    assert first <= 4
    sizes = {round(char["size"], 1) for page in pdf.pages[:first] for char in page.chars}
    assert min(sizes) >= 9, "no letter smaller than the foot of the page"


@pytest.mark.parametrize("name", NAMES)
def test_a_report_is_no_longer_than_it_has_to_be(name: str) -> None:
    """Five pages with the appendix at most, four for a usual sheet, and no leaf for a checksum."""
    for report in reports(name):
        with open_pdf(io.BytesIO(homeowner_pdf(report))) as pdf:
            pages = [page.extract_text() or "" for page in pdf.pages]
        assert len(pages) <= (4 if len(report.groups) < 3 and not report.trains else 5)
        assert not pages[-1].startswith("About this report")


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_number_line_scrolls_on_a_usual_phone(language: Language) -> None:
    """Of 390 pixels a card leaves 315: labels are moved along their row rather than cut off."""
    for name in ("nitrate-bacteria.pdf", "page-break.pdf", "radionuclides.pdf", "kit-card.pdf"):
        reading = face.read(SHEETS / name, language=language)
        view = face.interpret(reading, as_of=date(2026, 11, 25), language=language)
        cards = [card for group in build(view, 0).groups for card in group.cards]
        lines = [card.line for card in cards if card.line]
        assert lines
        assert max(line.needs for line in lines) <= 315


def test_what_is_not_tested_for_one_reason_shares_a_row_and_leaves_bottles_to_the_cards() -> None:
    report = reports("acid-copper.pdf")[0]
    assert report.untested is not None
    assert report.untested.rows[0] == (
        "Alkalinity, hardness, electrical conductivity, chloride, sulfate and sodium",
        "This test is on the sheet, but without a result.",
    )
    assert not any("bottle" in why for _, why in report.untested.rows)


def test_a_sum_is_told_in_short_beside_its_main_part() -> None:
    (report,) = reports("nitrate-bacteria.pdf")
    cards = {card.name: card for group in report.groups for card in group.cards}
    total = cards["Nitrate plus nitrite"]
    assert total.line is None
    assert total.what == ("Worked out from these lines of the sheet: Nitrate, Nitrite.",)


def test_retests_of_the_same_thing_share_a_row_and_keep_both_germs() -> None:
    (report,) = reports("nitrate-bacteria.pdf")
    assert report.retest is not None
    rows = {row[0]: row[1] for row in report.retest.rows}
    assert len(rows) == len(report.retest.rows)
    germs = rows["Total coliform bacteria and E. coli bacteria"]
    assert germs.startswith("this week, before any chlorine goes in, then 5 days to 2 weeks")
    assert ", then 1 to 3 months" in germs
