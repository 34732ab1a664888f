"""Titles right over heads, merged heads over days, signs far from numbers: counted by hand."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from layout_sheets import brief, read_csv, read_page

from welltold.reading import Reading
from welltold_parsers import read


def _told(reading: Reading) -> list[tuple[str | None, str | None, list[str]]]:
    return [(s.point, s.collected, [r.text for r in s.results]) for s in reading.samples]


def test_a_title_in_cells_right_over_the_head_is_no_part_of_it() -> None:
    reading = read_csv(
        "Bench report,Pump house 2,May 2026\nDate,Time,Fluoride (mg/L),pH\n"
        "2026-05-01,08:00,0.7,7.4\n2026-05-02,08:10,0.6,7.5\nSum,,1.3,14.9\nCount,,2,2"
    )
    assert _told(reading) == [
        ("Pump house 2", "2026-05-01T08:00", ["0.7", "7.4"]),
        ("Pump house 2", "2026-05-02T08:10", ["0.6", "7.5"]),
    ]
    assert [r.label for r in reading.samples[0].results] == ["Fluoride (mg/L)", "pH"]


def test_a_head_of_two_rows_goes_on_being_one() -> None:
    reading = read_csv(
        "Field,Date,Iron,Lead\nID,taken,mg/L,ug/L\nA-1,2026-05-01,0.3,2\nA-2,2026-05-02,0.4,3"
    )
    assert [(s.id or s.point, s.collected) for s in reading.samples] == [
        ("A-1", "2026-05-01"),
        ("A-2", "2026-05-02"),
    ]
    assert {r.unit for r in reading.results} == {"mg/L", "ug/L"}


def test_wells_merged_over_their_days(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Parameter", "Unit", "Well 1", None, "Well 2", None],
        [None, None, "4/21/2026", "10/20/2026", "4/21/2026", "10/20/2026"],
        ["Iron", "mg/L", 0.31, 0.33, 2.25, "<0.02"],
        ["Lead", "ug/L", "<1", 1.5, 2.5, 3.5],
    ):
        sheet.append(row)
    for cells in ("A1:A2", "B1:B2", "C1:D1", "E1:F1"):
        sheet.merge_cells(cells)
    book.save(tmp_path / "wells.xlsx")
    assert _told(read(tmp_path / "wells.xlsx")) == [
        ("Well 1", "2026-04-21", ["0.31", "<1"]),
        ("Well 1", "2026-10-20", ["0.33", "1.5"]),
        ("Well 2", "2026-04-21", ["2.25", "2.5"]),
        ("Well 2", "2026-10-20", ["<0.02", "3.5"]),
    ]


def test_a_sign_far_before_its_number_in_a_printout(tmp_path: Path) -> None:
    path = tmp_path / "printout.txt"
    path.write_text(
        "LAB NO: 26-5512      COLLECTED: 05/14/26 0805\n\n"
        "TEST                      RESULT     UNITS      MDL\n"
        "NITRATE NITROGEN            2.41     MG/L       0.05\n"
        "LEAD                  <     1.0      UG/L       1.0\n"
        "TURBIDITY             >   100        NTU        0.1\n"
        "ARSENIC                     3.3      UG/L       0.5\n",
        "utf-8",
    )
    reading = read(path)
    assert [(r.label, *brief(r)[:2]) for r in reading.results] == [
        ("NITRATE NITROGEN", "nitrate", "2.41"),
        ("LEAD", "lead", "<1.0"),
        ("TURBIDITY", "turbidity", ">100"),
        ("ARSENIC", "arsenic", "3.3"),
    ]


def test_one_name_in_two_buildings_is_two_places() -> None:
    reading = read_csv(
        "Bldg,Fixture,Date,Lead first draw (ug/L),Lead 2 min flush (ug/L)\n"
        "Elm,Hall,2026-06-01,<1,<1\nOak,Hall,2026-06-01,<1,2.5"
    )
    assert [(s.point, s.taken, [r.text for r in s.results]) for s in reading.samples] == [
        ("Elm, Hall", "first_draw", ["<1"]),
        ("Elm, Hall", "flushed", ["<1"]),
        ("Oak, Hall", "first_draw", ["<1"]),
        ("Oak, Hall", "flushed", ["2.5"]),
    ]


def test_a_last_row_without_the_day_that_all_others_have_is_doubted() -> None:
    rows = "Well,Date,Iron (mg/L),Lead (ug/L)\nA,2026-05-01,0.3,2\nB,2026-05-01,0.4,3\n"
    reading = read_csv(rows + "Fernhill,,0.1,7")
    assert ["read.sample_unsure" in {m.code for m in r.review} for r in reading.results] == [
        *([False] * 4),
        *([True] * 2),
    ]


@pytest.mark.parametrize(("mark", "fractions"), [("T", ["total", "dissolved"])])
def test_a_basis_of_total_and_dissolved(mark: str, fractions: list[str]) -> None:
    reading = read_csv(
        "SampleID,SampleDate,Analyte,Result,Units,Basis\n"
        f"S1,2026-05-14,Iron,0.5,mg/L,{mark}\nS1,2026-05-14,Iron,0.3,mg/L,D"
    )
    assert [r.fraction for r in reading.results] == fractions
    assert [r.review for r in reading.results] == [(), ()]


def test_a_sign_behind_the_name_in_a_line_of_a_web_page(tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    path.write_text(
        "<html><body><p>Sample ID: W-5521</p><ul><li><b>Lead</b>: &lt; 1 µg/L</li>"
        "<li>Iron: 0.3 mg/L</li><li>Turbidity: &gt; 100 NTU</li></ul>"
        "<h2>Last year</h2><ul><li>Iron: 0.9 mg/L</li></ul></body></html>",
        "utf-8",
    )
    reading = read(path)
    assert [(r.label, *brief(r)[:2]) for r in reading.results] == [
        ("Lead", "lead", "<1"),
        ("Iron", "iron", "0.3"),
        ("Turbidity", "turbidity", ">100"),
    ]


@pytest.mark.parametrize("head", ["% removal", "Removal (%)", "Percent reduction", "% change"])
def test_what_a_filter_took_out_is_no_sample(head: str) -> None:
    reading = read_csv(
        f"Parameter,Units,Before filter,After filter,{head}\n"
        "Arsenic,ug/L,22.4,1.1,95\nIron,mg/L,2.1,<0.05,98\nUranium,ug/L,12,ND,100"
    )
    assert [(s.point, [r.text for r in s.results]) for s in reading.samples] == [
        ("Before filter", ["22.4", "2.1", "12"]),
        ("After filter", ["1.1", "<0.05", "ND"]),
    ]


def test_a_colon_far_behind_its_key_in_a_printout(tmp_path: Path) -> None:
    path = tmp_path / "printout.txt"
    path.write_text(
        "CLIENT ID : BARN WELL                      DATE SAMPLED : 03-MAY-26  07:15\n"
        "LAB ID    : 26-04417-01                    DATE RECEIVED: 04-MAY-26\n\n"
        "ANALYTE                      RESULT     QUAL   RL       UNITS\n"
        "NITRATE AS N                  4.20             0.05     MG/L\n"
        "LEAD                          0.9        J     1.0      UG/L\n",
        "utf-8",
    )
    (sample,) = read(path).samples
    assert (sample.id, sample.point, sample.received) == ("26-04417-01", "BARN WELL", "2026-05-04")


def test_a_letter_in_the_column_of_signs_is_a_flag() -> None:
    reading = read_csv(
        "site,date,param,value,remark,units\nA,5/14/26,Iron,0.05,<,mg/L\n"
        "A,5/14/26,Lead,1.2,E,ug/L\nA,5/14/26,Copper,0.4,,mg/L"
    )
    assert [(brief(r)[1], r.qualifiers) for r in reading.results] == [
        ("<0.05", ()),
        ("1.2", ("E",)),
        ("0.4", ()),
    ]


def test_a_sheet_behind_a_chart_holds_earlier_results(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (["Sample ID", "26-0455"], ["Test", "Result", "Units"], ["Nitrate-N", 3.25, "mg/L"]):
        sheet.append(row)
    second = book.create_sheet("Chart data")
    for years in (["Year", "Nitrate-N"], [2024, 2.5], [2025, 2.75]):
        second.append(years)
    book.save(tmp_path / "book.xlsx")
    assert [r.text for r in read(tmp_path / "book.xlsx").results] == ["3.25"]


def test_a_group_merged_over_its_tests_is_no_part_of_the_first_name(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        [None, None, "Inorganics", None, "Dissolved", None, None],
        ["Well", "Date", "Nitrate-N", "Chloride", "Iron", "Lead", "Balance %"],
        [None, None, "mg/L", "mg/L", "mg/L", "ug/L", None],
        ["T-1", "2026-05-14", 3.25, 12.5, 0.25, "<0.5", 1.25],
        ["T-2", "2026-05-14", "<0.05", 7.5, 2.25, 1.5, -2.5],
    ):
        sheet.append(row)
    sheet.merge_cells("C1:D1")
    sheet.merge_cells("E1:F1")
    book.save(tmp_path / "groups.xlsx")
    reading = read(tmp_path / "groups.xlsx")
    assert [(r.label, r.text, r.fraction) for r in reading.samples[0].results] == [
        ("Nitrate-N", "3.25", None),
        ("Chloride", "12.5", None),
        ("Iron", "0.25", "dissolved"),
        ("Lead", "<0.5", "dissolved"),
    ]
    assert len(reading.results) == 8
    assert reading.unread == ()


def test_letters_for_less_than_before_a_number_are_no_end_of_a_place() -> None:
    reading = read_page(
        (40.0, {50.0: "Arsenic results (mg/L)"}),
        (70.0, {50.0: "Milk house", 150.0: "0.00079"}),
        (85.0, {50.0: "Barn well", 150.0: "0.0022"}),
        (100.0, {50.0: "Laundry sink", 150.0: "0.0015"}),
        (115.0, {50.0: "Basement tap LT", 150.0: "0.0005"}),
        (130.0, {50.0: "After softener 2", 150.0: "0.0019"}),
        (145.0, {50.0: "Stable", 120.0: "LT", 150.0: "0.0005"}),
    )
    assert [s.point for s in reading.samples][-3:] == ["Basement tap", "After softener 2", "Stable"]
    told = [brief(r)[1] for r in reading.results]
    assert told == ["0.00079", "0.0022", "0.0015", "<0.0005", "0.0019", "<0.0005"]
