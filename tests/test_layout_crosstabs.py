"""Samples side by side, analytes side by side, and both at once, drawn by hand."""

from __future__ import annotations

from decimal import Decimal

from layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading


def heads(reading: Reading) -> list[tuple[str | None, str | None, str | None, int]]:
    return [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples]


def test_samples_across_take_number_place_and_date_from_the_stacked_head() -> None:
    reading = read_csv(
        "Lab No.,,S-101,S-102\nLocation,,Kitchen,Barn\nDate Collected,,2026-03-08,2026-03-09\n"
        "Analyte,Units,Result,Result\nIron,mg/L,0.3,1.2\nLead,ug/L,<1,4"
    )
    assert heads(reading) == [
        ("S-101", "Kitchen", "2026-03-08", 2),
        ("S-102", "Barn", "2026-03-09", 2),
    ]
    assert brief(reading.samples[1].results[1]) == ("lead", "4", "ug/L", None)


def test_the_same_crosstab_on_a_page_keeps_the_limit_column_apart() -> None:
    rows = """
Parameter | Unit | Raw | Treated | Limit
Iron | mg/L | 2.3 | 0.05 | 0.3
Manganese | mg/L | 0.22 | <0.01 | 0.05
Lead | ug/L | 4 | <1 | 15
"""
    reading = read_page(*table((50, 180, 240, 320, 400), rows))
    assert [s.taken for s in reading.samples] == ["raw", "treated"]
    assert [r.text for s in reading.samples for r in s.results] == [
        "2.3",
        "0.22",
        "4",
        "0.05",
        "<0.01",
        "<1",
    ]
    assert reading.samples[0].results[0].printed_limit == "0.3"


def test_each_sample_may_bring_its_own_flags_and_limits() -> None:
    reading = read_csv(
        ",,Kitchen,,,Well,,\n,,S-1,,,S-2,,\nAnalyte,Units,Result,Q,RL,Result,Q,RL\n"
        "Arsenic,ug/L,2.1,,1,1,U,1\nLead,ug/L,14,J,2,2,U,5"
    )
    first, second = reading.samples
    assert (first.id, first.point, second.id, second.point) == ("S-1", "Kitchen", "S-2", "Well")
    assert [brief(r)[1] for r in second.results] == ["<1", "<5"]
    assert (second.results[1].text, second.results[1].reporting_limit) == ("2", Decimal(5))


def test_a_head_over_two_columns_is_no_sample_and_the_draws_are_told() -> None:
    rows = """
Parameter | First Draw | Flushed | Units | Action Level
Lead | 12 | <1 | ug/L | 15
Copper | 1.1 | 0.2 | mg/L | 1.3
"""
    lines = table((50, 180, 260, 330, 400), rows, top=103)
    reading = read_page((60.0, {50.0: "Lab No. 77-1"}), (90.0, {215.0: "Results"}), *lines)
    assert [(s.id, s.taken, [r.text for r in s.results]) for s in reading.samples] == [
        ("77-1", "first_draw", ["12", "1.1"]),
        ("77-1", "flushed", ["<1", "0.2"]),
    ]


def test_analytes_across_with_rows_of_units_limits_and_averages() -> None:
    reading = read_csv(
        "Well,Nitrate-N,Arsenic,Iron\nUnits,mg/L,ug/L,mg/L\nMCL,10,10,0.3\nRL,0.1,0.5,0.05\n"
        "Smith 1,4.2,ND,0.02\nSmith 2,11.3,3.1,<0.05\nAverage,7.7,3.1,0.02"
    )
    assert [s.point for s in reading.samples] == ["Smith 1", "Smith 2"]
    arsenic = reading.samples[0].results[1]
    assert brief(arsenic) == ("arsenic", "<0.5", "ug/L", None)
    assert (arsenic.reporting_limit, arsenic.printed_limit) == (Decimal("0.5"), "10")


