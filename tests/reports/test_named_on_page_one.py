"""What page 1 and the labels of the cards name, from a typed sheet to the page."""

from __future__ import annotations

from pathlib import Path

import pytest

import welltold
from welltold.messages import Language
from welltold.site import load_site
from welltold_reports.homeowner import build
from welltold_reports.homeowner.model import HomeownerReport

GERMS = "Total coliform,Absent,per 100 mL\nE. coli,Absent,per 100 mL\n"
NITRATE = "Nitrate as N,1.1,mg/L\n"


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    return tmp_path / "sheet.csv"


def report(sheet: Path, rows: str, language: Language = "en") -> HomeownerReport:
    sheet.write_text(f"Analyte,Result,Unit\n{rows}")
    return build(welltold.interpret(welltold.read(sheet), language=language), 0)


def labels(made: HomeownerReport) -> dict[str, str]:
    return {card.name: card.verdict_words for group in made.groups for card in group.cards}


def test_a_count_names_what_it_counts(sheet: Path) -> None:
    # 40 CFR 143.3: iron 0.3, chloride 250, aluminum 0.2, silver 0.1, foaming agents 0.5
    rows = "Iron,1,mg/L\nChloride,400,mg/L\nAluminum,1,mg/L\nSilver,0.15,mg/L\nMBAS,0.9,mg/L\n"
    few = report(sheet, f"{rows}{GERMS}{NITRATE}").first
    text = next(count.text for count in few.counts if count.verdict == "nuisance_only")
    assert text.startswith("5 nuisances: ")
    assert {"iron", "chloride", "aluminum", "silver", "surfactants (foaming agents)"} == set(
        text.removeprefix("5 nuisances: ").replace(" and ", ", ").split(", ")
    )
    many = "Hardness,300,mg/L as CaCO3\nTotal dissolved solids,900,mg/L\n"
    more = report(sheet, f"{rows}{many}{GERMS}{NITRATE}").first
    text = next(count.text for count in more.counts if count.verdict == "nuisance_only")
    assert text.startswith("7 nuisances: ")
    assert text.endswith(" and 2 more")


def test_a_count_names_what_it_counts_in_spanish(sheet: Path) -> None:
    page = report(sheet, f"Iron,1,mg/L\n{GERMS}{NITRATE}", "es").first
    assert "1 molestia: hierro" in [count.text for count in page.counts]


def test_how_the_water_was_taken_stands_beside_the_sample_and_not_among_the_doubts(
    sheet: Path, tmp_path: Path
) -> None:
    site = tmp_path / "site.toml"
    site.write_text('[samples.A]\ntaken = "raw"\n')
    sheet.write_text(f"Sample ID,Analyte,Result,Unit\nA,Iron,1,mg/L\nA,{NITRATE}")
    view = welltold.interpret(welltold.read(sheet), site=load_site(site))
    page = build(view, 0).first
    assert page.taken == "The water was taken before any treatment."
    assert page.taken not in page.sure


def test_where_boiling_will_do_the_label_says_so(sheet: Path) -> None:
    """Vermont Department of Health: coliform without E. coli, boil or use other water."""
    rows = "Total coliform,Present,per 100 mL\nE. coli,Absent,per 100 mL\nNitrite as N,0.01,mg/L\n"
    made = report(sheet, f"{rows}{NITRATE}")
    assert labels(made)["Total coliform bacteria"] == (
        "Health concern: boil the water or use other water today, "
        "mend the cause in the next few weeks"
    )
    with_lead = report(sheet, f"{rows}{NITRATE}Lead,0.03,mg/L\n")
    assert labels(with_lead)["Total coliform bacteria"] == (
        "Health concern: use other water today, mend the cause in the next few weeks"
    )


def test_acid_water_beside_metals_of_the_pipes_is_no_mere_nuisance(sheet: Path) -> None:
    acid = f"pH,5.8,\n{GERMS}{NITRATE}"
    assert labels(report(sheet, acid))["pH"].startswith("Nuisance only")
    made = report(sheet, f"{acid}Copper,2.4,mg/L\n")
    assert labels(made)["pH"] == (
        "A nuisance in itself, but it can bring lead and copper into the water"
    )
    mild = report(sheet, f"pH,9.1,\n{GERMS}{NITRATE}Copper,2.4,mg/L\n")
    assert labels(mild)["pH"].startswith("Nuisance only")


def test_the_plumber_is_asked_for_the_ph_only_where_the_sheet_has_none(sheet: Path) -> None:
    copper = f"Copper,2.4,mg/L\n{GERMS}{NITRATE}"
    ask = "Ask a licensed plumber to look at the pipes."
    assert f"{ask} Test the pH too." in report(sheet, copper).first.calls
    assert ask in report(sheet, f"{copper}pH,5.8,\n").first.calls


def test_the_radon_office_is_named_where_radon_is_open_or_watched(sheet: Path) -> None:
    office = "Call your state radon office."
    assert office in report(sheet, f"Radon,1200,pCi/L\n{GERMS}{NITRATE}").first.calls
    assert office not in report(sheet, f"Radon,100,pCi/L\n{GERMS}{NITRATE}").first.calls
