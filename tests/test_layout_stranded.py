"""A number with the name of a test that ended nowhere is told, and nothing else is."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import pytest
from tests.layout_sheets import read_csv, read_page, table
from tests.test_command import welltold

from welltold.reading import Numbers, Reading
from welltold_parsers import read

LEFT = "read.number_left"


def read_text(folder: Path, text: str) -> Reading:
    path = folder / "sheet.txt"
    path.write_text(text, encoding="utf-8")
    return read(path)


def left(reading: Reading) -> list[tuple[str, str | None]]:
    return [(u.text, u.where.cell) for u in reading.unread if u.reason.code == LEFT]


LETTER = """Report 26-118       Page 1 of 2
Sampled 06/02/2026

Iron       0.41 mg/L
{line}
"""


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Nickel .1.34", "Nickel .1.34"),
        ("Nickel  .1.34", "Nickel .1.34"),
        ("Nickel     1.3.4", "Nickel 1.3.4"),
        ("Nickel .... O.4 mg/L", "Nickel O.4 mg/L"),
        ("Nickel     0,4O", "Nickel 0,4O"),
    ],
)
def test_a_number_that_no_rule_reads_is_told_with_its_place(
    tmp_path: Path, line: str, told: str
) -> None:
    reading = read_text(tmp_path, LETTER.format(line=line + "\nZinc       3.4 mg/L"))
    assert [r.analyte for r in reading.results] == ["iron", "zinc"]
    assert [u.text for u in reading.unread] == [told]
    assert str(reading.unread[0].where.cell).startswith("L5C")


def test_a_number_below_a_name_is_told(tmp_path: Path) -> None:
    reading = read_text(tmp_path, LETTER.format(line="\nLead\n 4.4"))
    assert left(reading) == [("Lead 4.4", "L7C2")]


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Your lead of 4.4 came as a surprise to all of us here.", ["lead of 4.4"]),
        ("Our lead of 12 years ago has left the firm, but the level stays.", []),
        ("Most wells near you have a hardness of 180 or so in a dry year.", []),
        ("The limit that was set for lead is 15 in every county of the state.", []),
    ],
)
def test_a_sentence_that_gives_a_number_is_told_unless_it_speaks_of_others(
    line: str, told: list[str]
) -> None:
    reading = read_page((60.0, {40.0: "Iron", 200.0: "0.41 mg/L"}), (300.0, {40.0: line}))
    assert [r.analyte for r in reading.results] == ["iron"]
    assert [u.text for u in reading.unread] == told


@pytest.mark.parametrize(
    "line",
    [
        "The limit for lead is 15 ppb.",
        "MCL for nitrate 10 mg/L",
        "Lead pipes were used before 1986",
        "Method blank: lead recovery 98 %",
        "Lead results follow on page 2",
        "Temp. on receipt: 4.1 C",
        "Well depth 142 ft",
        "Call 555-0184 about lead",
        "0    0.5    1.0    1.5",
    ],
)
def test_limits_advice_and_scales_are_not_told(tmp_path: Path, line: str) -> None:
    assert left(read_text(tmp_path, LETTER.format(line=line))) == []


def test_each_name_of_a_line_of_which_nothing_was_made_is_told_by_itself() -> None:
    rows = "Well | Lead (ppb) | Copper (ppb) | Zinc (ppb)\nA | 4.4 | 17 | 30\nB | <1 | 12 | 41"
    reading = read_page(*table((40.0, 200.0, 300.0, 400.0), rows))
    assert len(reading.results) == 6
    assert reading.unread == ()


def test_a_row_of_limits_under_names_is_not_told() -> None:
    rows = (
        "Sample | Date | Lead (ug/L) | Copper (ug/L) | Zinc (ug/L)\n"
        "Action level | | 15 | 1300 | 5000\nDetection limit | | 1 | 2 | 5\n"
        "W-1 | 06/02/2026 | 4.4 | 17 | 30\nW-2 | 06/02/2026 | 2.1 | 12 | 41"
    )
    reading = read_page(*table((40.0, 150.0, 250.0, 350.0, 450.0), rows))
    assert len(reading.results) == 6
    assert left(reading) == []


def test_the_numbers_of_a_small_sheet_have_the_roles_counted_by_hand(tmp_path: Path) -> None:
    """Nine words with a digit, of which the page number has two and the report and day one each."""
    text = LETTER.format(line="Copper     0.2 mg/L\nMCL for lead 15 ppb\nNickel .1.34")
    numbers = read_text(tmp_path, text).numbers
    assert numbers == Numbers(shown=8, results=2, limits=1, metadata=4, unread=1)


def test_the_cells_of_a_data_file_have_the_roles_of_their_columns() -> None:
    reading = read_csv(
        "Sample,Date,Analyte,Result,Unit,RL,Dilution\n"
        "W-1,2026-06-02,Iron,0.41,mg/L,0.1,1\nW-1,2026-06-02,Lead,<1,ug/L,1,1\n"
        "W-2,2026-06-03,Iron,0.52,mg/L,0.1,1\nW-2,2026-06-03,Lead,2.2,ug/L,1,5\n"
    )
    assert len(reading.results) == 4
    assert reading.numbers == Numbers(shown=20, results=4, limits=4, metadata=8, beside=4)


def test_the_counts_are_published_and_told_in_both_languages() -> None:
    sheet = Path(__file__).parents[1] / "samples" / "sheets" / "clean-well.pdf"
    numbers = read(sheet).numbers
    assert numbers is not None
    printed = json.loads(welltold("read", sheet, "--json").stdout)["numbers"]
    assert printed == asdict(numbers)
    english = " ".join(welltold("read", sheet).stdout.split())
    assert f"Numbers on the sheet: {numbers.shown}. Of these: {numbers.results} in results" in (
        english
    )
    spanish = " ".join(welltold("read", sheet, "--language", "es").stdout.split())
    assert f"Números en la hoja: {numbers.shown}." in spanish
    assert f"{numbers.unread} sin entender." in spanish
