"""Units that a note above a log tells test by test; air and water over degrees."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv

_ROWS = """date,where taken,hard,fe,mn,pH
2025-03-05,kitchen,18,1.2,0.05,7.1
2025-03-19,barn,21,0.4,<0.01,7.3
"""


@pytest.mark.parametrize(
    "note",
    [
        '"iron, mn in ppm. hardness in grains. blank = not tested"',
        '"Fe and Mn are reported in ppm; hardness in grains"',
        '"Note: Iron & Manganese in ppm; Hardness is given in grains"',
        '"(iron, manganese in ppm)"\n"hardness in grains"',
    ],
)
def test_a_note_tells_the_units_of_the_tests_that_it_names(note: str) -> None:
    first, second = read_csv(f"Test log\n{note}\n\n{_ROWS}").samples
    assert [brief(r) for r in first.results] == [
        ("hardness", "18", "grains", "CaCO3"),
        ("iron", "1.2", "ppm", None),
        ("manganese", "0.05", "ppm", None),
        ("ph", "7.1", "pH", None),
    ]
    assert [brief(r)[1] for r in second.results] == ["21", "0.4", "<0.01", "7.3"]
    sure = [r for r in (*first.results, *second.results) if r.analyte != "hardness"]
    assert not any(r.review for r in sure)


def test_a_sentence_about_a_test_tells_no_unit() -> None:
    first, _ = read_csv(f"Test log\niron in pumps\n\n{_ROWS}").samples
    assert [r.unit for r in first.results if r.analyte == "iron"] == [None]


@pytest.mark.parametrize(
    ("head", "units"),
    [
        ("Site,Date,Air,Water,pH,Chloride", ",,°C,°C,,mg/L"),
        ("Site,Date,Air (°C),Water (°C),pH,Chloride (mg/L)", ""),
        ("Site,Date,Air,Water,pH,Chloride", ",,deg F,deg F,,mg/L"),
    ],
)
def test_air_and_water_over_degrees_are_temperatures(head: str, units: str) -> None:
    units = f"{units}\n" if units else ""
    reading = read_csv(
        f"{head}\n{units}Cold Spring,4/18/2026,7.5,9.1,7.2,14\nMill Well,4/18/2026,8,9.3,7.1,15\n"
    )
    assert [s.point for s in reading.samples] == ["Cold Spring", "Mill Well"]
    assert [brief(r)[:2] for r in reading.samples[0].results] == [
        ("air_temperature", "7.5"),
        ("temperature", "9.1"),
        ("ph", "7.2"),
        ("chloride", "14"),
    ]
    assert not any(r.review for r in reading.samples[0].results)
