"""One kitchen, one advice: what a whole report tells must not argue with itself.

Each sheet goes the whole way, from a file to the report, as a homeowner would send it.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from test_reports_boil import LETS_BOIL
from test_reports_words import strings

import welltold
from welltold import boil, face
from welltold.interpretation import Interpretation
from welltold.levels import load_levels
from welltold.messages import LANGUAGES, catalogue
from welltold.reading import Result
from welltold.site import Home, SampleFacts, Site, Tap
from welltold.verdicts.judging import Context, answer
from welltold_reports.homeowner import HomeownerReport, build
from welltold_reports.wording import in_sentence

GERMS = ("E. coli,Present,P/A", "Nitrate as N,1.0,mg/L", "Nitrite as N,0.05,mg/L")


def view_of(
    folder: Path, *rows: str, site: Site | None = None, packs: tuple[str, ...] = ("us_federal",)
) -> Interpretation:
    """The interpretation of a small sheet with these rows: name, result, unit."""
    sheet = folder / "sheet.csv"
    lines = [f"W1,2026-10-20,{row}" for row in rows]
    sheet.write_text("\n".join(("Sample ID,Collected,Analyte,Result,Units", *lines, "")))
    reading = face.read(sheet)
    return face.interpret(reading, site=site, as_of=date(2026, 11, 25), packs=packs)


def report_of(folder: Path, *rows: str, site: Site | None = None) -> HomeownerReport:
    return build(view_of(folder, *rows, site=site), 0)


def use(report: HomeownerReport, name: str) -> tuple[str, str]:
    return next((row.answer, row.why) for row in report.first.uses if row.use.startswith(name))


def test_germs_and_fumes_give_one_shower_advice(tmp_path: Path) -> None:
    # J Occup Environ Med 1996;38:35: more than half of the dose of a solvent came from showering.
    report = report_of(tmp_path, *GERMS, "Benzene,50,ug/L")
    answer, why = use(report, "Bath")
    assert answer == "Use bottled"
    assert why == "Because of benzene. Do not shower or bathe in it. Vapor gets into the air."
    assert not any("can shower" in text for text in strings(report))


def test_germs_alone_keep_their_shower_advice(tmp_path: Path) -> None:
    answer, why = use(report_of(tmp_path, *GERMS), "Bath")
    assert answer == "Ask first"
    assert "Adults can shower" in why


def test_a_smell_of_fuel_speaks_before_germs(tmp_path: Path) -> None:
    site = Site(tap=Tap(("fuel_or_solvent_smell",)))
    answer, why = use(report_of(tmp_path, *GERMS, site=site), "Bath")
    assert answer == "Use bottled"
    assert "Do not shower or bathe in it." in why
    assert "can shower" not in why


def test_gas_that_can_burn_brings_no_switch_and_no_sparks(tmp_path: Path) -> None:
    # US Geological Survey on methane in wells: no ignition source, no gas in closed rooms.
    report = report_of(tmp_path, "Methane,30,mg/L")
    answer, why = use(report, "Bath")
    assert answer == "Ask first"
    assert "Keep flames and sparks away" in why
    assert not any(" fan" in text for text in strings(report))
    assert "today" not in catalogue("verdict")["do_gas_now"]


def test_a_gas_note_goes_before_the_note_on_radon(tmp_path: Path) -> None:
    _, why = use(report_of(tmp_path, "Methane,30,mg/L", "Radon,12000,pCi/L"), "Bath")
    assert " fan" not in why


@pytest.mark.parametrize(
    "rows", [("Copper,2.0,mg/L",), ("Lead,23,ug/L",), ("Lead,23,ug/L", "Copper,2.0,mg/L")]
)
def test_other_water_is_not_taken_back_by_running_the_tap(
    tmp_path: Path, rows: tuple[str, ...]
) -> None:
    report = report_of(tmp_path, *rows)
    assert report.first.steps[0].text.startswith("Use bottled water")
    told = " ".join(strings(report)).lower()
    assert "run the cold tap" not in told
    assert (
        "use only cold water to drink" not in " ".join(s.text for s in report.first.steps).lower()
    )


def test_two_samples_are_asked_for_once(tmp_path: Path) -> None:
    report = report_of(tmp_path, "Lead,23,ug/L", "Copper,2.0,mg/L")
    steps = [step.text for step in report.first.steps] + list(report.steps)
    asked = [text for text in steps if "two samples" in text or "first-draw sample" in text]
    assert len(asked) == 1


def test_running_the_tap_is_told_where_copper_is_only_a_nuisance(tmp_path: Path) -> None:
    # 40 CFR 143.3 (1.0 mg/L for taste) and 40 CFR 141.80 (1.3 mg/L): 1.1 lies between.
    site = Site(samples={"W1": SampleFacts(taken="first_draw")})
    report = report_of(tmp_path, "Copper,1.1,mg/L", site=site)
    told = [text for text in strings((report.groups, report.steps)) if "Run the cold tap" in text]
    assert len(told) == 1


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("Lead,3,ug/L", "Watch: below the level, but keep an eye on it"),
        ("Lead,9.6,ug/L", "Watch: below the level, but close to it"),
        ("Arsenic,6,ug/L", "Watch: below the level, but keep an eye on it"),
        ("Uranium,29,ug/L", "Watch: below the level, but close to it"),
    ],
)
def test_watch_says_why(tmp_path: Path, row: str, words: str) -> None:
    report = report_of(tmp_path, row)
    cards = [card for group in report.groups for card in group.cards]
    assert [card.verdict_words for card in cards] == [words]
    assert "close to a level" not in " ".join(strings(report.retest or ()))


def test_nitrite_near_its_level_keeps_babies_on_bottled_water(tmp_path: Path) -> None:
    # 40 CFR 141.62(b)(8): 1 mg/L as N for nitrite; 0.95 is 95 percent of it.
    report = report_of(
        tmp_path, "E. coli,Present,P/A", "Nitrate as N,1.0,mg/L", "Nitrite as N,0.95,mg/L"
    )
    assert use(report, "Baby")[0] == "Use bottled"
    assert use(report, "Drink")[0] == "Boil first"
    assert (
        "Nitrate or nitrite is below the EPA level, but not by enough" in report.first.steps[0].text
    )


def test_every_sentence_that_lets_somebody_boil_is_in_the_closed_list() -> None:
    lets = {
        f"verdict.{name}"
        for name, text in catalogue("verdict").items()
        if name.startswith("do_") and LETS_BOIL.search(text)
    }
    assert lets == set(boil.LETS_BOIL)


def test_a_lab_mark_is_told_once(tmp_path: Path) -> None:
    sheet = tmp_path / "marks.csv"
    sheet.write_text(
        "Sample ID,Collected,Analyte,Result,Units,Qualifier\nW1,2026-10-20,Lead,23,ug/L,J\n"
    )
    report = build(face.interpret(face.read(sheet), as_of=date(2026, 11, 25)), 0)
    (card,) = (card for group in report.groups for card in group.cards)
    marked = [text for text in (*card.what, *card.sure) if "estimate" in text]
    assert marked == ["The lab marks this number as an estimate (J)."]


def test_tests_that_cannot_be_told_are_not_counted_as_quiet(tmp_path: Path) -> None:
    rows = ("Iron,0.1,mg/L", "Chloride,20,mg/L", "Total Coliform,Absent,P/A", "Arsenic,<50,ug/L")
    report = report_of(tmp_path, *rows)
    assert "We found no health concern in 3 of the 4 tests on your sheet." in report.first.main


def test_one_concern_and_several_concerns(tmp_path: Path) -> None:
    one = report_of(tmp_path, "Arsenic,23,ug/L")
    assert "We found a health concern: arsenic." in one.first.main
    two = report_of(tmp_path, "Arsenic,23,ug/L", "Lead,40,ug/L")
    assert any(line.startswith("We found 2 health concerns: ") for line in two.first.main)


def test_no_lab_shorthand_is_read_aloud(tmp_path: Path) -> None:
    report = report_of(tmp_path, "E. coli,Absent,P/A", "Total Coliform,Present,P/A")
    told = " ".join(strings((report.first, report.groups, report.quiet)))
    assert "P/A" not in told
    assert "bacteria was" not in told
    assert "Present" in told


def test_two_ways_of_counting_are_both_named() -> None:
    context = Context(load_levels(("us_federal",), date(2026, 11, 25)), frozenset())
    wrong = Result("nitrite", "Nitrite", "2", "value", value=Decimal(2), unit="mg/L", basis="NO3")
    problem = answer(wrong, "Nitrite", context).problem
    assert problem is not None
    assert "mg/L as NO3" in problem.text
    assert "mg/L as N" in problem.text


def test_a_site_file_without_effect_is_told(tmp_path: Path) -> None:
    site = Site(samples={"NOPE": SampleFacts(taken="raw")})
    notes = report_of(tmp_path, "Iron,0.1,mg/L", site=site).notes
    assert any('"NOPE"' in line and "W1" in line for line in notes)
    quiet = Site(home=Home(language="en"), samples={"W1": SampleFacts(taken="raw")})
    assert report_of(tmp_path, "Iron,0.1,mg/L", site=quiet).notes == ()


def test_whose_levels_were_used_is_told(tmp_path: Path) -> None:
    federal = build(view_of(tmp_path, "Iron,0.1,mg/L"), 0).sources_note
    both = build(view_of(tmp_path, "Iron,0.1,mg/L", packs=("us_federal", "vermont")), 0)
    assert "Vermont" not in federal
    assert "Vermont Department of Environmental Conservation" in both.sources_note


def test_an_unclear_date_is_told_in_words(tmp_path: Path) -> None:
    """It is one of 9 March and September 3: digits would leave that as open as the sheet does."""
    sheet = "Sample,Collected,Analyte,Result,Unit\nW1,03/09/2026,Iron,0.1,mg/L\n"
    (tmp_path / "sheet.csv").write_text(sheet)
    told = {}
    for language in LANGUAGES:
        (warning,) = welltold.read(tmp_path / "sheet.csv", language=language).warnings
        told[language] = warning.text.rpartition(". ")[2]
    assert told == {
        "en": "It was read with the month first, as March 9, 2026.",
        "es": "Se leyó con el mes primero: 9 de marzo de 2026.",
    }


def test_a_name_with_a_hyphen_is_small_inside_a_sentence() -> None:
    assert in_sentence("Air-injection iron filter") == "air-injection iron filter"
    assert in_sentence("HFPO-DA (GenX)") == "HFPO-DA (GenX)"
    assert in_sentence("Radium-226") == "radium-226"
