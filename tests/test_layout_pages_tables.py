"""Tables of whole surveys on pages: consultants' crosstabs, long lists, page after page, draws."""

from __future__ import annotations

from dataclasses import replace

from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.geometry import Word
from welltold_parsers.layout import read_document

_WELLS = (248.0, 300.0, 352.0, 404.0)


def test_sample_numbers_set_high_over_their_days_head_the_columns() -> None:
    names = dict(zip(_WELLS, ("DW-101", "DW-102", "DUP-01", "DW-104"), strict=True))
    reading = read_page(
        (122.0, names),
        *table(
            (55.0, 160.0, 200.0, *_WELLS),
            "Analyte | Units | MCL | 5/16/2022 | 5/16/2022 | 5/17/2022 | 5/17/2022\n"
            "Vinyl Chloride | ug/L | 2 | 0.50 U | 2.3 | 0.50 U | 0.76\n"
            "Lead | ug/L | 15 | 9.52 | 0.50 U | 8.60 | 0.855\n"
            "Manganese | ug/L | NA | 14.5 | 2.0 U | 182 | 13.6 J",
            top=140.0,
            pitch=19.0,
        ),
    )
    assert [(s.id, s.collected, len(s.results)) for s in reading.samples] == [
        ("DW-101", "2022-05-16", 3),
        ("DW-102", "2022-05-16", 3),
        ("DUP-01", "2022-05-17", 3),
        ("DW-104", "2022-05-17", 3),
    ]


def test_columns_of_earlier_years_beside_this_sample_are_left_out() -> None:
    reading = read_page(
        (60.0, {40.0: "Well 4", 200.0: "Lab no. 2024-3391", 400.0: "Sampled 6/11/2024"}),
        *table(
            (40.0, 200.0, 260.0, 320.0, 380.0, 440.0),
            "Parameter | Units | This | June | June | Average\n"
            " | | sample | 2023 | 2022 | (4 yr)\n"
            "Chloride | mg/L | 64.6 | 38.2 | 20.9 | 52.6\n"
            "Sulfate | mg/L | <1.0 | 60.8 | 37.4 | 52.0\n"
            "Iron | mg/L | 1.50 | 0.0371 | 3.05 | 1.19",
            top=90.0,
        ),
    )
    assert [brief(r)[:2] for r in reading.results] == [
        ("chloride", "64.6"),
        ("sulfate", "<1.0"),
        ("iron", "1.50"),
    ]
    assert [(s.id, s.collected) for s in reading.samples] == [("2024-3391", "2024-06-11")]
    assert [r.review for r in reading.results] == [(), (), ()]


_SURVEY = (40.0, 110.0, 200.0, 290.0, 380.0, 480.0)


def test_a_survey_goes_on_over_pages_without_its_head() -> None:
    first = table(
        _SURVEY,
        "Survey no. | Section | Date sampled | NO3-N (mg/L) | Total coliform | E. coli\n"
        "TC23001 | Cole Twp S16 | 4/1/23 | <0.1 | A | A\n"
        "TC23004 | Cole Twp S9 | 4/2/23 | 1.6 | P | A",
    )
    second = table(
        _SURVEY,
        "TC23007 | Byrne Twp S24 | 4/3/23 | 5.5 | A | A\n"
        "TC23010 | Drift Twp S2 | 4/4/23 | <0.1 | P | P",
        top=40.0,
    )
    reading = read_document(pdf(page(*first), page(*second, number=2)))
    assert [s.id for s in reading.samples] == ["TC23001", "TC23004", "TC23007", "TC23010"]
    assert [brief(r)[:2] for r in reading.samples[3].results] == [
        ("nitrate", "<0.1"),
        ("total_coliform", "present"),
        ("e_coli", "present"),
    ]


