"""Sheets that people hold in their hands: a dealer's field test, a survey's list, a driller's form.

The sheets were invented for these tests; what each says was noted down before the reader was asked.
"""

from __future__ import annotations

from tests.layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading, Sample


def _told(reading: Reading | Sample) -> list[tuple[str | None, str, str | None, str | None]]:
    samples = (reading,) if isinstance(reading, Sample) else reading.samples
    return [brief(r) for s in samples for r in s.results]


def test_the_range_of_a_test_kit_names_no_sample() -> None:
    reading = read_page(
        (40.0, {60.0: "Field tests made at the house", 300.0: "Date 5-11-26"}),
        *table(
            (60.0, 220.0, 300.0, 400.0, 500.0),
            """
            FIELD TESTS|WELL WATER||BEST|TEST KIT RANGE
            Total Hardness|17|grains per gal.|0 - 3 gpg|1 gr. per drop, 0-50
            Iron, total|1.4|ppm|0.3 or less|0 - 10 ppm
            Manganese|.2|ppm|0.05 or less|0 - 3 ppm
            Nitrate (as N), test strip|2|ppm|under 10|0 / 2 / 5 / 10 / 20
            """,
        ),
    )
    assert [s.id for s in reading.samples] == [None]
    assert _told(reading) == [
        ("hardness", "17", "grains per gal.", "CaCO3"),
        ("iron", "1.4", "ppm", None),
        ("manganese", "0.2", "ppm", None),
        ("nitrate", "2", "ppm", "N"),
    ]


def test_a_column_of_ranges_names_no_sample_whatever_word_its_head_begins_with() -> None:
    reading = read_page(
        *table(
            (60.0, 220.0, 300.0, 400.0),
            """
            TEST|RESULT|UNIT|SAMPLE VIAL SCALE
            Iron|1.4|ppm|0 - 10
            Manganese|.2|ppm|0 - 3
            Copper|.4|ppm|0 - 5
            """,
        ),
    )
    assert [s.id for s in reading.samples] == [None]


_SURVEY = """
Well,Sampled,Nitrate-N,"{head}",Chloride,pH
,,mg/L,mg/L,mg/L,meter
HB-1,2026-05-04,1.61,1.4,6.2,7.4
HB-2,2026-05-04,7.90,8.3,31,6.9
HB-3,2026-05-05,<0.10,0.1,4.4,7.9
"""


def test_a_test_with_an_earlier_year_behind_it_is_a_result_of_that_year() -> None:
    for head in ("Nitrate-N 2025", "Nitrate-N (2025)", "2025 Nitrate-N", "Nitrate-N, May 2025"):
        reading = read_csv(_SURVEY.format(head=head))
        nitrate = [(s.point, brief(r)[1]) for s in reading.samples for r in s.results]
        assert ("HB-1", "1.61") in nitrate, head
        assert ("HB-1", "1.4") not in nitrate, head
        assert len(nitrate) == 9, head


def test_a_test_of_this_year_alone_stays_a_result() -> None:
    reading = read_csv(
        """
Well,Nitrate-N 2026 (mg/L),Chloride 2026 (mg/L)
HB-1,1.61,6.2
HB-2,7.90,31
"""
    )
    assert len(_told(reading)) == 4


def test_what_a_number_was_read_with_is_no_unit() -> None:
    reading = read_csv(_SURVEY.format(head="Iron"))
    ph = [r for s in reading.samples for r in s.results if r.analyte == "ph"]
    assert [(r.unit != "meter", r.review) for r in ph] == [(True, ())] * 3


def test_a_numbered_part_of_a_form_ends_the_table_of_the_part_before() -> None:
    reading = read_page(
        *table(
            (60.0, 260.0, 320.0, 400.0, 480.0),
            """
            4. STANDARD FIELD TESTS|RAW WATER||IDEAL|TEST KIT RANGE
            Total Hardness|17|grains per gal.|0 - 3 gpg|1 gr. per drop, 0-50
            Iron, clear water|1.4|ppm|0.3 or less|0 - 10 ppm
            pH|7.1||6.8 - 8.2|4 - 10
            Total Dissolved Solids|510|ppm|under 500|0 - 5000 ppm
            """,
        ),
        (190.0, {60.0: "5. EXPLANATION"}),
        (205.0, {60.0: "Hardness:", 108.0: "0-1 gpg soft; 3.5-7 moderately hard; over 10 hard."}),
        (220.0, {60.0: "6. Compensated hardness", 190.0: "21", 216.0: "gpg x gallons a day"}),
    )
    assert _told(reading) == [
        ("hardness", "17", "grains per gal.", "CaCO3"),
        ("ferrous_iron", "1.4", "ppm", None),
        ("ph", "7.1", None, None),
        ("total_dissolved_solids", "510", "ppm", None),
    ]


