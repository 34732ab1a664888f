"""Pages without a ruled table: pairs, slips, letters, tick boxes, wrapped names, odd geometry."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_csv, read_page, table, words

from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document


def test_pairs_and_dot_leaders_on_a_kit_card() -> None:
    reading = read_page(
        (60.0, {50.0: "Kit no. 123456"}),
        (80.0, {50.0: "pH: 7.2"}),
        (95.0, {50.0: "Hardness: 12 gpg", 200.0: "Nitrate (as N): 4 ppm"}),
        (110.0, {50.0: "Lead ........ ND"}),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("ph", "7.2", None),
        ("hardness", "12", ["12", "gpg"][1]),
        ("nitrate", "4", "ppm"),
        ("lead", "<", None),
    ]
    assert reading.samples[0].id == "123456"


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        (
            "Total coliform bacteria were ABSENT in 100 mL of this sample.",
            ("total_coliform", "absent", None, None),
        ),
        (
            "We found nitrate at 6.3 mg/L as nitrogen in your water today.",
            ("nitrate", "6.3", "mg/L", "N"),
        ),
        (
            "Arsenic: not detected (less than 1.0 parts per billion)",
            ("arsenic", "<1.0", "parts per billion", None),
        ),
        (
            "Nitrate (as nitrogen): not detected (less than 0.10 mg/L)",
            ("nitrate", "<0.10", "mg/L", "N"),
        ),
        (
            "The lead in the first bottle was less than 1 ug/L this time.",
            ("lead", "<1", "ug/L", None),
        ),
    ],
)
def test_sentences_give_their_results(sentence: str, expected: tuple[object, ...]) -> None:
    reading = read_page((60.0, {50.0: sentence}))
    assert [brief(r) for r in reading.results] == [expected]


def test_a_number_behind_a_limit_in_one_sentence_is_looked_at() -> None:
    sentence = "The limit for nitrate is 10 mg/L and the arsenic is 10 ug/L here today."
    reading = read_page((60.0, {50.0: sentence}))
    assert all(r.review for r in reading.results)
    alone = read_page((60.0, {50.0: "We found arsenic at 4 ug/L here. The limit is 10 ug/L."}))
    assert [(brief(r)[:3], r.review) for r in alone.results] == [(("arsenic", "4", "ug/L"), ())]


@pytest.mark.parametrize(
    "sentence",
    [
        "The drinking water level for nitrate is 10 mg/L in public supplies.",
        "The federal limit for nitrate is 10 mg/L and for arsenic it is 10 parts per billion.",
        "The rule of the EPA allows lead at 15 ug/L in the water of a town.",
        "Last year your nitrate was 4.8 mg/L, so it may be rising again.",
        "Lead above 15 ug/L should be treated before anybody drinks the water.",
    ],
)
def test_limits_and_earlier_years_in_sentences_are_no_results(sentence: str) -> None:
    assert read_page((60.0, {50.0: sentence})).results == ()


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Total Coliform: [X] Absent [ ] Present", False),
        ("E. coli: ( ) Absent (x) Present", True),
        ("Total Coliform: ☒ Absent ☐ Present", False),
    ],
)
def test_a_ticked_box_is_the_answer(line: str, expected: bool) -> None:
    results = read_page((60.0, {50.0: line})).results
    assert [r.present for r in results] == [expected]


def test_two_ticked_boxes_are_left_to_a_person() -> None:
    reading = read_page((60.0, {50.0: "Total Coliform: [X] Absent [X] Present"}))
    assert reading.results == ()
    assert [u.reason.code for u in reading.unread] == ["read.ticks_unclear"]


def test_names_that_wrap_belong_to_the_row_with_the_value() -> None:
    rows = """
Analyte | Result | Units
Nitrogen, Nitrate plus
Nitrite as N | 2.31 | mg/L
Chromium | 1.2 | ug/L
(hexavalent)
"""
    reading = read_page(*table((50, 220, 290), rows))
    assert [brief(r)[0] for r in reading.results] == ["nitrate_nitrite", "chromium_vi"]


def test_headings_between_rows_are_no_part_of_a_name_but_say_the_fraction() -> None:
    rows = """