def test_a_page_for_each_test_opens_again_behind_quality_control() -> None:
    def test_page(number: int, name: str, values: tuple[str, str]) -> list[object]:
        return [
            (40.0, {40.0: f"Test: {name}"}),
            (60.0, {40.0: "Units: mg/L", 200.0: "Method EPA 300.0"}),
            *table(
                (40.0, 150.0, 300.0, 400.0),
                "Lab number | Your mark | Result | Analyzed\n"
                f"60418.01 | Boat house | {values[0]} | 7/12/18\n"
                f"60418.02 | Rudd cabin | {values[1]} | 7/12/18\n"
                "Quality control for this test\n"
                "Method blank | | <0.05 |\n"
                "Duplicate of 60418.02 | | 6.39 |",
                top=90.0,
            ),
        ]

    listed = table(
        (40.0, 150.0, 300.0),
        "Lab number | Your mark | Taken\n"
        "60418.01 | Boat house | July 9, 2018\n60418.02 | Rudd cabin | July 9, 2018",
    )
    reading = read_document(
        pdf(
            page(*listed),
            page(*test_page(2, "Nitrate (as N)", ("0.176", "0.223")), number=2),  # type: ignore[arg-type]  # rows
            page(*test_page(3, "Total Iron", ("2.94", "<0.02")), number=3),  # type: ignore[arg-type]  # rows
        )
    )
    told = {(s.id, *brief(r)[:2]) for s in reading.samples for r in s.results}
    assert told == {
        ("60418.01", "nitrate", "0.176"),
        ("60418.02", "nitrate", "0.223"),
        ("60418.01", "iron", "2.94"),
        ("60418.02", "iron", "<0.02"),
    }


def test_first_draw_and_flush_columns_are_two_samples_of_one_outlet() -> None:
    lefts = (40.0, 110.0, 200.0, 270.0, 340.0, 420.0)
    head = (90.0, {270.0: "First Draw", 340.0: "30-sec Flush"})
    rows = table(
        lefts,
        "Fixture ID | Location | Date | (ppb) | (ppb) | Action level\n"
        "W-A01 | Room 101 | 8/1/23 | 26 | 1.31 | 15\n"
        "W-A02 | Nurse | 8/1/23 | <1.0 | — | 15",
        top=100.0,
    )
    more = table(lefts, "W-A03 | Gym | 8/2/23 | 3.1 | <1.0 | 15", top=40.0)
    title = (60.0, {40.0: "Lead in drinking water at outlets – summer 2023"})
    reading = read_document(pdf(page(title, head, *rows), page(*more, number=2)))
    told = [
        (s.id, s.taken, s.collected, *brief(r)[:3])
        for s in reading.samples
        for r in s.results
        if r.state != "blank"
    ]
    assert told == [
        ("W-A01", "first_draw", "2023-08-01", "lead", "26", "ppb"),
        ("W-A01", "flushed", "2023-08-01", "lead", "1.31", "ppb"),
        ("W-A02", "first_draw", "2023-08-01", "lead", "<1.0", "ppb"),
        ("W-A03", "first_draw", "2023-08-02", "lead", "3.1", "ppb"),
        ("W-A03", "flushed", "2023-08-02", "lead", "<1.0", "ppb"),
    ]


def test_heads_on_end_are_set_upright_and_a_benchmark_row_is_no_sample() -> None:
    def on_end(left: float, *texts: str) -> list[Word]:
        made, bottom = [], 150.0
        for text in texts:
            top = bottom - 5.0 * len(text)
            made.append(Word(text, left, top, left + 8.0, bottom))
            bottom = top - 2.0
        return made

    heads = [
        *on_end(250.0, "Arsenic,", "Total"),
        *on_end(300.0, "Iron,", "Dissolved"),
        *on_end(350.0, "Nitrate", "+", "Nitrite"),
        *on_end(360.0, "(as", "N)"),
        *on_end(400.0, "Total", "Dissolved", "Solids"),
    ]
    lefts = (40.0, 100.0, 190.0, 245.0, 295.0, 345.0, 395.0)
    rows = table(
        lefts,
        " | | | ug/L | ug/L | mg/L | mg/L\n"
        " | State Benchmark | | 5.0 | 150 | 5.0 | 250\n"
        "PW-3 | 10/19/2020 | N | 6.85 | 1480 | 0.80 | 392\n"
        "PW-3 | 10/19/2020 | FD | 13.6 | 675 | 6.19 | 341\n"
        "PW-7 | 4/13/2021 | N | 1.0 U | 30 U | 0.36 | 762",
        top=160.0,
    )
    made = page((115.0, {40.0: "Well ID", 100.0: "Sample Date", 180.0: "Sample Type"}), *rows)
    reading = read_document(pdf(replace(made, words=(*made.words, *heads))))
    assert [(s.point, s.collected) for s in reading.samples] == [
        ("PW-3", "2020-10-19"),
        ("PW-3", "2020-10-19"),
        ("PW-7", "2021-04-13"),
    ]
    assert [(brief(r)[:2], r.fraction) for r in reading.samples[1].results] == [
        (("arsenic", "13.6"), "total"),
        (("iron", "675"), "dissolved"),
        (("nitrate_nitrite", "6.19"), None),
        (("total_dissolved_solids", "341"), None),
    ]
    assert reading.unread == ()