_TRANSFER = (
    (60.0, {60.0: "C. SAMPLE"}),
    (75.0, {60.0: "Sampled by", 170.0: "Date and time sampled", 310.0: "Tap sampled"}),
    (75.0, {460.0: "Lab no."}),
    (88.0, {60.0: "R. Quill, RS", 170.0: "05/19/26", 230.0: "8:20 AM", 310.0: "Laundry sink"}),
    (88.0, {460.0: "HB26-2214"}),
    (102.0, {60.0: "Residual chlorine, field", 200.0: "pH, field", 310.0: "Water temperature"}),
    (102.0, {460.0: "Received"}),
    (115.0, {60.0: "0mg/L", 200.0: "7.2", 310.0: "51°F", 460.0: "05/19/26", 520.0: "11:15 AM"}),
    (140.0, {60.0: "D. RESULTS"}),
    *table(
        (60.0, 250.0, 330.0, 420.0, 500.0, 550.0),
        """
        Test|Result|Unit|Maximum allowed|Evaluation
        E. coli|Absent||Absent|☒ Pass|☐ Fail
        Nitrate Nitrogen|4.4|mg/L|10.0|☒ Pass|☐ Fail
        Iron|0.22|mg/L|0.3|☒ Pass|☐ Fail
        Manganese|0.041|mg/L|0.05|☒ Pass|☐ Fail
        """,
        top=155.0,
    ),
)


def _merged(
    lines: tuple[tuple[float, dict[float, str]], ...],
) -> list[tuple[float, dict[float, str]]]:
    whole: dict[float, dict[float, str]] = {}
    for top, cells in lines:
        whole.setdefault(top, {}).update(cells)
    return list(whole.items())


def test_the_hour_of_arrival_is_no_place_and_begins_no_sample() -> None:
    reading = read_page(*_merged(_TRANSFER))
    (sample,) = reading.samples
    assert (sample.id, sample.point) == ("HB26-2214", "Laundry sink")
    assert (sample.collected, sample.received) == ("2026-05-19T08:20", "2026-05-19T11:15")
    assert [r.analyte for r in sample.results] == [
        "chlorine",
        "ph",
        "temperature",
        "e_coli",
        "nitrate",
        "iron",
        "manganese",
    ]


_DRILLER = (
    (60.0, {40.0: "A. Field:", 90.0: "Date", 120.0: "05-12-26", 175.0: "2:30 pm"}),
    (60.0, {230.0: "Appearance:", 300.0: "☒ Clear", 360.0: "☐ Cloudy"}),
    (78.0, {40.0: "Hardness", 110.0: "16", 160.0: "gr/gal", 230.0: "Iron", 290.0: "0.6"}),
    (78.0, {340.0: "ppm", 400.0: "pH", 460.0: "7.4"}),
    (94.0, {40.0: "Chloride", 110.0: "31", 160.0: "ppm", 230.0: "Temp.", 290.0: "50"}),
    (94.0, {340.0: "°F", 400.0: "Conductivity", 480.0: "610", 530.0: "µS/cm"}),
    (112.0, {40.0: "B. Laboratory (Osk Co. Lab.)", 200.0: "Lab no.", 250.0: "OC-4418"}),
    (112.0, {310.0: "Date collected", 395.0: "05-19-26", 460.0: "after disinfection"}),
    (128.0, {40.0: "Coliform bacteria", 140.0: "0", 180.0: "per 100 ml", 250.0: "Nitrate-N"}),
    (128.0, {310.0: "<0.4", 345.0: "mg/l", 390.0: "Fluoride", 450.0: "0.7", 490.0: "mg/l"}),
    (144.0, {40.0: "Arsenic", 90.0: ".003", 130.0: "mg/l", 190.0: "Sodium 28", 260.0: "mg/l"}),
    (144.0, {310.0: "E. coli", 360.0: "0", 400.0: "per 100 ml"}),
)