def test_analytes_across_on_a_page_with_the_unit_as_the_last_line_of_the_head() -> None:
    rows = """
Sample | Date | Nitrate-N | Arsenic | Iron
 | | mg/L | ug/L | mg/L
W-1 | 03/24/26 | 4.2 | <0.5 | 0.1
W-2 | 03/24/26 | 0.3 | 3.1 | 2.2
Guideline | | 10 | 10 | 0.3
"""
    reading = read_page(*table((50, 120, 200, 280, 360), rows))
    assert heads(reading) == [("W-1", None, "2026-03-24", 3), ("W-2", None, "2026-03-24", 3)]
    assert [brief(r)[2] for r in reading.results[:3]] == ["mg/L", "ug/L", "mg/L"]


def test_a_flag_column_behind_each_analyte_is_its_flag() -> None:
    reading = read_csv(
        "SiteID,SampleDate,Nitrate (mg/L),Nitrate_qual,Arsenic (ug/L),As_flag\n"
        "W1,2026-03-01,4.2,,3.1,J\nW2,2026-03-01,0.1,U,0.5,U"
    )
    assert [(r.operator, r.qualifiers) for r in reading.results] == [
        ("=", ()),
        ("=", ("J",)),
        ("<", ("U",)),
        ("<", ("U",)),
    ]


def test_columns_of_results_in_two_units_give_one_result() -> None:
    reading = read_csv("Determination,mg/L,meq/L,lbs/ac-ft\nCalcium,40,2.0,109\nSodium,23,1.0,63")
    assert [brief(r) for r in reading.results] == [
        ("calcium", "40", "mg/L", None),
        ("sodium", "23", "mg/L", None),
    ]


def test_earlier_results_and_averages_are_no_results() -> None:
    reading = read_csv(
        "Parameter,Your Result,Previous Result,Average,Units,EPA Limit,Status\n"
        "Nitrate-N,4.2,3.9,4.0,mg/L,10,Pass\nIron,0.5,0.4,0.45,mg/L,0.3,Exceeds"
    )
    assert [r.text for r in reading.results] == ["4.2", "0.5"]


def test_a_yearly_summary_of_a_supply_is_no_sample() -> None:
    reading = read_csv(
        "Contaminant,Unit,MCL,MCLG,Level Detected,Range,Violation,Likely Source\n"
        "Lead,ppb,15,0,3.2,ND-5.1,No,Corrosion of plumbing"
    )
    assert reading.results == ()
    assert [m.code for m in reading.warnings] == ["read.public_supply"]


def test_a_list_of_taps_takes_the_analyte_from_its_title() -> None:
    lines = [(60.0, {50.0: "Tap survey: Lead in ppb"}), (90.0, {50.0: "Main house"})]
    lines += [
        (105.0 + 15 * i, {65.0: p, 200.0: v})
        for i, (p, v) in enumerate([("Kitchen", "20"), ("Bath", "<1"), ("Cellar", "4.5")])
    ]
    reading = read_page(*lines)
    assert [(s.point, *brief(s.results[0])) for s in reading.samples] == [
        ("Kitchen", "lead", "20", "ppb", None),
        ("Bath", "lead", "<1", "ppb", None),
        ("Cellar", "lead", "4.5", "ppb", None),
    ]


GROUPS = """
LAB SAMPLE ID |  |  | K77-01 |  |  | K77-02 |
CLIENT ID |  |  | HOUSE TAP |  |  | PRESSURE TANK |
SAMPLING DATE |  |  | 10/06/26 08:40 |  |  | 10/07/26 09:05 |
Parameter | Units | Results | Qual | RL | Results | Qual | RL
Chloride | mg/L | 68.7 |  | 1.0 | ND |  | 1.0
Iron, Total | mg/L | 0.38 | J | 0.02 | 0.85 |  | 0.02
Lead, Total | ug/L | ND |  | 0.5 | 17.8 |  | 0.5
"""


