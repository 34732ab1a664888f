"""Sheets of which every line stands below a title of a part without results."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold_parsers.layout import read_document

_ROWS = (
    (100.0, {40.0: "Nitrate-N", 200.0: "4.2 mg/L"}),
    (115.0, {40.0: "Iron", 200.0: "0.31 mg/L"}),
    (130.0, {40.0: "Hardness", 200.0: "120 mg/L"}),
)
_CODE = "read.part_unsure"


@pytest.mark.parametrize("title", ["Chain of Custody", "Quality Assurance", "Key"])
def test_a_sheet_without_any_other_result_is_read_with_a_doubt_at_each(title: str) -> None:
    reading = read_page((60.0, {40.0: title}), *_ROWS)
    assert [brief(r) for r in reading.results] == [
        ("nitrate", "4.2", "mg/L", "N"),
        ("iron", "0.31", "mg/L", None),
        ("hardness", "120", "mg/L", "CaCO3"),
    ]
    assert all(_CODE in {m.code for m in r.review} for r in reading.results)
    assert {r.use for r in reading.results} == {"look"}
    assert reading.warnings == ()


@pytest.mark.parametrize("title", ["Price List", "Drinking Water Standards", "Previous Results"])
def test_prices_levels_and_earlier_results_stay_left_out(title: str) -> None:
    assert read_page((60.0, {40.0: title}), *_ROWS).results == ()


def test_a_part_beside_results_stays_left_out() -> None:
    first = page((60.0, {40.0: "Lead", 200.0: "2.1 ug/L"}))
    second = page((60.0, {40.0: "Quality Assurance"}), *_ROWS, number=2)
    reading = read_document(pdf(first, second))
    assert [brief(r) for r in reading.results] == [("lead", "2.1", "ug/L", None)]
    assert _CODE not in {m.code for r in reading.results for m in r.review}


def test_a_table_of_recoveries_holds_none() -> None:
    reading = read_page(
        (60.0, {40.0: "Quality Control"}),
        (80.0, {40.0: "Analyte", 200.0: "Result", 300.0: "% Recovery", 400.0: "Limits"}),
        (100.0, {40.0: "Nitrate-N", 200.0: "0.98", 300.0: "98", 400.0: "85-115"}),
        (115.0, {40.0: "Iron", 200.0: "1.02", 300.0: "102", 400.0: "85-115"}),
    )
    assert reading.results == ()


def test_rows_that_say_nd_are_told_though_no_column_was_taken_for_results() -> None:
    reading = read_page(
        *table(
            (40.0, 200.0, 300.0, 400.0),
            "Compound | Method | RL | MCL\n"
            "Benzene | ND | 0.50 | 5\n"
            "Toluene | <0.5 | 0.50 | 1000\n"
            "Styrene | 524.2 | 0.50 | 100",
        )
    )
    assert reading.results == ()
    assert [u.text.split()[0] for u in reading.unread] == ["Benzene", "Toluene"]
