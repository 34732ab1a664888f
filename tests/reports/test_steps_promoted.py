"""Steps that page 1 must hold, though nothing is urgent."""

from __future__ import annotations

from pathlib import Path

import pytest

import welltold
from welltold.messages import Language
from welltold_reports.homeowner import build
from welltold_reports.homeowner.model import FirstPage

GERMS = "Total coliform,Absent,per 100 mL\nE. coli,Absent,per 100 mL\n"
NITRATE = "Nitrate as N,1.1,mg/L\n"
NONE_FOUND = "No concern found in what was tested"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    return tmp_path / "sheet.csv"


def first(sheet: Path, rows: str, language: Language = "en") -> FirstPage:
    sheet.write_text(f"Analyte,Result,Unit\n{rows}")
    return build(welltold.interpret(welltold.read(sheet), language=language), 0).first


def bath(page: FirstPage) -> tuple[str, str]:
    return next((row.answer, row.why) for row in page.uses if row.use == "Bath, shower")


def test_radon_over_the_proposed_limit_asks_for_a_test_of_the_air(sheet: Path) -> None:
    """64 FR 59246 proposed 300 pCi/L; 1,200 lies above it, and below Maine's 4,000."""
    page = first(sheet, f"Radon,1200,pCi/L\n{GERMS}{NITRATE}")
    assert [step.text for step in page.steps] == [
        "Test the air in your home for radon first.",
        "Open a window or run a fan while you shower.",
    ]
    assert bath(page) == ("Ask first", "Because of radon. Open a window or run the fan.")


def test_radon_below_every_level_closes_no_bath(sheet: Path) -> None:
    page = first(sheet, f"Radon,100,pCi/L\n{GERMS}{NITRATE}")
    assert bath(page) == (NONE_FOUND, "")
    assert page.steps == ()


@pytest.mark.parametrize(
    ("rows", "names"),
    [
        ("", "total coliform bacteria and nitrate"),
        (GERMS, "nitrate"),
        (NITRATE, "total coliform bacteria"),
    ],
)
def test_what_keeps_a_use_open_is_asked_for_in_a_step(sheet: Path, rows: str, names: str) -> None:
    page = first(sheet, f"Chloride,12,mg/L\n{rows}")
    assert [(step.when, step.text) for step in page.steps] == [
        ("Next", f"Have the water tested for what this sheet left out: {names}.")
    ]


def test_a_whole_sheet_asks_for_no_more_tests(sheet: Path) -> None:
    assert first(sheet, f"Chloride,12,mg/L\n{GERMS}{NITRATE}").steps == ()


def test_the_step_for_missing_tests_is_told_in_spanish(sheet: Path) -> None:
    page = first(sheet, f"Chloride,12,mg/L\n{GERMS}", "es")
    assert page.steps[0].text == "Haga analizar el agua para lo que falta en esta hoja: nitrato."


def test_a_label_agrees_with_the_water_to_use_today(sheet: Path) -> None:
    """40 CFR 141.62: arsenic 0.010 mg/L; page 1 says to use bottled water today."""
    sheet.write_text(f"Analyte,Result,Unit\nArsenic,0.024,mg/L\n{GERMS}{NITRATE}")
    report = build(welltold.interpret(welltold.read(sheet)), 0)
    assert report.first.steps[0].when == "Today"
    assert report.groups[0].cards[0].verdict_words == (
        "Health concern: use other water today, mend the cause in the next few weeks"
    )
