"""Samples side by side: heads on several lines, under a title line, over groups of columns."""

from __future__ import annotations

from layout_sheets import brief, read_csv, read_page, table

_SAMPLES = (40.0, 170.0, 270.0, 370.0, 470.0)


def test_numbers_places_days_and_hours_over_the_columns_name_the_samples() -> None:
    reading = read_page(
        (66.0, {40.0: "SYSTEM MONITORING - JUNE 2026, WEEK 24", 380.0: "Report no. DS-24"}),
        *table(
            _SAMPLES,
            " | | W26-01 | W26-02 | W26-03\n"
            " | | Point 1 | Mill St. | Airport Rd\n"
            " | | (North) | Pump Sta. | Dead End\n"
            "Parameter | Units | 06/09/26 | 06/09/26 | 06/10/26",
            top=84.0,
            pitch=10.0,
        ),
        *table(
            _SAMPLES,
            " | | 0810 | 0835 | 0910\n"
            " | | EP | EP | DS\n"
            "pH | units | 7.3 | 7.8 | 7.5\n"
            "Iron | ug/L | <20 | 31 | 412\n"
            "Copper | ug/L | 8.1 | 3.7 | 22.4",
            top=126.0,
        ),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("W26-01", "Point 1 (North)", "2026-06-09T08:10"),
        ("W26-02", "Mill St. Pump Sta.", "2026-06-09T08:35"),
        ("W26-03", "Airport Rd Dead End", "2026-06-10T09:10"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["7.3", "<20", "8.1"],
        ["7.8", "31", "3.7"],
        ["7.5", "412", "22.4"],
    ]


_GROUPS = (40.0, 230.0, 310.0, 350.0, 380.0, 420.0, 460.0, 490.0)


def test_what_stands_over_the_middle_of_a_group_is_sure() -> None:
    reading = read_page(
        (70.0, {320.0: "CF-120", 430.0: "CF-121"}),
        (82.0, {320.0: "Well 1", 430.0: "Well 3"}),
        (
            94.0,
            {40.0: "Analyte", 230.0: "CAS No.", 302.0: "06/23/26 09:10", 412.0: "06/23/26 09:50"},
        ),
        *table(
            _GROUPS,
            " | | Result | Q | MRL | Result | Q | MRL\n"
            "PFBA | 375-22-4 | 6.4 | | 1.9 | 3.1 | | 1.8\n"
            "PFOS | 1763-23-1 | 21.4 | | 1.9 | ND | | 1.8",
            top=108.0,
        ),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("CF-120", "Well 1", "2026-06-23T09:10"),
        ("CF-121", "Well 3", "2026-06-23T09:50"),
    ]
    assert [(brief(r)[1], r.review) for r in reading.results if r.analyte == "pfos"] != []
    assert not [r for r in reading.results if "sample_unsure" in str(r.review)]


def test_a_name_on_two_lines_around_its_row_keeps_its_result() -> None:
    reading = read_page(
        (60.0, {40.0: "Sample ID: RB-7", 200.0: "All results in ng/L"}),
        *table((40.0, 280.0, 370.0, 430.0), "Analyte | CAS No. | Result | MRL", top=90.0),
        (104.0, {40.0: "1H,1H,2H,2H-Perfluorooctane sulfonic acid (6:2"}),
        (109.5, {280.0: "27619-97-2", 370.0: "3.5", 430.0: "2.0"}),
        (115.0, {40.0: "FTS)"}),
        *table(
            (40.0, 280.0, 370.0, 430.0),
            "Perfluorobutanoic acid (PFBA) | 375-22-4 | ND | 2.0",
            top=130.0,
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("fts_6_2", "3.5", "ng/L"),
        ("pfba", "<2.0", "ng/L"),
    ]


def test_the_heading_says_in_how_much_water_germs_were_counted() -> None:
    reading = read_page(
        (60.0, {40.0: "Sample number: WT-1173"}),
        *table(
            (40.0, 220.0, 300.0),
            "Test | Your water | Remark\n"
            "Bacteria, per 100 milliliters\n"
            "Total coliform (MPN) | 12.4 | High\n"
            "E. coli (MPN) | <1.0",
            top=90.0,
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("total_coliform", "12.4", "MPN per 100 mL"),
        ("e_coli", "<1.0", "MPN per 100 mL"),
    ]


def test_a_sign_before_each_value_belongs_to_that_value_alone() -> None:
    reading = read_csv(
        "Laboratory number,,,SDL-441,,SDL-442,,SDL-443,\n"
        "Sample point,,,Spring Box 1,,Creek,,Clearwell,\n"
        "Analyte,Units,RL,,Result,,Result,,Result\n"
        "Iron,ug/L,20,<,20,,884,,31\n"
        "Lead,ug/L,0.5,<,0.5,,0.73,<,0.5\n"
        "Manganese,ug/L,1,<,1,,41.9,,2.2\n"
    )
    assert [(s.id, s.point) for s in reading.samples] == [
        ("SDL-441", "Spring Box 1"),
        ("SDL-442", "Creek"),
        ("SDL-443", "Clearwell"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["<20", "<0.5", "<1"],
        ["884", "0.73", "41.9"],
        ["31", "<0.5", "2.2"],
    ]
    assert all(not r.review for r in reading.results)


def test_the_only_column_of_signs_does_not_speak_for_the_other_samples() -> None:
    reading = read_csv(
        "Laboratory number,,,SDL-441,,SDL-442\n"
        "Analyte,Units,RL,,Result,Result\n"
        "Iron,ug/L,20,<,20,884\n"
        "Lead,ug/L,0.5,<,0.5,0.73\n"
        "Manganese,ug/L,1,<,1,41.9\n"
    )
    assert sorted(brief(r)[1] for r in reading.results) == [
        "0.73",
        "41.9",
        "884",
        "<0.5",
        "<1",
        "<20",
    ]
