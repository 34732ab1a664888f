"""Lab notes: a queer sheet is read with doubts or not at all; with its note it is read right.

The sheets are invented, and what they mean was written down with them. Expected values are what a
person reads from the sheet with the note in hand.
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from lab_note_sheets import BRINDLE, LABS, SHEETS, marl_sheet, note_in, quillon_sheet, sure
from layout_sheets import brief

import welltold
from welltold.errors import WelltoldError
from welltold.reading import Reading

QUILLON = """
[lab]
name = "Quillon Test House"
phrases = ["Quillon Test House", "Dtmn", "Fnd"]
[sheet]
date_order = "day_first"
decimal_comma = true
[headings]
"Dtmn" = "analyte"
"Fnd" = "result"
"Rpt Lmt" = "reporting_limit"
"Ms." = "unit"
"Vgl." = "previous"
"Btl" = "sample_id"
"Spot" = "point"
"Tkn" = "collected"
[units]
"mg p. L" = "mg/L"
"mcg p. L" = "ug/L"
[labels]
"Tot. Hd." = "hardness"
[flags]
"#" = "below"
"e" = "estimated"
[basis]
nitrate = "NO3"
[ignore]
lines = ["Courier box"]
parts = [{ from = "Check water", to = "End of check" }]
"""
MARL = """
[lab]
name = "Marl Point Assay Rooms"
phrases = ["Marl Point Assay Rooms"]
[sheet]
default_unit = "mg/L"
[headings]
"Btl" = "sample_id"
"Spot" = "point"
"Tkn" = "collected"
"Wt" = "ignore"
[labels]
"NO3X" = "Nitrate as N"
"FEX" = "iron"
"HDT" = "hardness"
"CLX" = "chloride"
[flags]
"z" = "below"
"""


def codes(reading: Reading) -> list[str]:
    return [message.code for message in reading.warnings]


# Three queer sheets ------------------------------------------------------------------------------


def test_a_table_with_private_headings_a_private_unit_and_a_private_flag() -> None:
    without = welltold.read(BRINDLE)
    assert not sure(without)
    reading = welltold.read(BRINDLE, notes=LABS)
    assert [brief(r) for r in reading.results] == [
        ("nitrate", "4.2", "mg/L", "N"),
        ("iron", "<0.05", "mg/L", None),
        ("manganese", "0.012", "mg/L", None),
        ("chloride", "31", "mg/L", None),
        ("hardness", "182", "mg/L", "CaCO3"),
        ("ph", "7.4", None, None),
        ("lead", "<0.002", "mg/L", None),
    ]
    assert len(sure(reading)) == 7
    assert [str(r.reporting_limit) for r in reading.results[:2]] == ["0.1", "0.05"]
    sample = reading.samples[0]
    assert (sample.id, sample.point, sample.collected) == ("BB-2291", "Kitchen tap", "2026-04-03")
    assert not reading.unread


def test_a_page_with_decimal_commas_a_stacked_head_and_a_part_to_leave_out(tmp_path: Path) -> None:
    sheet = quillon_sheet(tmp_path / "quillon.pdf")
    assert not sure(welltold.read(sheet))
    reading = welltold.read(sheet, notes=note_in(tmp_path / "labs", QUILLON))
    assert [brief(r) for r in reading.results] == [
        ("nitrate", "4.20", "mg/L", "NO3"),
        ("iron", "0.35", "mg/L", None),
        ("manganese", "<0.005", "mg/L", None),
        ("chloride", "31", "mg/L", None),
        ("hardness", "182", "mg/L", "CaCO3"),
        ("arsenic", "2.1", "ug/L", None),
    ]
    assert len(sure(reading)) == 6
    assert [str(r.reporting_limit) for r in reading.results[:3]] == ["0.10", "0.05", "0.005"]
    nitrate = reading.results[0].normalized
    # 14.007 of the 62.005 g/mol of nitrate is nitrogen: 4.20 mg/L as NO3 are 0.949 as N
    assert nitrate is not None
    assert abs(nitrate.value - Decimal("0.949")) < Decimal("0.001")
    sample = reading.samples[0]
    assert (sample.id, sample.point, sample.collected) == ("Q-7713", "Kitchen tap", "2026-04-03")


def test_samples_in_rows_under_codes_without_any_unit(tmp_path: Path) -> None:
    sheet = marl_sheet(tmp_path / "marl.xlsx")
    with pytest.raises(WelltoldError):
        welltold.read(sheet)
    reading = welltold.read(sheet, notes=note_in(tmp_path / "labs", MARL))
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("M-1", "Well 1", "2026-05-02"),
        ("M-2", "Well 2", "2026-05-02"),
        ("M-3", "Well 3", "2026-05-03"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["4.2", "0.35", "182", "31"],
        ["1.1", "<0.02", "140", "12"],
        ["0.6", "0.11", "95", "8"],
    ]
    assert {(r.analyte, r.unit, r.basis) for r in reading.results} == {
        ("nitrate", "mg/L", "N"),
        ("iron", "mg/L", None),
        ("hardness", "mg/L", "CaCO3"),
        ("chloride", "mg/L", None),
    }
    assert len(sure(reading)) == 12


def test_what_was_printed_stays_in_the_reading(tmp_path: Path) -> None:
    folder = note_in(tmp_path / "labs", QUILLON)
    found = welltold.read(quillon_sheet(tmp_path / "quillon.pdf"), notes=folder).results
    assert [(r.label, r.text) for r in found] == [
        ("Nitrate", "4,20"),
        ("Iron", "e 0,35"),
        ("Manganese", "0,005#"),
        ("Chloride", "31"),
        ("Tot. Hd.", "182"),
        ("Arsenic", "2,1"),
    ]
    # each flag as printed, and the known one that it stands for
    assert [r.qualifiers for r in found[:3]] == [(), ("e", "J"), ("#", "U")]
    codes = welltold.read(
        marl_sheet(tmp_path / "marl.xlsx"), notes=note_in(tmp_path / "marl", MARL)
    )
    assert [r.label for r in codes.samples[1].results] == ["NO3X", "FEX", "HDT", "CLX"]
    assert codes.samples[1].results[1].text == "z 0.02"
    assert codes.samples[1].results[1].where[0].cell == "E5"


def test_places_are_those_of_the_printed_words(tmp_path: Path) -> None:
    sheet = quillon_sheet(tmp_path / "quillon.pdf")
    with_note = welltold.read(sheet, notes=note_in(tmp_path / "labs", QUILLON)).results
    iron = next(w for w in with_note[1].where if w.of == "value")
    assert iron.box is not None
    # drawn at x 160, baseline 185 from the top, 10 points high
    assert iron.box[0] == pytest.approx(160, abs=1)
    assert iron.box[1] < 185 < iron.box[3]


def test_the_reading_says_which_note_helped_and_how(tmp_path: Path) -> None:
    folder = note_in(tmp_path / "labs", QUILLON)
    reading = welltold.read(quillon_sheet(tmp_path / "quillon.pdf"), notes=folder)
    assert codes(reading)[:3] == ["note.read_with", "note.words", "note.left_out"]
    assert reading.warnings[0].text == "Read with the note for Quillon Test House (lab.toml)."
    assert "Dtmn = Analyte" in reading.warnings[1].text
    # two lines of the check water hold numbers or the courier's; its heading and end hold none
    assert reading.warnings[2].args == {"count": "2"}


# Nothing changes where no note helps -------------------------------------------------------------


def test_a_sheet_that_no_note_claims_is_read_as_without() -> None:
    sheet = SHEETS / "clean-well.pdf"
    assert welltold.read(sheet, notes=LABS) == welltold.read(sheet)