def test_names_values_and_units_filled_in_along_a_line_are_all_read() -> None:
    reading = read_page(*_merged(_DRILLER))
    told = [(s.id, s.collected, [brief(r)[:3] for r in s.results]) for s in reading.samples]
    assert told == [
        (
            None,
            "2026-05-12T14:30",
            [
                ("hardness", "16", "gr/gal"),
                ("iron", "0.6", "ppm"),
                ("ph", "7.4", None),
                ("chloride", "31", "ppm"),
                ("temperature", "50", "°F"),
                ("specific_conductance", "610", "µS/cm"),
            ],
        ),
        (
            "OC-4418",
            "2026-05-19",
            [
                ("total_coliform", "0", "per 100 ml"),
                ("nitrate", "<0.4", "mg/l"),
                ("fluoride", "0.7", "mg/l"),
                ("arsenic", "0.003", "mg/l"),
                ("sodium", "28", "mg/l"),
                ("e_coli", "0", "per 100 ml"),
            ],
        ),
    ]


_CARDS = (
    (100.0, {40.0: "Lead", 200.0: "Copper", 360.0: "Arsenic"}),
    (114.0, {40.0: "2.1 ppb", 200.0: "0.22 ppm", 360.0: "Not detected"}),
    (128.0, {40.0: "Looks good", 200.0: "Looks good", 360.0: "Looks good"}),
    (142.0, {40.0: "EPA limit: 15 ppb.", 200.0: "EPA limit: 1.3 ppm."}),
    (142.0, {360.0: "We can detect from 1 ppb."}),
    (152.0, {40.0: "AAP goal for schools: 1 ppb."}),
    (162.0, {40.0: "Leaches from pipes."}),
    (172.0, {200.0: "Stains blue."}),
    (182.0, {40.0: "Ask us."}),
    (200.0, {40.0: "Iron", 200.0: "Sodium", 360.0: "Chloride"}),
    (214.0, {40.0: "0.18 ppm", 200.0: "31 ppm", 360.0: "44 ppm"}),
    (228.0, {40.0: "Looks good", 200.0: "Looks good", 360.0: "Looks good"}),
    (242.0, {40.0: "Stains above 0.3 ppm.", 200.0: "No limit.", 360.0: "Salty above 250."}),
    (300.0, {40.0: "Zinc"}),
    (314.0, {40.0: "0.051 ppm"}),
    (328.0, {40.0: "Looks good"}),
    (342.0, {40.0: "Chalky above 5 ppm."}),
    (400.0, {40.0: "What to do next"}),
    (414.0, {40.0: "Nothing today. Test again next year, and each time when the taste changes."}),
)


def test_the_last_card_alone_in_its_row_is_read_and_a_limit_within_a_card_is_told() -> None:
    reading = read_page(*_merged(_CARDS))
    assert _told(reading) == [
        ("lead", "2.1", "ppb", None),
        ("copper", "0.22", "ppm", None),
        ("arsenic", "<1", "ppb", None),
        ("iron", "0.18", "ppm", None),
        ("sodium", "31", "ppm", None),
        ("chloride", "44", "ppm", None),
        ("zinc", "0.051", "ppm", None),
    ]
    arsenic = next(r for s in reading.samples for r in s.results if r.analyte == "arsenic")
    assert arsenic.review == ()


_FIXTURES = (
    (30.0, {40.0: "Laboratory: Osk Water Lab", 250.0: "Collected: 04/13/2026"}),
    (44.0, {40.0: "At each fixture two bottles were filled: a first draw and a flush sample. The"}),
    (56.0, {40.0: "laboratory cannot measure lead below 1.0 ppb in a bottle of this kind."}),
    *table(
        (40.0, 64.0, 170.0, 262.0, 355.0, 426.0, 484.0, 534.0),
        """
        |||||First draw|Flush|
        No.|Fixture / room|Type|First draw bottle|Flush bottle|lead, ppb|lead, ppb|Action taken
        1|Infant room sink|Bottle fill|11P|11F|2.8|<1.0|None needed
        2|Toddler fountain|Bubbler|12P|12F|17.2|5.9|SHUT OFF 04/20/2026
        3|Kitchen sink|Food prep|13P|13F|<1.0|<1.0|None needed
        4|Preschool filler|Filtered filler|14P|14F|<1.0|<1.0|New filter
        """,
        top=80.0,
    ),
)


