"""The comparison on every page, in both languages."""

from __future__ import annotations

import io
import json
from typing import Any

import openpyxl
import outlet_cases as oc
import pytest
from lxml import html as lxml_html
from test_reports_schema import validator

import welltold
from welltold.explain_sizes import explain_sizes
from welltold.interpretation import Interpretation
from welltold.jsonform import to_jsonable
from welltold.messages import Language, speaking
from welltold_reports import render_text
from welltold_reports.homeowner import build
from welltold_reports.html import homeowner_html, worksheet_html
from welltold_reports.pdf import homeowner_pdf, worksheet_pdf
from welltold_reports.worksheet import build_worksheet
from welltold_reports.xlsx import workbook

RAW = {
    "hardness": "250 mg/L",
    "sodium": "12 mg/L",
    "iron": "4.0 mg/L",
    "ph": "7.4",
    "total_coliform": "present",
    "arsenic": "35 ug/L",
}
HEADS: dict[Language, str] = {
    "en": "The water behind the equipment",
    "es": "El agua después del equipo",
}


def view(language: Language = "en") -> Interpretation:
    """Two bottles: one behind the iron filter, one at the kitchen tap."""
    first = oc.sheet("raw.csv", oc.bottle(RAW, id="R1", collected="2026-01-10"))
    behind = {"iron": "0.1 mg/L", "manganese": "<0.01 mg/L"}
    kitchen = {
        "hardness": "120 mg/L",
        "sodium": "72 mg/L",
        "total_coliform": "absent",
        "arsenic": "12 ug/L",
    }
    later = oc.sheet(
        "later.csv",
        oc.bottle(behind, id="L1", point="after iron filter", collected="2026-05-10"),
        oc.bottle(kitchen, id="L2", point="kitchen", collected="2026-05-10"),
    )
    site = oc.house("oxidizing_filter", "softener", "uv")
    return welltold.interpret(first, site=site, after=[later], language=language)


def pages(language: Language) -> tuple[Any, Any]:
    told = view(language)
    report = build(told, 0)
    return report, build_worksheet(told, 0, report)


@pytest.fixture(params=["en", "es"])
def language(request: pytest.FixtureRequest) -> Language:
    return request.param


def words_of(page: str) -> str:
    return " ".join(lxml_html.fromstring(page).text_content().split())


def test_the_page_has_each_stage_with_its_figures_and_the_next_look(language: Language) -> None:
    report, _ = pages(language)
    page = words_of(homeowner_html(report))
    assert HEADS[language] in page
    said = {"en": "Water softener: wrongly set", "es": "Ablandador de agua: mal ajustado"}
    assert said[language] in page
    figures = {
        "en": "250 mg/L as CaCO3up to 17 mg/L as CaCO3120 mg/L (kitchen)",
        "es": "250 mg/L como CaCO3hasta 17 mg/L como CaCO3120 mg/L (kitchen)",
    }
    assert figures[language] in page
    strip = {"en": "behind the softener with a strip", "es": "ablandador con una tira"}
    assert strip[language] in page


def test_health_is_told_as_what_the_outlet_test_found() -> None:
    page = words_of(homeowner_html(pages("en")[0]))
    # 12 micrograms, and the limit is 10 (40 CFR 141.62); it is in mg/L
    assert "Arsenic (kitchen): the outlet test found 12 ug/L. That is above the level of" in page
    assert "the outlet test did not find it in this bottle" in page


def test_the_work_sheet_has_a_few_lines_of_it(language: Language) -> None:
    _, sheet = pages(language)
    page = words_of(worksheet_html(sheet))
    assert HEADS[language] in page
    line = {
        "en": "Hardness 250 mg/L as CaCO3, predicted up to 17 mg/L as CaCO3, found 120 mg/L",
        "es": "Dureza 250 mg/L como CaCO3, previsto hasta 17 mg/L como CaCO3, encontrado 120 mg/L",
    }
    assert line[language] in page


def test_the_pdfs_are_made(language: Language) -> None:
    report, sheet = pages(language)
    assert homeowner_pdf(report).startswith(b"%PDF")
    assert worksheet_pdf(sheet).startswith(b"%PDF")


def test_the_text_has_it_too(language: Language) -> None:
    text = render_text(view(language))
    assert HEADS[language] in text
    assert "120 mg/L" in text


def test_the_workbook_has_a_sheet_of_it_only_when_asked(language: Language) -> None:
    book = openpyxl.load_workbook(io.BytesIO(workbook(view(language))))
    name = {"en": "Behind equipment", "es": "Después del equipo"}[language]
    rows = list(book[name].iter_rows(values_only=True))
    softener = [row for row in rows if row[2] in {"Water softener", "Ablandador de agua"}]
    assert next((row[7], row[10], row[11]) for row in softener) == (250, 17.1, "120 mg/L")
    plain = welltold.interpret(oc.sheet("raw.csv", oc.bottle(RAW, id="R1")))
    assert name not in openpyxl.load_workbook(io.BytesIO(workbook(plain))).sheetnames


def test_without_later_bottles_no_page_speaks_of_it() -> None:
    plain = welltold.interpret(oc.sheet("raw.csv", oc.bottle(RAW, id="R1")))
    report = build(plain, 0)
    assert report.outlet is None
    assert HEADS["en"] not in homeowner_html(report)
    assert HEADS["en"] not in worksheet_html(build_worksheet(plain, 0, report))
    assert "outlet" not in to_jsonable(plain)["samples"][0]


def test_the_json_keeps_the_schema() -> None:
    told = json.loads(json.dumps(to_jsonable(view())))
    validator("welltold.report-1.json").validate(told)
    outlet = told["samples"][0]["outlet"][0]
    assert [bottle["sample"] for bottle in outlet["bottles"]] == ["L1", "L2"]
    assert [stage["stage"] for stage in outlet["stages"]] == ["oxidizing_filter", "softener", "uv"]


def test_explain_names_the_source_of_every_sign(language: Language) -> None:
    told = view(language)
    with speaking(language):
        lines = [one.text for one in explain_sizes(told, 0, "softener")]
    text = "\n".join(lines)
    assert "NSF/ANSI 330" in text
    assert "120 mg/L" in text
    assert "0.1 mg/L" not in text, "only of the stage that was asked for"


def test_a_hostile_name_of_a_place_stays_text() -> None:
    first = oc.sheet("raw.csv", oc.bottle(RAW, id="R1", collected="2026-01-10"))
    point = "<script>alert(1)</script> #set text(red) {x} after softener"
    bottle = oc.bottle({"hardness": "9 mg/L"}, id="L1", point=point, collected="2026-05-10")
    site = oc.house("softener")
    told = welltold.interpret(first, site=site, after=[oc.sheet("later.csv", bottle)])
    report = build(told, 0)
    assert "<script>alert" not in homeowner_html(report)
    assert homeowner_pdf(report).startswith(b"%PDF")


def test_a_health_concern_behind_the_equipment_stands_on_page_1(language: Language) -> None:
    report, _ = pages(language)
    # 12 micrograms of arsenic at the kitchen tap; the limit is 10 (40 CFR 141.62)
    last = report.first.steps[-1]
    assert "(kitchen)" in last.text
    assert {"en": "arsenic", "es": "arsénico"}[language] in last.text.lower()
    assert "coliform" not in last.text


def test_page_1_says_nothing_more_where_the_outlet_is_below_its_levels() -> None:
    asked = oc.named("arsenic below the level behind its filter")
    told = asked.told()
    alone = welltold.interpret(told.reading, site=oc.house(*asked.line))
    assert build(told, 0).first == build(alone, 0).first