def test_explanations_with_signs_of_equality_name_no_sample() -> None:
    reading = read_page(
        (60.0, {40.0: "Lab ID: 88-1", 300.0: "Collected: 11/05/24"}),
        *table(
            (40.0, 200.0, 260.0), "Analyte | Result | Unit\nLead | 1.2 | ug/L\nIron | 0.2 | mg/L"
        ),
        (200.0, {40.0: "N = normal sample. ug/L = micrograms per liter. Well = private well."}),
    )
    assert [(s.id, s.point) for s in reading.samples] == [("88-1", None)]


def test_rows_of_sample_numbers_head_columns_that_have_no_other_head() -> None:
    def over(top: float, key: str, *texts: str) -> tuple[float, dict[float, str]]:
        return top, {140.0: key, **dict(zip(_WELLS, texts, strict=True))}

    reading = read_page(
        over(40.0, "Client ID:", "RW-1", "RW-2", "RW-3", "TRIP BLANK"),
        over(52.0, "Lab ID:", "881-01", "881-02", "881-03", "881-04"),
        over(64.0, "Date:", "4/9/19", "4/9/19", "4/10/19", "4/10/19"),
        *table(
            (40.0, 110.0, 160.0, *_WELLS),
            "PARAMETER | UNITS | RL | | | |\n"
            "Arsenic | ug/L | 1.0 | 2.2 | <1.0 | 14.1 | <1.0\n"
            "Lead | ug/L | 0.50 | <0.50 | 1.7 | 0.61 | <0.50",
            top=76.0,
            pitch=12.0,
        ),
    )
    told = [(s.id, s.point, s.collected, [brief(r)[1] for r in s.results]) for s in reading.samples]
    assert told == [
        ("881-01", "RW-1", "2019-04-09", ["2.2", "<0.50"]),
        ("881-02", "RW-2", "2019-04-09", ["<1.0", "1.7"]),
        ("881-03", "RW-3", "2019-04-10", ["14.1", "0.61"]),
    ]


def test_of_columns_told_apart_by_days_only_that_of_this_sample_is_read() -> None:
    reading = read_page(
        (40.0, {40.0: "Sample No. 55120", 250.0: "Date sampled 10/22/2023"}),
        *table(
            (40.0, 160.0, 240.0, 320.0, 400.0),
            "Parameter | 10/22/2023 | 09/18/2022 | 10/01/2021 | Units\n"
            "Nitrate-N | 7.1 | 6.4 | 5.9 | mg/L\n"
            "Chloride | 41 | 38 | 33 | mg/L",
            top=60.0,
        ),
    )
    assert [(s.id, s.collected) for s in reading.samples] == [("55120", "2023-10-22")]
    assert [brief(r)[:2] for r in reading.results] == [("nitrate", "7.1"), ("chloride", "41")]
    assert any("Earlier results" in w.text for w in reading.warnings)


def test_without_a_day_of_its_own_a_sheet_of_days_keeps_them_all() -> None:
    reading = read_page(
        *table(
            (40.0, 160.0, 240.0, 320.0),
            "Parameter | 10/22/2023 | 09/18/2022 | Units\n"
            "Nitrate-N | 7.1 | 6.4 | mg/L\nChloride | 41 | 38 | mg/L",
            top=60.0,
        ),
    )
    assert [(s.collected, len(s.results)) for s in reading.samples] == [
        ("2023-10-22", 2),
        ("2022-09-18", 2),
    ]


def test_heads_on_the_left_of_wide_cells_head_numbers_on_their_right() -> None:
    lefts = (40.0, 120.0, 220.0, 330.0, 440.0)
    head = (
        60.0,
        dict(zip(lefts, ("Sample ID", "Well ID", "Iron (mg/L)", "Lead (ug/l)", "pH"), strict=True)),
    )
    rows = [
        (76.0, {40.0: "TC-01", 120.0: "Well 1", 300.0: "0.032", 412.0: "3.2", 500.0: "7.1"}),
        (92.0, {40.0: "TC-02", 120.0: "Milk house", 302.0: "1.49", 412.0: "ND", 500.0: "6.9"}),
        (108.0, {40.0: "TC-03", 120.0: "Well 2", 302.0: "0.31", 412.0: "1.1", 500.0: "7.4"}),
    ]
    reading = read_page(head, *rows)
    told = [(s.id, s.point, [brief(r)[:2] for r in s.results]) for s in reading.samples]
    assert told[1] == ("TC-02", "Milk house", [("iron", "1.49"), ("lead", "<"), ("ph", "6.9")])
    assert len(told) == 3