def test_two_bottles_of_one_tap_are_two_samples_with_the_numbers_of_their_columns() -> None:
    reading = read_page(*_merged(_FIXTURES))
    told = [(s.id, s.point, s.taken, s.collected, _told(s)) for s in reading.samples]
    assert told == [
        (name, place, taken, "2026-04-13", [("lead", value, "ppb", None)])
        for place, *bottles in (
            ("Infant room sink", ("11P", "2.8"), ("11F", "<1.0")),
            ("Toddler fountain", ("12P", "17.2"), ("12F", "5.9")),
            ("Kitchen sink", ("13P", "<1.0"), ("13F", "<1.0")),
            ("Preschool filler", ("14P", "<1.0"), ("14F", "<1.0")),
        )
        for taken, (name, value) in zip(("first_draw", "flushed"), bottles, strict=True)
    ]


_BEFORE_AFTER = """
Prepared for:,Larch Inn,,,,,,
What we tested,Unit,YOUR WATER,,,REMOVED,,Goal
,,BEFORE raw well,AFTER iron filter + softener (bath),AFTER RO faucet,by filter + softener,by RO,
Lab sample no.,,LA-0877-A,LA-0877-B,LA-0877-C,,,
Sample taken,,03/24/26 9:00 AM,03/24/26 9:10 AM,03/24/26 9:20 AM,,,
Iron,mg/L,4.11,0.05,< 0.02,99%,>95%,under 0.3
Manganese,mg/L,0.37,0.04,< 0.01,89%,>95%,under 0.05
pH,,7.1,7.3,6.4,,,6.5 - 8.5
Sodium,mg/L,21,208,12.8,added,39%,
Arsenic,ug/L,8.1,4.9,< 0.5,40%,>95%,under 10
"""


def test_percentages_beside_the_results_of_three_taps_are_none_and_no_tap_is_lost() -> None:
    reading = read_csv(_BEFORE_AFTER)
    told = {s.id: [brief(r)[1] for r in s.results] for s in reading.samples}
    assert told == {
        "LA-0877-A": ["4.11", "0.37", "7.1", "21", "8.1"],
        "LA-0877-B": ["0.05", "0.04", "7.3", "208", "4.9"],
        "LA-0877-C": ["<0.02", "<0.01", "6.4", "12.8", "<0.5"],
    }
    assert [s.taken for s in reading.samples] == ["raw", "treated", "treated"]
    assert {m.code for s in reading.samples for r in s.results for m in r.review} == set()
    assert reading.unread == ()


_MAIL = (
    (
        60.0,
        {50.0: "The lab is done with the bottles you dropped off. Here is what we have got for"},
    ),
    (72.0, {50.0: "12 Larch Lane (drilled well, 310 feet):"}),
    (98.0, {50.0: "Basement spigot, untreated – collected 5/11/2026 8:20 AM (vials 3390-1)"}),
    (110.0, {58.0: "Radon in water:", 150.0: "7,420 pCi/L", 215.0: "(+/- 210)"}),
    (122.0, {58.0: "Uranium:", 120.0: "10.7 ug/L"}),
    (134.0, {58.0: "Radium 226:", 140.0: "less than 1.0 pCi/L"}),
    (
        160.0,
        {50.0: "Kitchen cold, after aeration unit – collected 5/11/2026 8:45 AM (vials 3390-2)"},
    ),
    (172.0, {58.0: "Radon in water:", 150.0: "198 pCi/L", 205.0: "(+/- 50)"}),
    (184.0, {58.0: "Uranium:", 120.0: "10.4 ug/L"}),
    (210.0, {50.0: "So the unit is taking out about 97 percent of the radon, as it should do."}),
)


def test_names_with_a_colon_and_values_with_their_spread_in_a_mail_are_read() -> None:
    reading = read_page(*_MAIL)
    told = [(s.point, s.collected, [brief(r)[:3] for r in s.results]) for s in reading.samples]
    assert told == [
        (
            "Basement spigot, untreated",
            "2026-05-11T08:20",
            [
                ("radon", "7420", "pCi/L"),
                ("uranium", "10.7", "ug/L"),
                ("radium_226", "<1.0", "pCi/L"),
            ],
        ),
        (
            "Kitchen cold, after aeration unit",
            "2026-05-11T08:45",
            [("radon", "198", "pCi/L"), ("uranium", "10.4", "ug/L")],
        ),
    ]


def test_the_highest_of_each_year_and_a_count_of_wells_are_no_results() -> None:
    reading = read_csv(
        """
Year,Wells,Average nitrate-N mg/L,Highest nitrate-N mg/L,Lowest chloride mg/L,Wells with coliform
2022,9,3.1,9.9,2.2,2
2023,12,3.4,11.2,1.9,1
2024,10,3.3,10.9,2.0,4
"""
    )
    assert _told(reading) == []