def test_a_sample_named_over_the_middle_of_its_group_has_the_results_of_the_group() -> None:
    # read by hand: the names stand over "Qual", "HOUSE TAP" and the tank reach over "RL"
    lefts = (50, 150, 200, 250, 290, 360, 410, 450)
    lines = table(lefts, GROUPS)
    lines[1][1][270.0] = lines[1][1].pop(250)
    reading = read_page((60.0, {50.0: "Lab Number: K77"}), *lines)
    assert heads(reading) == [
        ("K77-01", "HOUSE TAP", "2026-10-06T08:40", 3),
        ("K77-02", "PRESSURE TANK", "2026-10-07T09:05", 3),
    ]
    first, second = reading.samples
    assert [brief(r)[:2] for r in first.results] == [
        ("chloride", "68.7"),
        ("iron", "0.38"),
        ("lead", "<0.5"),
    ]
    assert [r.text for r in second.results] == ["ND", "0.85", "17.8"]
    assert all(r.use == "as_is" for s in reading.samples for r in s.results)


def test_a_short_name_beside_known_analytes_on_a_page_is_read_and_asked_about() -> None:
    # counted by hand: the third number of each row is the hardness
    rows = """
Station | SO4 | TSS | Hard. | Fe | Zn

SW-1 | 57 | 124 | 61 | 0.152 | 4.436
SW-2 | 135 | 4 | 472 | 1.784 | 0.024
"""
    units = (119.0, dict.fromkeys((130.0, 190.0, 250.0, 310.0, 370.0), "mg/L"))
    lines = [line for line in table((50, 130, 190, 250, 310, 370), rows) if line[1]]
    reading = read_page(lines[0], units, *lines[1:])
    found = [r for s in reading.samples for r in s.results if r.analyte == "hardness"]
    assert [(r.label, r.text, r.unit, r.use) for r in found] == [
        ("Hard.", "61", "mg/L", "look"),
        ("Hard.", "472", "mg/L", "look"),
    ]


def test_a_column_of_numbers_that_nobody_knows_is_told_on_a_page_too() -> None:
    rows = """
Station | SO4 | TSS | Zorb | Fe | Zn
SW-1 | 57 | 124 | 61 | 0.152 | 4.436
SW-2 | 135 | 4 | 472 | 1.784 | 0.024
"""
    reading = read_page(*table((50, 130, 190, 250, 310, 370), rows))
    assert len(reading.results) == 8
    assert [u.text for u in reading.unread] == ["Zorb: 61"]


def test_a_sample_at_the_head_without_a_column_of_results_makes_the_others_a_question() -> None:
    # by hand: three samples stand at the head, and only two columns hold results
    rows = """
Sample ID |  | S-1 | S-2 | S-3
Parameter | Unit | Barn | House | Spring
Iron | mg/L | page two | 0.31 | 0.42
Lead | ug/L | page two | 4 | 5
Zinc | mg/L | page two | 0.2 | 0.1
"""
    lefts = (50, 120, 170, 250, 330)
    reading = read_page(*table(lefts, rows))
    assert {r.text for r in reading.results} == {"0.31", "0.42", "4", "5", "0.2", "0.1"}
    assert all("read.sample_astray" in [m.code for m in r.review] for r in reading.results)
    empty = read_page(*table(lefts, rows.replace("page two", "---")))
    assert all(r.use == "as_is" for r in empty.results)


def test_a_sentence_under_a_table_of_samples_down_is_no_row() -> None:
    rows = """
Sample ID | Total Coliform | E. coli | Nitrate | Nitrite
K-1 | <1 | <1 | 2.84 | 0.02
K-2 | <1 | 3 | 4.3 | 0.05
"""
    foot = (150.0, {50.0: "Reviewed by A. Ferreira, quality manager. Certificate 0417."})
    reading = read_page(*table((50, 130, 200, 260, 320), rows), foot)
    assert [len(s.results) for s in reading.samples] == [4, 4]
