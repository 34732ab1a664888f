"""Units told in a legend or a sentence belong to the test or the sheet that they are told of."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table

from welltold_parsers.layout.legends import _unit
from welltold_parsers.layout.stated_units import _CLAUSE


@pytest.mark.parametrize(
    ("told", "unit"),
    [
        ("mg/L, Iron in ug/L", "mg/L"),
        ("mg/L; pH at 25 C", "mg/L"),
        ("mg/L as N", "mg/L as N"),
        ("ug/L.", "ug/L"),
        ("the lab", None),
    ],
)
def test_a_unit_of_a_legend_ends_where_the_next_test_begins(told: str, unit: str | None) -> None:
    assert _unit(told.split()) == unit


def test_a_sentence_may_end_in_a_capital() -> None:
    first, *_ = _CLAUSE.split("All figures are ug/L. Samples were kept cold.")
    assert first == "All figures are ug/L"


def test_a_section_right_under_the_head_gives_its_unit_to_the_rows_below() -> None:
    rows = """
Analyses | Observed Value | Analysis Date
Analytes (mg/L)
Nitrate (as N) | 0.32 | 06/14/26
Chloride | 36.7 | 06/11/26
Analytes (ug/L)
Zinc | 12.2 | 06/11/26
"""
    lines = table((40, 200, 320), rows, pitch=12.5)
    for _, cells in lines[1:]:  # set in by three points, as some producers do
        cells[43.0] = cells.pop(40)
    reading = read_page(*lines)
    assert [(r.analyte, r.unit) for r in reading.results] == [
        ("nitrate", "mg/L"),
        ("chloride", "mg/L"),
        ("zinc", "ug/L"),
    ]


def test_ph_over_ph_units_is_one_head() -> None:
    rows = """
Lab ID | pH | Color | Cl
 | pH units | Pt-Co | mg/L
A-1 | 8.4 | 31.8 | 63.3
A-2 | 7.25 | 5.1 | 18
"""
    reading = read_page(*table((40, 150, 230, 310), rows, pitch=13.0))
    assert [(r.analyte, r.label, r.use) for r in reading.results if r.text in {"8.4", "7.25"}] == [
        ("ph", "pH", "as_is"),
        ("ph", "pH", "as_is"),
    ]