Parameter | Result | Units
Dissolved Metals
Iron | 0.02 | mg/L
Total Metals
Iron | 1.20 | mg/L
Anions by EPA 300.0 (mg/L)
Chloride | 12
"""
    results = read_page(*table((50, 200, 260), rows)).results
    assert [(r.label, r.fraction, r.unit) for r in results] == [
        ("Iron", "dissolved", "mg/L"),
        ("Iron", "total", "mg/L"),
        ("Chloride", None, "mg/L"),
    ]
    assert results[2].method == "EPA 300.0"


def test_a_table_goes_on_over_the_page_without_its_head() -> None:
    first = page(
        *table((50, 200, 260), "Analyte | Result | Units\nIron | 0.3 | mg/L\nLead | 2 | ug/L")
    )
    second = page(
        *table((50, 200, 260), "Zinc | 0.1 | mg/L\nCopper | <0.05 | mg/L", top=40), number=2
    )
    reading = read_document(pdf(first, second))
    assert [r.text for r in reading.results] == ["0.3", "2", "0.1", "<0.05"]
    assert [r.where[0].page for r in reading.results] == [1, 1, 2, 2]


def test_a_result_printed_twice_is_one_and_keeps_both_places() -> None:
    block = "Analyte | Result | Units\nIron | 0.52 | mg/L\nLead | {} | ug/L"
    pages = [
        page(
            (50.0, {50.0: "Sample ID: 9001-01"}), *table((50, 200, 260), block.format(v)), number=n
        )
        for n, v in ((1, "2.1"), (2, "2.4"))
    ]
    results = read_document(pdf(*pages)).results
    assert [r.analyte for r in results] == ["iron", "lead", "lead"]
    assert {w.page for w in results[0].where} == {1, 2}
    assert {m.code for m in results[1].review} == {"read.twice_different"}


def test_quality_control_pages_built_like_results_are_left_out() -> None:
    rows = "Analyte | Result | Units\nIron | 0.5 | mg/L"
    pages = [
        page((50.0, {50.0: "Lab ID: 9001-01"}), *table((50, 200, 260), rows)),
        page(
            (50.0, {50.0: "Quality Control Data"}),
            (70.0, {50.0: "Lab ID: 9001-BLK1"}),
            *table((50, 200, 260), rows),
            number=2,
        ),
    ]
    reading = read_document(pdf(*pages))
    assert [s.id for s in reading.samples] == ["9001-01"]


def test_numbers_on_the_right_of_cells_with_heads_on_the_left_stay_in_their_columns() -> None:
    # as a spreadsheet prints it: "9.8" ends where "ug/L" begins
    every = [*words("Determination", 55, 100), *words("Result", 250, 100), *words("Unit", 314, 100)]
    for n, (name, value, unit) in enumerate(
        [("Arsenic", "9.8", "ug/L"), ("Iron", "310", "ug/L"), ("Zinc", "12", "ug/L")]
    ):
        top = 115.0 + 13 * n
        every += [
            *words(name, 55, top),
            Word(value, 311 - 5 * len(value), top, 311, top + 11),
            *words(unit, 314, top),
        ]
    reading = read_document(pdf(Page(1, 612, 792, tuple(every))))
    assert [brief(r)[1:3] for r in reading.results] == [
        ("9.8", "ug/L"),
        ("310", "ug/L"),
        ("12", "ug/L"),
    ]


def test_a_decimal_comma_is_read_only_where_the_sheet_shows_it() -> None:
    commas = read_csv('Parametro,Resultado,Unidad\nHierro,"0,31",mg/L\nPlomo,"<1,5",ug/L')
    assert [str(r.value) for r in commas.results] == ["0.31", "1.5"]
    points = read_csv('Parameter,Result,Unit\nIron,0.31,mg/L\nSodium,"1,250",mg/L')
    assert [str(r.value) for r in points.results] == ["0.31", "1250"]


def test_a_value_in_words_is_left_to_a_person() -> None:
    reading = read_csv("Test,Result,Units\nTurbidity,Slight,NTU\nIron,0.3,mg/L")
    assert [(u.text, u.reason.code) for u in reading.unread] == [
        ("Turbidity Slight NTU", "read.words_only")
    ]


def test_names_of_persons_are_never_read() -> None:
    reading = read_page(
        (60.0, {50.0: "Name: John Q. Smith", 300.0: "Sample ID: A-17"}),
        *table((50, 200, 260), "Analyte | Result | Units\nIron | 0.3 | mg/L"),
    )
    assert "Smith" not in repr(reading)
    assert reading.samples[0].id == "A-17"


def test_a_paragraph_with_bases_in_brackets_is_read() -> None:
    # three tests, each with its own amount, as a person reads them
    reading = read_page(
        (60.0, {36.0: "Sample HG-07962 from your north well of May 10, 2026 was tested."}),
        (
            78.0,
            {
                36.0: "We found Nitrite (as N) at less than 0.02 MG/L. The Total Phosphorus (as P) "
                "was 0.043 MG/L. We found Magnesium at 6.3 MG/L."
            },
        ),
    )
    assert [(r.analyte, str(r.value), r.basis) for r in reading.results] == [
        ("nitrite", "0.02", "N"),
        ("phosphorus", "0.043", "P"),
        ("magnesium", "6.3", None),
    ]
