"""Samples under heads on several levels: groups with a unit, days over hours, quarters."""

from __future__ import annotations

from layout_sheets import brief, read_page, table

_BYPRODUCTS = (40.0, 80.0, 160.0, 220.0, 280.0, 330.0, 390.0, 450.0, 500.0, 550.0)


def _heads() -> list[tuple[float, dict[float, str]]]:
    return [
        (80.0, {345.0: "Trihalomethanes, µg/L", 508.0: "Acids, ug/L"}),
        (88.0, {40.0: "Site", 88.0: "Sampling", 160.0: "Lab", 220.0: "Date", 372.0: "EPA 524.2"}),
        (98.0, {40.0: "No.", 88.0: "Location", 160.0: "No.", 220.0: "Time", 280.0: "Free Cl2"}),
        (106.0, {330.0: "CHCl3", 390.0: "CHBrCl2", 450.0: "TTHM", 500.0: "MCAA", 550.0: "DCAA"}),
        (112.0, {285.0: "mg/L"}),
    ]


def _row(top: float, cells: str, when: tuple[str, str]) -> list[tuple[float, dict[float, str]]]:
    (middle,) = table(_BYPRODUCTS, cells, top=top)
    return [(top - 5.0, {220.0: when[0]}), middle, (top + 5.0, {224.0: when[1]})]


def test_a_unit_over_a_group_of_columns_and_days_over_hours() -> None:
    reading = read_page(
        (50.0, {40.0: "By-Products Report", 200.0: "Report DBP-Q3"}),
        *_heads(),
        *_row(
            140.0,
            "701 | Hill Tank | 26-210 | | 0.62 | 39.7 | 9.3 | 50.4 | <2.0 | 18",
            ("8/11/26", "7:55"),
        ),
        *_row(
            170.0,
            "702 | Post Road | 26-211 | | 0.35 | 44.9 | 7.9 | 55.5 | 2.3 | 12",
            ("8/13/26", "8:30"),
        ),
        (200.0, {80.0: "Reporting limit", 330.0: "0.5", 390.0: "0.5", 450.0: "0.5", 500.0: "2.0"}),
        (
            214.0,
            {80.0: "MCL (as locational running annual average)", 450.0: "80"},
        ),
    )
    assert [(s.id, s.collected) for s in reading.samples] == [
        ("26-210", "2026-08-11T07:55"),
        ("26-211", "2026-08-13T08:30"),
    ]
    assert [brief(r)[:3] for r in reading.samples[0].results] == [
        ("free_chlorine", "0.62", "mg/L"),
        ("chloroform", "39.7", "µg/L"),
        ("bromodichloromethane", "9.3", "µg/L"),
        ("total_trihalomethanes", "50.4", "µg/L"),
        ("monochloroacetic_acid", "<2.0", "ug/L"),
        ("dichloroacetic_acid", "18", "ug/L"),
    ]
    assert reading.unread == ()


def test_earlier_quarters_and_their_average_are_no_results_of_this_sample() -> None:
    reading = read_page(
        (50.0, {40.0: "Sample ID: HT-3", 200.0: "Collected: 8/13/2026"}),
        *table((40.0, 200.0, 300.0), "Analyte | Result | Units\nTTHM | 50.4 | ug/L", top=70.0),
        (120.0, {40.0: "How the average was made, ug/L"}),
        (150.0, {40.0: "Site", 320.0: "TTHM"}),
        *table(
            (40.0, 200.0, 260.0, 320.0, 380.0, 440.0),
            "No. | 4Q25 | 1Q26 | 2Q26 | 3Q26 | LRAA\n"
            "701 | 56.9 | 44.6 | 27.3 | 50.4 | 44.8\n"
            "702 | 63.1 | 51.0 | 45.4 | 55.5 | 53.7",
            top=163.0,
        ),
    )
    assert [brief(r)[:2] for r in reading.results] == [("total_trihalomethanes", "50.4")]


def test_a_limit_whose_name_runs_under_two_heads_serves_every_sample() -> None:
    reading = read_page(
        (50.0, {40.0: "PWS ID: XX5550456", 220.0: "Lab report: PA-26-2"}),
        *table(
            (40.0, 90.0, 200.0, 270.0, 340.0, 410.0, 480.0),
            "Site | Address | Draw | Lab no. | Date | Lead | Copper\n"
            " | | | | | ug/L | mg/L\n"
            "LC-1 | 18 Elm St | 1st draw | 26401 | 9/14/26 | 17.2 | 0.412\n"
            "LC-2 | 4 Bay Ct | 1st draw | 26403 | 9/14/26 | ND | 0.088\n"
            "LC-3 | 7 Row | 1st draw | 26405 | 9/15/26 | 2.6 | ND",
            top=80.0,
        ),
        (155.0, {40.0: "Reporting limit", 410.0: "1.0", 480.0: "0.020"}),
        (170.0, {40.0: "Action level", 410.0: "15", 480.0: "1.3"}),
    )
    assert [(s.id, [brief(r)[1] for r in s.results]) for s in reading.samples] == [
        ("26401", ["17.2", "0.412"]),
        ("26403", ["<1.0", "0.088"]),
        ("26405", ["2.6", "<0.020"]),
    ]
    assert all(not r.review for r in reading.results)


