"""Tables with one analyte a row, drawn by hand: what each number is, and what is left out."""

from __future__ import annotations

from decimal import Decimal

import pytest
from layout_sheets import brief, read_csv, read_page, table

ROWS = """
Analyte | Result | Units | RL | MCL | Method
Nitrate as N | 4.2 | mg/L | 0.10 | 10 | EPA 300.0
Lead | <1.0 | ug/L | 1.0 | 15 | EPA 200.8
Iron | 0.31 | mg/L | 0.05 | 0.3 | EPA 200.7
pH | 7.2 | SU | | 6.5-8.5 | SM 4500-H B
Total Coliform | Absent | | | Absent | SM 9223 B
"""
EXPECTED = [
    ("nitrate", "4.2", "mg/L", "N"),
    ("lead", "<1.0", "ug/L", None),
    ("iron", "0.31", "mg/L", None),
    ("ph", "7.2", "SU", None),
    ("total_coliform", "absent", None, None),
]


def test_a_plain_page_reads_each_result_with_its_own_limit_and_method() -> None:
    lines = [
        (60.0, {50.0: "Lab ID: W-1001", 300.0: "Collected: 03/14/2026 10:40"}),
        *table((50, 180, 240, 300, 360, 430), ROWS),
    ]
    reading = read_page(*lines)
    assert [brief(r) for r in reading.results] == EXPECTED
    lead = reading.results[1]
    assert (lead.reporting_limit, lead.printed_limit, lead.method) == (
        Decimal("1.0"),
        "15",
        "EPA 200.8",
    )
    assert [r.review for r in reading.results] == [()] * 5
    assert reading.samples[0].id == "W-1001"
    assert reading.samples[0].collected == "2026-03-14T10:40"
    assert reading.unread == ()


@pytest.mark.parametrize("order", [(1, 0, 3, 2, 5, 4), (4, 2, 0, 5, 1, 3), (5, 4, 3, 2, 1, 0)])
def test_columns_may_come_in_any_order(order: tuple[int, ...]) -> None:
    lines = [[c.strip() for c in line.split("|")] for line in ROWS.strip().split("\n")]
    text = "\n".join(",".join(row[i] for i in order) for row in lines)
    assert [brief(r) for r in read_csv(text).results] == EXPECTED


def test_every_value_tells_its_cell() -> None:
    reading = read_csv("Test,Result,Unit\nIron,0.31,mg/L\nLead,<1,ug/L")
    places = {(w.of, w.cell) for w in reading.results[1].where}
    assert {("value", "B3"), ("label", "A3"), ("unit", "C3"), ("header", "B1")} <= places


def test_a_place_on_a_page_is_the_box_of_the_words() -> None:
    reading = read_page(*table((50, 180, 240), "Analyte | Result | Units\nIron | 0.31 | mg/L"))
    box = next(w.box for w in reading.results[0].where if w.of == "value")
    assert box == (180.0, 115.0, 200.0, 126.0)


def test_the_unit_may_stand_in_the_head_or_in_the_name() -> None:
    reading = read_csv("Parameter,Result (mg/L)\nIron,0.31\nTurbidity (NTU),2\npH,7.2")
    assert [brief(r)[2] for r in reading.results] == ["mg/L", "NTU", None]
    assert [r.use for r in reading.results] == ["as_is"] * 3


def test_a_flag_column_turns_a_plain_number_into_a_non_detect() -> None:
    reading = read_csv(
        "Analyte,Result,Qual,Units,MDL\nArsenic,0.5,U,ug/L,0.2\nCopper,3.1,J,ug/L,0.2"
    )
    arsenic, copper = reading.results
    assert (arsenic.state, arsenic.operator, arsenic.value) == ("below", "<", Decimal("0.5"))
    assert (copper.state, copper.value, copper.qualifiers) == ("value", Decimal("3.1"), ("J",))


def test_not_detected_takes_the_reporting_limit_of_its_row() -> None:
    reading = read_csv("Analyte,Result,Units,RL\nArsenic,ND,ug/L,1.0\nLead,ND,ug/L,2")
    assert [(r.operator, r.value) for r in reading.results] == [
        ("<", Decimal("1.0")),
        ("<", Decimal(2)),
    ]


def test_a_missing_unit_is_a_reason_to_look() -> None:
    reading = read_csv("Analyte,Result\nIron,0.31\nLead,2")
    assert [m.code for m in reading.results[0].review] == ["read.unit_missing"]


