"""What page 1 must not leave to page 2: formula, and what flood water carries."""

from __future__ import annotations

from pathlib import Path

import pytest

import welltold
from welltold.messages import Language
from welltold_reports.homeowner import build

SHEET = """Analyte,Result,Unit
Manganese,0.25,mg/L
Nitrate as N,<0.1,mg/L
Total coliform,Absent,per 100 mL
E. coli,{e_coli},per 100 mL
"""


@pytest.fixture
def sheet(tmp_path: Path) -> Path:
    return tmp_path / "sheet.csv"


def test_page_one_keeps_manganese_from_a_babys_bottle(sheet: Path) -> None:
    """Minnesota's guidance value for babies is 100 ug/L; EPA's lifetime advisory is 300."""
    sheet.write_text(SHEET.format(e_coli="Absent"))
    first = build(welltold.interpret(welltold.read(sheet)), 0).first
    uses = {row.use: row.answer for row in first.uses}
    assert uses["Baby, formula"] == "Use bottled"
    assert uses["Drink"] == "No concern found in what was tested"
    assert "Do not mix baby formula with this water, because of manganese." in first.main
    assert [(step.when, step.text) for step in first.steps] == [
        ("With a baby", "Use bottled water to mix formula.")
    ]


def test_a_flood_is_no_substance_that_boiling_leaves(sheet: Path, tmp_path: Path) -> None:
    sheet.write_text(SHEET.format(e_coli="Present"))
    site = tmp_path / "site.toml"
    site.write_text("[well]\nflooded = true\n")
    view = welltold.interpret(welltold.read(sheet), site=welltold.load_site(site))
    steps = [step.text for step in build(view, 0).first.steps]
    assert "Boiling does not remove fuel or farm chemicals." in steps[0]
    assert sum("disinfect" in step for step in steps) == 1
    assert sum("bottled" in step for step in steps) == 1


COLIFORM = """Analyte,Result,Unit
Total coliform,Present,per 100 mL
E. coli,Absent,per 100 mL
{nitrate}
"""
NEAR = "Nitrate as N,6.3,mg/L"
"""40 CFR 141.154(c) asks for a notice to parents above half the level of 10 mg/L."""
LOW = "Nitrate as N,0.2,mg/L\nNitrite as N,<0.05,mg/L"


@pytest.mark.parametrize(
    ("language", "line"),
    [
        ("en", "Babies and pregnant people: bottled water only, not boiled well water."),
        ("es", "Bebés y embarazadas: solo agua embotellada, nunca la del pozo, ni hervida."),
    ],
)
def test_the_table_says_for_whom_boiling_is_no_answer(
    sheet: Path, language: Language, line: str
) -> None:
    """Step 1 keeps boiled water from babies and pregnant people; the rows must say it too."""
    told = []
    for nitrate in (NEAR, "", LOW):
        sheet.write_text(COLIFORM.format(nitrate=nitrate))
        view = welltold.interpret(welltold.read(sheet, language=language), language=language)
        rows = build(view, 0).first.uses
        told.append([line in row.why for row in rows])
    people = [True, False, True, True, False, False, False]  # drink, cook, teeth; pets are none
    assert told == [people, people, [False] * 7]


@pytest.mark.parametrize(
    ("nitrate", "main"),
    [
        (LOW, ["For now, boil this water before you drink it or cook with it."]),
        (
            NEAR,
            [
                "For now, boil this water before you drink it or cook with it.",
                "Babies and pregnant people: bottled water only.",
            ],
        ),
        (f"{LOW}\nArsenic,20,ug/L", ["Use other water to drink and cook for now."]),
    ],
)
def test_the_headline_says_that_boiling_will_do(sheet: Path, nitrate: str, main: list[str]) -> None:
    """Vermont: boil for coliform; arsenic (10 ug/L, 40 CFR 141.62) stays when water boils."""
    sheet.write_text(COLIFORM.format(nitrate=nitrate))
    first = build(welltold.interpret(welltold.read(sheet)), 0).first
    assert [*first.main][: len(main)] == main
    assert len(first.main) == len(main) + 1
