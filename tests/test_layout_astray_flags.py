"""Flags that slipped under a head of something else, or stand under none at all."""

from __future__ import annotations

import pytest
from tests.layout_sheets import read_csv, read_page, table

_LEFTS = (40.0, 220.0, 320.0, 400.0, 480.0, 560.0)


def test_a_j_far_on_the_right_under_no_head_goes_to_its_result() -> None:
    rows = (
        "Analyte | Result | Units | RL | Method |\nIron | 0.05 | mg/L | 0.1 | EPA 200.7 | U\n"
        "Lead | 2.5 | ug/L | 1 | EPA 200.8 | J\nZinc | 31 | ug/L | 1 | EPA 200.7 |\n"
        "Copper | 14 | ug/L | 1 | EPA 200.7 |"
    )
    reading = read_page(*table(_LEFTS, rows))
    assert [(r.analyte, r.state, r.qualifiers) for r in reading.results] == [
        ("iron", "below", ("U",)),
        ("lead", "value", ("J",)),
        ("zinc", "value", ()),
        ("copper", "value", ()),
    ]


@pytest.mark.parametrize("head", ["Volume", "Batch", "Analyst", "No.", "Dilution", "Method"])
def test_a_u_under_a_head_of_something_else_is_never_lost(head: str) -> None:
    rows = (
        f"Analyte | Result | Units | RL | {head}\nIron | 0.5 | mg/L | 0.1 | U\n"
        "Lead | <1 | ug/L | 1 | U\nZinc | 31 | ug/L | 1 |\nCopper | 14 | ug/L | 1 |"
    )
    reading = read_page(*table(_LEFTS, rows))
    found = {r.analyte: r for r in reading.results}
    assert "read.flag_unknown" in [m.code for m in found["iron"].review]
    assert [found[name].use for name in ("lead", "zinc", "copper")] == ["as_is"] * 3


def test_a_code_beside_a_column_of_flags_is_a_code() -> None:
    reading = read_csv(
        "Analyte,Result,Units,RL,Flag,Batch\nIron,0.5,mg/L,0.1,,U\nLead,1,ug/L,1,U,U\n"
        "Zinc,31,ug/L,1,J,U\n"
    )
    assert [(r.state, r.use) for r in reading.results] == [
        ("value", "as_is"),
        ("below", "as_is"),
        ("value", "as_is"),
    ]