def test_groups_that_leave_a_gap_tell_no_unit_where_they_differ() -> None:
    heads = (80.0, {330.0: "Metals, ug/L", 430.0: "Ions, mg/L"})
    reading = read_page(
        heads,
        *table(
            (40.0, 120.0, 200.0, 270.0, 340.0, 410.0, 480.0),
            "Lab No. | Date | Arsenic | Lead | Zinc | Chloride | Sulfate\n"
            "26-1 | 8/13/26 | 4 | 2 | 30 | 12 | 31\n"
            "26-2 | 8/13/26 | 5 | 1 | 41 | 14 | 28",
            top=92.0,
        ),
    )
    assert [r.unit for r in reading.samples[0].results][:3] == [None] * 3
    assert all(r.review for r in reading.results)


def test_heads_beside_their_columns_are_led_there_by_the_row_of_units() -> None:
    reading = read_page(
        (60.0, {40.0: "Location", 120.0: "Sample Date", 232.0: "pH", 296.0: "Lead", 362.0: "Zinc"}),
        (74.0, {40.0: "Units", 210.0: "SU", 270.0: "ug/L", 336.0: "ug/L"}),
        *table(
            (40.0, 120.0, 210.0, 270.0, 336.0),
            "MW-1 | 03/17/2026 | 7.1 | 16 | 90\nMW-2 | 03/18/2026 | 6.4 | 9 | 17",
            top=90.0,
        ),
    )
    assert [[brief(r)[:3] for r in s.results] for s in reading.samples] == [
        [("ph", "7.1", "SU"), ("lead", "16", "ug/L"), ("zinc", "90", "ug/L")],
        [("ph", "6.4", "SU"), ("lead", "9", "ug/L"), ("zinc", "17", "ug/L")],
    ]


def test_numbers_and_places_on_two_lines_around_their_row_stay_with_it() -> None:
    reading = read_page(
        (60.0, {40.0: "TEST: COLIFORM BACTERIA"}),
        (
            90.0,
            {40.0: "Lab Number", 120.0: "Collection Point", 230.0: "Total Coliform"}
            | {330.0: "E. coli", 420.0: "Set up"},
        ),
        (115.0, {40.0: "EC26-", 420.0: "08/05/2026"}),
        (120.5, {120.0: "LODGE KITCHEN", 230.0: "Absent", 330.0: "Absent"}),
        (126.0, {40.0: "008812", 420.0: "14:10"}),
        (145.0, {40.0: "EC26-", 120.0: "CAMPGROUND", 420.0: "08/05/2026"}),
        (150.5, {230.0: "Present", 330.0: "Absent"}),
        (156.0, {40.0: "008813", 120.0: "LOOP B", 420.0: "14:10"}),
        (178.0, {40.0: "Method blank", 230.0: "Absent", 330.0: "Absent"}),
    )
    assert [(s.id, s.point) for s in reading.samples] == [
        ("EC26-008812", "LODGE KITCHEN"),
        ("EC26-008813", "CAMPGROUND LOOP B"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["absent", "absent"],
        ["present", "absent"],
    ]
    assert all(r.method is None for r in reading.results)


_VOC = (40.0, 80.0, 260.0, 360.0, 430.0, 480.0)


def test_a_title_of_many_words_right_over_a_whole_head_is_no_part_of_it() -> None:
    reading = read_page(
        (88.0, {110.0: "VOLATILE ORGANIC COMPOUNDS IN WATER", 350.0: "EPA METHOD 524.2 REV 4.1"}),
        *table(
            _VOC,
            "NO | COMPOUND | CAS NUMBER | RESULT | FLAG | RPT LIMIT\n"
            "| | | ug/L | | ug/L\n"
            "1 | Benzene | 71-43-2 | ND | | 0.50\n"
            "2 | Toluene | 108-88-3 | 0.62 | | 0.50\n"
            "3 | Styrene | 100-42-5 | ND | | 0.50",
            pitch=12.0,
        ),
    )
    assert [(r.analyte, r.text, r.unit) for r in reading.results] == [
        ("benzene", "ND", "ug/L"),
        ("toluene", "0.62", "ug/L"),
        ("styrene", "ND", "ug/L"),
    ]
