"""The next sample: on page 1, in the table of retests, and after a shock of the well."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

import welltold
from welltold.interpretation import Interpretation
from welltold.messages import Language
from welltold.site import load_site
from welltold_reports.homeowner import build
from welltold_reports.homeowner.model import HomeownerReport

DAY = date(2026, 11, 25)
GERMS = "Total coliform,Absent,per 100 mL\nE. coli,Absent,per 100 mL\n"
COLIFORM = "Total coliform,Present,per 100 mL\nE. coli,Absent,per 100 mL\n"
NITRATE = "Nitrate as N,1.1,mg/L\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    return tmp_path / "sheet.csv"


def view(sheet: Path, rows: str, site: str = "", language: Language = "en") -> Interpretation:
    sheet.write_text(f"Analyte,Result,Unit\n{rows}")
    home = sheet.with_name("site.toml")
    home.write_text(site)
    told = load_site(home) if site else None
    return welltold.interpret(welltold.read(sheet), site=told, as_of=DAY, language=language)


def report(sheet: Path, rows: str, site: str = "", language: Language = "en") -> HomeownerReport:
    return build(view(sheet, rows, site, language), 0)


def retests(made: HomeownerReport) -> dict[str, str]:
    return {row[0]: row[1] for row in made.retest.rows} if made.retest else {}


def test_what_is_tested_again_at_once_is_a_step_of_page_one(sheet: Path) -> None:
    # 40 CFR 141.62(b)(7): nitrate 10 mg/L as N
    made = report(sheet, f"Nitrate as N,14,mg/L\n{GERMS}")
    assert retests(made)["Nitrate"].startswith("at once")
    texts = [step.text for step in made.first.steps if step.when == "Today"]
    assert "Have a lab certified by your state test a second sample at once: nitrate." in texts
    calm = report(sheet, f"{NITRATE}{GERMS}").first.steps
    assert not any("second sample" in step.text for step in calm)


def test_a_second_sample_is_asked_for_only_once(sheet: Path) -> None:
    texts = " ".join(step.text for step in report(sheet, f"Lead,0.2,mg/L\n{GERMS}").first.steps)
    assert texts.count("second sample") <= 1


def test_the_sample_before_the_chlorine_stands_among_the_retests(sheet: Path) -> None:
    """Vermont Department of Health: confirm coliform before the well is disinfected."""
    made = report(sheet, f"{COLIFORM}{NITRATE}")
    both = "Total coliform bacteria and E. coli bacteria"
    assert retests(made)[both].startswith("this week, before any chlorine goes in")
    spanish = report(sheet, f"{COLIFORM}{NITRATE}", language="es")
    assert any(
        when.startswith("esta semana, antes de poner cloro") for when in retests(spanish).values()
    )


def test_after_a_shock_no_sample_is_asked_for_before_the_chlorine(sheet: Path) -> None:
    made = report(sheet, f"{COLIFORM}{NITRATE}", "[well]\nshocked_days_ago = 3\n")
    everything = " ".join(
        [step.text for step in made.first.steps]
        + [line for group in made.groups for card in group.cards for line in card.do]
        + list(retests(made).values())
    )
    assert "before any chlorine" not in everything
    assert "until no chlorine is left" in everything


def test_a_bottle_that_waited_too_long_has_a_row_and_radon_its_office(tmp_path: Path) -> None:
    """Standard Methods 7500-Rn: radon keeps for 4 days; this bottle waited for 20."""
    sheet = tmp_path / "radon.csv"
    sheet.write_text(
        "Sample ID,Collected,Received,Analyte,Result,Unit\n"
        "A,2026-11-01 08:00,2026-11-21 08:00,Radon,120,pCi/L\n"
    )
    made = build(welltold.interpret(welltold.read(sheet), as_of=DAY), 0)
    assert retests(made)["Radon"] == "in the next few weeks, in a fresh bottle"
    assert "Call your state radon office." in made.first.calls


def test_a_late_bottle_over_the_level_is_filled_again(tmp_path: Path) -> None:
    """Maine CDC: 4,000 pCi/L; what was found stays found, and a fresh bottle makes it sure."""
    sheet = tmp_path / "radon.csv"
    sheet.write_text(
        "Sample ID,Collected,Received,Analyte,Result,Unit\n"
        "A,2026-11-01 08:00,2026-11-21 08:00,Radon,5200,pCi/L\n"
    )
    made = build(welltold.interpret(welltold.read(sheet), as_of=DAY), 0)
    assert retests(made)["Radon"].startswith("in the next few weeks, in a fresh bottle")


def test_gross_alpha_says_how_much_was_taken_off_for_uranium(sheet: Path) -> None:
    # 40 CFR 141.66(c); 40 CFR 141.25 footnote: 0.67 pCi a microgram; 15 x 0.67 = 10.05; 27 - 10.05
    rows = f"Gross alpha,27,pCi/L\nUranium,15,ug/L\n{GERMS}{NITRATE}"
    what = " ".join(
        line for group in report(sheet, rows).groups for card in group.cards for line in card.what
    )
    assert "Of the 27 pCi/L counted, about 10.05 pCi/L stand for the uranium." in what
    assert "That leaves about 16.95 pCi/L." in what


def test_the_homeowner_reads_how_much_sodium_a_softener_adds(sheet: Path) -> None:
    # 22.990 / 50.043 x 357 = 164 mg/L; EPA 822-R-03-006: 20 mg/L on a low-salt diet
    made = report(sheet, f"Hardness,357,mg/L as CaCO3\n{GERMS}{NITRATE}")
    (softener,) = (stage for stage in made.trains[0].stages if stage.name.startswith("Water soft"))
    told = " ".join(softener.cautions)
    assert "Against 21 grains per gallon of hardness it adds about 160 mg/L of sodium" in told
    assert "EPA advises 20 mg/L or less (EPA 822-R-03-006)." in told


def test_a_choice_that_is_only_named_keeps_its_caution_about_health(sheet: Path) -> None:
    made = report(sheet, f"Nitrate as N,14,mg/L\n{GERMS}Sulfate,20,mg/L\nIron,<0.1,mg/L\n")
    named = [train for train in made.trains if "anion exchanger" in train.names.lower()]
    assert named
    for train in named:
        inside = [line for stage in train.stages for line in stage.cautions]
        said = " ".join((*train.against, *inside))
        assert "can give off more nitrate than comes in" in said
