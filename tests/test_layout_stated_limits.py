"""What "ND" stands for in the words of a sheet, heads on two rows, lists of limits: by hand."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest
from layout_sheets import brief, read_csv, read_page, table

from welltold_parsers import read

_LEFTS = (50.0, 150.0, 260.0, 350.0)


def test_a_limit_for_one_test_serves_no_other() -> None:
    reading = read_csv(
        "ND = lead less than 2.0 ppb. NS = not sampled.\n"
        "Tap,Date,Lead (ppb),Copper (ppm)\nBarn,2026-07-14,ND,ND\nHouse,2026-07-14,5.0,0.2"
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("lead", "<2.0"),
        ("copper", "<"),
        ("lead", "5.0"),
        ("copper", "0.2"),
    ]


def test_limits_for_two_tests_in_one_line() -> None:
    reading = read_csv(
        "ND = lead less than 2.0 ppb; copper below 0.05 ppm\n"
        "Tap,Date,Lead (ppb),Copper (ppm)\nBarn,2026-07-14,ND,ND\nHouse,2026-07-14,5.0,0.2"
    )
    assert [brief(r)[1] for r in reading.samples[0].results] == ["<2.0", "<0.05"]


@pytest.mark.parametrize(
    ("words", "limit"),
    [
        ("All results are lead, ug/L. Reporting limit 2.0 ug/L. Action level 15 ug/L.", "<2.0"),
        ("All results are lead. Reporting limit 2 ug/L, detection limit 0.3 ug/L.", "<"),
        ("Lead and copper by one method. Reporting limit 2.0 ug/L.", "<"),
        ("All results are lead. Reporting limit 0.002 mg/L.", "<"),
    ],
)
def test_the_one_limit_of_the_only_test(words: str, limit: str) -> None:
    reading = read_page(
        (60.0, {50.0: words}),
        *table(
            _LEFTS,
            "Bottle | Room | Date | Lead ug/L\n"
            "P-01 | Office | 8/24/26 | ND\n"
            "P-02 | Kitchen | 8/24/26 | 3.2",
            top=90.0,
        ),
    )
    assert [brief(r)[1] for r in reading.results] == [limit, "3.2"]


def test_a_list_of_levels_is_no_result() -> None:
    reading = read_csv(
        "Tap,Date,Lead (ppb),Copper (ppm)\nBarn,2026-07-14,1,0.1\nHouse,2026-07-14,5.0,0.2\n"
        "Do not take off the aerators. Lead action level 15 ppb; copper 1.3 ppm."
    )
    assert [r.text for r in reading.results] == ["1", "0.1", "5.0", "0.2"]


def test_a_question_of_a_level_leaves_the_numbers_beside_it_alone() -> None:
    rows = "".join(f"T{n},2026-07-14,{n}.5,{'YES' if n > 4 else 'no'}\n" for n in range(1, 8))
    for head, use in (("Over 4 ppb?", {"as_is"}), ("Seen?", {"check"})):
        reading = read_csv(f"Tap,Date,Lead (ppb),{head}\n{rows}")
        assert {"as_is" if r.use == "as_is" else "check" for r in reading.results} == use


_TWO_ROWS = [
    ["Tap", "Date", "Lead (ppb)", None, "Copper (ppm)", "Remark"],
    [None, None, "First draw", "Flush 30 s", "First draw", None],
    ["Barn", "2026-07-14", 4.5, 1.5, 0.25, None],
    ["House", "2026-07-14", 6.5, None, 0.75, "new tap"],
]
_READ = [
    ("Barn", "first_draw", ["4.5", "0.25"]),
    ("Barn", "flushed", ["1.5"]),
    ("House", "first_draw", ["6.5", "0.75"]),
]


@pytest.mark.parametrize("merged", [True, False])
def test_draws_under_heads_on_two_rows(tmp_path: Path, *, merged: bool) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in _TWO_ROWS:
        sheet.append(row)
    if merged:
        for cells in ("A1:A2", "B1:B2", "C1:D1", "F1:F2"):
            sheet.merge_cells(cells)
    book.save(tmp_path / "draws.xlsx")
    reading = read(tmp_path / "draws.xlsx")
    told = [(s.point, s.taken, [r.text for r in s.results]) for s in reading.samples]
    assert told == _READ
    assert {r.unit for r in reading.results} == {"ppb", "ppm"}


@pytest.mark.parametrize("head", ["EC 25°C", "EC @ 25 C", "EC (25 °C)", "EC at 25 deg C"])
def test_conductance_with_the_temperature_that_it_is_reduced_to(head: str) -> None:
    reading = read_csv(
        f"Well,Date,NO3-N,Cl,{head}\n,,mg/L,mg/L,µS/cm\nA,2026-05-01,6.4,18,604\nB,2026-05-02,1,2,410"
    )
    last = reading.samples[0].results[-1]
    assert brief(last)[:2] == ("specific_conductance", "604")
    assert last.review == ()


_ND_ROWS = "Test | Result | Unit | Method\nLead | ND | ug/L | 200.8\nArsenic | 3.1 | ug/L | 200.8\n"
_MORE_ROWS = "Nitrate-N | ND | mg/L | 300.0\nSelenium | ND | ug/L | 200.8"


def _told(*notes: str) -> dict[str | None, str]:
    reading = read_page(
        (50.0, {50.0: "Sample: Well 3"}),
        *table(_LEFTS, _ND_ROWS + _MORE_ROWS, top=90.0),
        *((220.0 + 12 * n, {50.0: note}) for n, note in enumerate(notes)),
    )
    assert reading.unread == ()
    return {r.analyte: brief(r)[1] for r in reading.results}


@pytest.mark.parametrize(
    ("notes", "limits"),
    [
        (("ND = below reporting limit. Reporting limits: lead 1, selenium 2 ug/L.",), "<1 < <2"),
        (("Reporting limits: lead 1 ug/L; nitrate (as N) 0.1 mg/L",), "<1 <0.1 <"),
        (("Reporting limits: lead 1, nitrate 0.1, selenium 2",), "<1 <0.1 <2"),
        (("Smallest reportable amounts - arsenic, lead and", "selenium 0.5 ug/L."), "<0.5 < <0.5"),
        (("Detection limits (ug/L): Lead 0.5, Selenium 5",), "<0.5 < <5"),
        (("Reporting limits: lead 0.001 mg/L, nitrate 0.1 mg/L.",), "<1 <0.1 <"),
        (
            ("Reporting limits are for clean water; ask for lead 10 days ahead.",),
            "< < <",
        ),
        (("ND: lead not detected at 2 ug/L.",), "<2 < <"),
        (("n.d. = not detected (lead below 2 ug/L)",), "<2 < <"),
    ],
)
def test_limits_listed_after_the_results(notes: tuple[str, ...], limits: str) -> None:
    told = _told(*notes)
    assert " ".join(told[slug] for slug in ("lead", "nitrate", "selenium")) == limits
    assert told["arsenic"] == "3.1"


def test_limits_in_a_second_table() -> None:
    reading = read_page(
        (50.0, {50.0: "Sample: Well 3"}),
        *table(_LEFTS, _ND_ROWS + _MORE_ROWS, top=90.0),
        (220.0, {50.0: "Reporting limits"}),
        *table(
            _LEFTS,
            "Test | Reporting Limit | Unit | Method\nLead | 1.0 | ug/L | 200.8\n"
            "Nitrate-N | 0.05 | mg/L | 300.0\nSelenium | 0.002 | mg/L | 200.8",
            top=240.0,
        ),
    )
    told = {r.analyte: (brief(r)[1], r.reporting_limit) for r in reading.results}
    assert [str(told[s][0]) for s in ("lead", "nitrate", "selenium")] == ["<1.0", "<0.05", "<2"]
    assert told["arsenic"][0] == "3.1"


def test_two_lists_that_disagree_fill_nothing_in() -> None:
    told = _told("Reporting limits: lead 1 ug/L.", "Detection limits: lead 0.2 ug/L.")
    assert told["lead"] == "<"


def test_a_limit_of_its_own_goes_before_a_list() -> None:
    reading = read_csv(
        "Sample,Test,Result,Unit,RL\nA,Lead,ND,ug/L,0.5\nA,Copper,ND,ug/L,\n"
        "Reporting limits: lead 1 ug/L; copper 5 ug/L"
    )
    assert [brief(r)[1] for r in reading.results] == ["<0.5", "<5"]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            "Lead was not detected in the first-draw water (the laboratory's detection limit is "
            "0.9 ug/L). Copper was 0.41 mg/L, below the action level of 1.3 mg/L.",
            [("lead", "<0.9", "ug/L"), ("copper", "0.41", "mg/L")],
        ),
        (
            "Nitrite was not detected; the laboratory can measure as little as 0.05 mg/L.",
            [("nitrite", "<0.05", "mg/L")],
        ),
        (
            "We also looked for arsenic and did not detect any (our reporting limit is 2 ug/L).",
            [("arsenic", "<2", "ug/L")],
        ),
        (
            "Atrazine was not detected. The detection limit for simazine is 0.5 ug/L.",
            [("atrazine", "<", None)],
        ),
        (
            "Lead was not detected. The limits are copper 0.05 mg/L and lead 1 ug/L.",
            [("lead", "<", None)],
        ),
    ],
)
def test_limits_that_a_letter_gives_in_the_same_sentence(
    words: str, told: list[tuple[str, str, str | None]]
) -> None:
    reading = read_page((60.0, {50.0: words}))
    assert [brief(r)[:3] for r in reading.results] == told


def test_the_number_of_a_method_in_a_sentence_is_no_result() -> None:
    reading = read_page(
        (40.0, {50.0: "Iron: 0.35 mg/L"}),
        (60.0, {50.0: "SM 4500-H B (pH units), SM 2340 C (mg/L as CaCO3); run June 24 by MR"}),
    )
    assert [r.text for r in reading.results] == ["0.35 mg/L"]
