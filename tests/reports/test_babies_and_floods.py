"""What page 1 must not leave to page 2: formula, and what flood water carries."""

from __future__ import annotations

from pathlib import Path

import pytest

import welltold
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
