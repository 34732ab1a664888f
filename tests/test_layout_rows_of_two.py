"""Rows that hold two tests, results in a table's second unit, and names with what is no name."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

_LEFTS = (40.0, 220.0, 280.0, 350.0)
_ID = (40.0, {40.0: "Lab No. 4432"})


@pytest.mark.parametrize(
    "rows",
    [
        "Total cations / anions | meq/L | | 8.48 / 8.69",
        "Cations, total and Anions, total | meq/L | | 8.48 / 8.69",
        "Sum of cations / anions | meq/L | | 8.48 / 8.69",
        "Sum of cations | meq/L | | 8.48\nSum of anions | meq/L | | 8.69",
        "Total cations / anions | meq/L | 8.48 / 8.69",
    ],
)
def test_sums_stand_in_the_second_unit_that_their_row_names(rows: str) -> None:
    reading = read_page(
        _ID,
        *table(
            _LEFTS,
            "Test | Unit | Result | meq/L\nCalcium (Ca) | mg/L | 92.0 | 4.59\n"
            "Sodium (Na) | mg/L | 28.1 | 1.22\n" + rows,
        ),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("calcium", "92.0", "mg/L"),
        ("sodium", "28.1", "mg/L"),
        ("cation_sum", "8.48", "meq/L"),
        ("anion_sum", "8.69", "meq/L"),
    ]


def test_two_tests_and_two_numbers_in_one_row() -> None:
    rows = (
        "Test | Unit | Result | MCL\nCalcium / Magnesium | mg/L | 92.0 / 31.5 |\n"
        "Nitrate / Nitrite as N | mg/L | 3.1 / <0.02 |\nIron | mg/L | 0.3 |"
    )
    assert [brief(r)[:2] for r in read_page(_ID, *table(_LEFTS, rows)).results] == [
        ("calcium", "92.0"),
        ("magnesium", "31.5"),
        ("nitrate", "3.1"),
        ("nitrite", "<0.02"),
        ("iron", "0.3"),
    ]


def test_two_numbers_of_one_test_are_told_and_not_read() -> None:
    rows = "Test | Unit | Result | MCL\nRaw / treated iron | mg/L | 3.1 / 0.2 |\npH | SU | 7.2 |"
    reading = read_page(_ID, *table(_LEFTS, rows))
    assert [r.analyte for r in reading.results] == ["ph"]
    assert ["3.1 / 0.2" in one.text for one in reading.unread] == [True]


@pytest.mark.parametrize(
    "label", ["pH at 21.4 C", "pH (21.4 °C)", "pH, temp. 21.4 C", "pH @ 21.4 deg C"]
)
def test_the_temperature_behind_a_name_is_no_part_of_it(label: str) -> None:
    rows = f"Test | Unit | Result | MCL\n{label} | SU | 6.61 |\nIron | mg/L | 0.3 |"
    first = read_page(_ID, *table(_LEFTS, rows)).results[0]
    assert (first.analyte, first.unit, first.review) == ("ph", "SU", ())


def test_a_conductance_that_was_not_reduced_to_25_degrees_is_asked_about() -> None:
    rows = "Test | Unit | Result | MCL\nConductivity at 12 C | uS/cm | 301 |\nIron | mg/L | 0.3 |"
    first = read_page(_ID, *table(_LEFTS, rows)).results[0]
    assert first.analyte is None or first.review


@pytest.mark.parametrize(
    ("none", "label"),
    [("none", "Hyd. sulfide"), ("None", "Hydrogen sulfide"), ("none.", "Tannin")],
)
def test_none_in_the_place_of_an_amount_says_not_found(none: str, label: str) -> None:
    rows = f"Test | Unit | Raw | Treated\nIron | ppm | 2.5 | 0.1\n{label} | ppm | {none} | {none}"
    reading = read_page(_ID, *table(_LEFTS, rows))
    found = [r for r in reading.results if r.analyte != "iron"]
    assert [(r.state, r.operator, r.unit) for r in found] == [("below", "<", "ppm")] * 2


@pytest.mark.parametrize(
    "words",
    [("Color raw: sl. yellow", "Odor raw: musty"), ("Odor: rotten egg", "Taste: metallic")],
)
def test_what_the_senses_tell_is_left_to_a_person(words: tuple[str, str]) -> None:
    rows = "Test | Unit | Raw | Treated\nIron | ppm | 2.5 | 0.1\nHardness | gpg | 23 | 1"
    reading = read_page(
        _ID,
        *table(_LEFTS, rows),
        (170.0, {40.0: words[0], 220.0: words[1]}),
        (184.0, {40.0: "Bact. bottle to lab?", 220.0: "Softener setting: 28 gpg"}),
    )
    assert [one.text for one in reading.unread] == list(words)
    assert len(reading.results) == 4


@pytest.mark.parametrize("number", ["Lab No. {}", "Lab ID {}", "Sample # {}"])
def test_a_number_with_its_key_over_the_columns_of_a_sample(number: str) -> None:
    lefts = (42.0, 220.0, 281.0, 345.0, 400.0, 460.0)
    reading = read_page(
        (60.0, {38.0: "L. Petrosyan", 250.0: "Date sampled: 10/14/2026"}),
        (90.0, {281.0: number.format("118840"), 400.0: number.format("118841")}),
        (102.0, {281.0: "Hydrant by barn", 400.0: "Kitchen, softened"}),
        *table(
            lefts,
            "Analysis | Unit | Result | meq/L | Result | meq/L\n"
            "Calcium (Ca) | mg/L | 92.0 | 4.59 | 1.2 | 0.06\n"
            "Sodium (Na) | mg/L | 28.1 | 1.22 | 201 | 8.74\n"
            "Iron (Fe) | mg/L | 0.44 | | 0.02 |",
            top=114.0,
        ),
    )
    assert [(s.id, s.point) for s in reading.samples] == [
        ("118840", "Hydrant by barn"),
        ("118841", "Kitchen, softened"),
    ]
    assert all(r.review == () for r in reading.results)
