"""The whole way from every sample sheet to its reports, read with a homeowner's eyes."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
import textstat
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
from welltold_reports.homeowner import HomeownerReport, build
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
