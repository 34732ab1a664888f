"""Which answer of a form is ticked: a wrong "absent" said without a word is the worst of readings.

Letters of the made pages are 5 points wide, a blank is 2.8.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from layout_sheets import brief, page, pdf, read_csv, read_page, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document


def told(reading: Reading) -> list[tuple[str | None, bool | None]]:
    return [(r.analyte, r.present) for r in reading.results]


def why(reading: Reading) -> list[str]:
    return [u.reason.code for u in reading.unread]


PRESENT = [
    "E. coli: [ ] Absent [X] Present",
    "E. coli: ( ) Negative (X) Positive",
    "E. coli ☐ Not detected ☒ Detected",
    "E. coli □ ABSENT ■ PRESENT",
    "E. coli ◻ Absent ☑ Present",
    "E. coli ○ Absent ● Present",
    "E. coli ___ Absent _X_ Present",
    "E. coli: ☒ Present ☐ Absent",
]


@pytest.mark.parametrize("line", PRESENT)
def test_the_word_of_the_ticked_box_is_the_result(line: str) -> None:
    assert told(read_page((60.0, {50.0: line}))) == [("e_coli", True)]


UNCLEAR = [
    "E. coli: [ ] Absent [ ] Present",
    "E. coli: [X] Absent [X] Present",
    "E. coli: [?] Absent ☒ Present",
    "E. coli: ☒ Absent Present",
    "E. coli: Absent / Present",
    "E. coli: PRESENT or ABSENT",
    "E. coli: Absent ☒ Present",
    "E. coli: ☐ Present",
]


@pytest.mark.parametrize("line", UNCLEAR)
def test_what_is_not_plainly_ticked_is_left_to_a_person(line: str) -> None:
    reading = read_page((60.0, {50.0: line}), (90.0, {50.0: "Lead: 1.2 ug/L"}))
    assert told(reading) == [("lead", None)]
    assert why(reading) == ["read.ticks_unclear"]


def test_a_box_may_stand_behind_its_word() -> None:
    reading = read_page(
        (60.0, {50.0: "Total coliform", 200.0: "ABSENT ☐", 300.0: "PRESENT ☒"}),
        (80.0, {50.0: "E. coli", 200.0: "ABSENT ☒", 300.0: "PRESENT ☐"}),
    )
    assert told(reading) == [("total_coliform", True), ("e_coli", False)]


def test_a_box_between_two_answers_belongs_to_the_nearer() -> None:
    # ABSENT ends at 230: the first mark is 70 points behind it and 10 before PRESENT, which
    # begins at 315.
    near = {50.0: "Total coliform", 200.0: "ABSENT", 300.0: "X", 315.0: "PRESENT"}
    assert told(read_page((60.0, near))) == [("total_coliform", True)]
    middle = {50.0: "Total coliform", 200.0: "ABSENT", 260.0: "X", 295.0: "PRESENT"}
    assert why(read_page((60.0, middle), (90.0, {50.0: "Lead: 1.2 ug/L"}))) == [
        "read.ticks_unclear"
    ]


def test_an_answer_without_its_box_is_no_answer() -> None:
    # The second box was not found, so that the first may be the box of either word.
    stray = {50.0: "Total coliform", 190.0: "☐ ABSENT", 240.0: "☒", 300.0: "PRESENT"}
    reading = read_page((60.0, stray), (90.0, {50.0: "Lead: 1.2 ug/L"}))
    assert told(reading) == [("lead", None)]


def test_answers_below_each_other_belong_to_the_name_above() -> None:
    reading = read_page(
        (60.0, {50.0: "Total Coliform Bacteria"}),
        (75.0, {50.0: "☐ Present"}),
        (90.0, {50.0: "☒ Absent"}),
        (115.0, {50.0: "E. coli"}),
        (130.0, {50.0: "☒ Present"}),
        (145.0, {50.0: "☐ Absent"}),
    )
    assert told(reading) == [("total_coliform", False), ("e_coli", True)]
    (value,) = (w for w in reading.results[0].where if w.of == "value")
    # "☒ " is 5 + 2.8 points wide.
    assert value.box == (57.8, 90.0, 87.8, 101.0)


def test_two_names_above_have_their_answers_side_by_side() -> None:
    reading = read_page(
        (60.0, {50.0: "Total Coliform Bacteria", 300.0: "E. coli"}),
        (75.0, {50.0: "☐ Absent", 120.0: "☒ Present", 300.0: "☒ Absent", 370.0: "☐ Present"}),
    )
    assert told(reading) == [("total_coliform", True), ("e_coli", False)]


def test_two_tests_on_one_line_have_their_own_boxes() -> None:
    reading = read_page(
        (60.0, {50.0: "Total coliform ☐ Absent ☒ Present", 320.0: "E. coli ☒ Absent ☐ Present"})
    )
    assert told(reading) == [("total_coliform", True), ("e_coli", False)]


def test_a_limit_beside_the_boxes_is_not_the_result() -> None:
    rows = (
        "Test | Result | Limit | Meets\n"
        "Total Coliform | ☐ Absent ☒ Present | Absent | ☐\n"
        "E. coli | ☐ Absent ☐ Present | Absent | ☒\n"
        "Nitrate as N | 3.1 mg/L | 10 | ☒\n"
        "Arsenic | 2.0 ug/L | 10 | ☒"
    )
    reading = read_page(*table((40.0, 150.0, 320.0, 400.0), rows))
    assert told(reading)[:1] == [("total_coliform", True)]
    assert [r.analyte for r in reading.results] == ["total_coliform", "nitrate", "arsenic"]
    assert why(reading) == ["read.ticks_unclear"]


def test_two_answers_in_a_row_whose_boxes_nobody_sees_are_left_to_a_person() -> None:
    rows = (
        "Test | Result | Units | Limit\n"
        "Total Coliform | ABSENT | PRESENT | ABSENT\n"
        "Nitrate as N | 3.1 | mg/L | 10\n"
        "Arsenic | 2.0 | ug/L | 10"
    )
    reading = read_page(*table((40.0, 150.0, 250.0, 350.0), rows))
    assert [r.analyte for r in reading.results] == ["nitrate", "arsenic"]
    assert why(reading) == ["read.ticks_unclear"]


def test_boxes_that_judge_say_nothing_of_what_was_found() -> None:
    reading = read_page(
        (60.0, {50.0: "Coliform bacteria", 200.0: "☒ SATISFACTORY", 300.0: "☐ UNSATISFACTORY"}),
        (
            80.0,
            {50.0: "Nitrate as N: 3.1 mg/L", 300.0: "☒ Satisfactory", 400.0: "☐ Unsatisfactory"},
        ),
        (100.0, {50.0: "This water was", 200.0: "☐ SAFE", 260.0: "☒ UNSAFE"}),
    )
    assert [brief(r) for r in reading.results] == [("nitrate", "3.1", "mg/L", "N")]
    assert why(reading) == ["read.words_only"]


def test_statements_that_are_ticked_are_results_and_the_others_are_not() -> None:
    reading = read_page(
        (60.0, {50.0: "☐ Total coliform bacteria were ABSENT in this sample."}),
        (75.0, {50.0: "☒ Total coliform bacteria were PRESENT in this sample."}),
        (90.0, {50.0: "☐ E. coli bacteria were ABSENT in this sample."}),
        (105.0, {50.0: "☐ E. coli bacteria were PRESENT in this sample."}),
        (120.0, {50.0: "☐ No enterococci were present."}),
    )
    assert told(reading) == [("total_coliform", True)]
    assert why(reading) == ["read.ticks_unclear", "read.ticks_unclear"]


def test_tests_down_the_page_have_their_marks_under_present_and_absent() -> None:
    # Heads: PRESENT 300 to 335, ABSENT 400 to 430; marks below their middles.
    reading = read_page(
        (60.0, {50.0: "TEST", 300.0: "PRESENT", 400.0: "ABSENT"}),
        (80.0, {50.0: "Total coliform", 312.0: "☒", 412.0: "☐"}),
        (100.0, {50.0: "E. coli", 312.0: "☐", 412.0: "☒"}),
        (120.0, {50.0: "Enterococci", 312.0: "☐", 412.0: "☐"}),
    )
    assert told(reading) == [("total_coliform", True), ("e_coli", False)]
    assert why(reading) == ["read.ticks_unclear"]


def test_the_cells_of_a_spreadsheet_may_hold_boxes() -> None:
    reading = read_csv(
        "Test,Result\nTotal coliform,☐ Absent ☒ Present\nE. coli,[X] Absent [ ] Present"
    )
    assert told(reading) == [("total_coliform", True), ("e_coli", False)]


def test_a_question_about_the_well_is_no_result() -> None:
    reading = read_page(
        (60.0, {50.0: "Iron filter:", 150.0: "☒ Yes", 220.0: "☐ No"}),
        (90.0, {50.0: "Lead: 1.2 ug/L"}),
    )
    assert told(reading) == [("lead", None)]
    assert why(reading) == []


_BOXES = st.sampled_from(["☐", "☒", "[?]", ""])


@given(first=_BOXES, second=_BOXES, gap=st.integers(60, 160), behind=st.booleans())
def test_no_answer_is_given_that_is_not_the_only_ticked_one(
    first: str, second: str, gap: int, behind: bool
) -> None:
    texts = [
        f"{w} {b}" if behind else f"{b} {w}" for w, b in (("Absent", first), ("Present", second))
    ]
    line = {50.0: "E. coli", 200.0: texts[0].strip(), 200.0 + gap: texts[1].strip()}
    reading = read_document(pdf(page((60.0, line), (90.0, {50.0: "Lead: 1.2 ug/L"}))))
    answers = [r.present for r in reading.results if r.analyte == "e_coli" and r.confidence > 0.9]
    expected = {("☐", "☒"): [True], ("☒", "☐"): [False]}.get((first, second), [])
    assert answers == expected