def test_an_unknown_test_is_kept_with_its_label() -> None:
    reading = read_csv("Analyte,Result,Units\nIron,0.31,mg/L\nWobblium,4,mg/L")
    assert brief(reading.results[1]) == (None, "4", "mg/L", None)


def test_quality_control_rows_are_no_results_and_are_counted() -> None:
    reading = read_csv(
        "SampleID,SampleType,Analyte,Result,Units\n"
        "W-1,N,Iron,0.31,mg/L\nMB-7,BLK,Iron,<0.05,mg/L\nW-1,MS,Iron,5.2,mg/L\nTB-1,TB,Iron,0.2,mg/L"
    )
    assert [(s.id, len(s.results)) for s in reading.samples] == [("W-1", 1)]
    assert {m.code for m in reading.warnings} == {"read.qc_left_out", "read.blank_left_out"}


def test_one_line_a_result_parts_the_samples_by_their_columns() -> None:
    reading = read_csv(
        "Lab ID,Location,Collected,Parameter,Value,Unit\n"
        "A1,Kitchen,2026-03-01,Lead,2.1,ug/L\nA1,Kitchen,2026-03-01,Copper,0.2,mg/L\nA2,Barn,2026-03-02,Lead,<1,ug/L"
    )
    assert [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("A1", "Kitchen", "2026-03-01", 2),
        ("A2", "Barn", "2026-03-02", 1),
    ]


def test_a_printed_limit_that_fits_another_unit_raises_a_doubt() -> None:
    # 40 CFR 141.80: the action level of lead is 0.015 mg/L, which is 15 ug/L
    reading = read_csv("Analyte,Result,Units,Action Level\nLead,4,mg/L,15")
    assert "read.limit_suggests_other_unit" in [m.code for m in reading.results[0].review]


def test_an_answer_that_begins_under_a_wide_head_stays_whole() -> None:
    # counted by hand: "N.D. (0.10)" begins left of the numbers, under the head of the names
    names = "pH Turbidity Chloride Sulfate Sodium Calcium Silica Zinc Copper"
    lines = [
        (100.0 + 15 * at, {42.0: name, 155.0: f"{at + 2}.5", 190.0: "mg/L", 240.0: "Lead"})
        for at, name in enumerate(names.split())
    ]
    lines.insert(4, (93.0, {42.0: "GENERAL AND MINERALS X", 240.0: "METALS"}))
    lines.append((100.0 + 15 * 9, {42.0: "Fluoride", 132.0: "N.D. (0.10)", 190.0: "mg/L"}))
    for _, cells in lines:
        if 240.0 in cells and cells[240.0] == "Lead":
            cells.update({340.0: "4", 380.0: "ug/L"})
    reading = read_page(*sorted(lines, key=lambda line: line[0]))
    fluoride = [r for r in reading.results if r.analyte == "fluoride"]
    assert [(r.label, r.text, str(r.value)) for r in fluoride] == [
        ("Fluoride", "N.D. (0.10)", "0.10")
    ]


def test_a_name_that_the_lab_shortened_is_the_only_one_that_begins_so() -> None:
    reading = read_page(
        *table(
            (40, 200, 260),
            "Compound | Result | Units\nBromodichlorometh. | 1.5 | ug/L\nBenzene | 2 | ug/L\n"
            "Tetrachlor. | 3 | ug/L",
        )
    )
    # two names and more begin with "Tetrachlor"
    assert [(r.analyte, r.use) for r in reading.results] == [
        ("bromodichloromethane", "look"),
        ("benzene", "as_is"),
        (None, "look"),
    ]


def test_a_row_with_a_bound_behind_its_unit_is_read_and_an_answer_with_a_unit_never_vanishes() -> (
    None
):
    rows = """
Test Parameters | Acceptable | Observed Value | Protocol
Colour (Hazen) | 5 | <5 | Part 4
Residual Chlorine (mg/l) (Min) | 0.2 | 0.4 | Part 13
Iron as Fe (mg/l) | 1.0 | 0.31 | Part 16
Zorbinate (mg/l) | 1.0 | Nil | Part 17
"""
    reading = read_page(*table((40, 230, 300, 400), rows))
    assert [(r.analyte, r.text) for r in reading.results][:3] == [
        ("color", "<5"),
        ("chlorine", "0.4"),
        ("iron", "0.31"),
    ]
    told = [u.text for u in reading.unread] + [r.label for r in reading.results[3:]]
    assert any("Zorbinate" in t for t in told)
