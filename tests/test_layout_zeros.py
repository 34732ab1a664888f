"""Sheets that print 0 for "below the limit" and say so: by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv

_ROWS = "A,2026-01-02,0,0.4\nB,2026-01-02,3,0.0"


@pytest.mark.parametrize(
    ("sheet", "told"),
    [
        ("Sample,Date,Lead ug/L (0<mdl),Iron mg/L\n" + _ROWS, ["<", "0.4", "3", "0.0"]),
        ("Sample,Date,Lead ug/L 0<MDL,Iron mg/L (0 = ND)\n" + _ROWS, ["<", "0.4", "3", "<"]),
        ("0 = below detection limit\nSample,Date,Lead ug/L,Iron mg/L\n" + _ROWS,
         ["<", "0.4", "3", "<"]),
        ("10 = below detection limit\nSample,Date,Lead ug/L,Iron mg/L\n" + _ROWS,
         ["0", "0.4", "3", "0.0"]),
    ],
)  # fmt: skip
def test_zeros_that_mean_below(sheet: str, told: list[str]) -> None:
    reading = read_csv(sheet)
    assert [brief(r)[1] for r in reading.results] == told
    assert {r.unit for r in reading.results} == {"ug/L", "mg/L"}


def test_zeros_below_one_head_of_results() -> None:
    reading = read_csv(
        "Test,Result (0 = <MDL),Unit\nLead,0,ug/L\nIron,0.4,mg/L\nE. coli,0,CFU/100 mL"
    )
    told = [(r.state, r.present) for r in reading.results]
    assert told == [("below", None), ("value", None), ("absent", False)]
