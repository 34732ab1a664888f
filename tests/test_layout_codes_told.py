"""Bench sheets with short heads that a legend explains: worked out by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

_LEGEND = (
    "NN = nitrate nitrogen mg/L; TH = total hardness mg/L as CaCO3; CL = chloride mg/L; "
    "TC = total coliform (P/A)"
)
_FIRST = [
    ("nitrate", "4.2", "mg/L", "N"),
    ("hardness", "210", "mg/L as CaCO3", "CaCO3"),
    ("chloride", "12", "mg/L", None),
    ("total_coliform", "absent", "P/A", None),
]


def test_a_legend_below_explains_the_heads() -> None:
    rows = "Smp,Dt,NN,TH,CL,TC\nW-1,5/22/26,4.2,210,12,A\nW-2,5/22/26,0.5,180,8,P\n,,,\n"
    reading = read_csv(f"{rows}{_LEGEND}")
    assert [s.id or s.point for s in reading.samples] == ["W-1", "W-2"]
    assert {s.collected for s in reading.samples} == {"2026-05-22"}
    assert [brief(r) for r in reading.samples[0].results] == _FIRST


def test_letters_for_heads_explained_line_by_line() -> None:
    reading = read_page(
        (40.0, {50.0: "Bench sheet"}),
        *table(
            (50.0, 110.0, 200.0, 260.0, 320.0),
            "Sample | Date | A | B | C (mg/L)\nW-1 | 05/22/26 | 4.2 | 7.1 | 0.35\n"
            "W-2 | 05/22/26 | 0.5 | 7.3 | 0.02",
            top=70.0,
        ),
        (140.0, {50.0: "A: Nitrate-N (mg/L)"}),
        (155.0, {50.0: "B: pH"}),
        (170.0, {50.0: "C: Iron"}),
    )
    assert [brief(r)[:3] for r in reading.samples[1].results] == [
        ("nitrate", "0.5", "mg/L"),
        ("ph", "7.3", "pH"),
        ("iron", "0.02", "mg/L"),
    ]
    assert reading.unread == ()


def test_codes_down_the_first_column() -> None:
    reading = read_page(
        (40.0, {50.0: "Sample: Barn"}),
        *table(
            (50.0, 150.0, 250.0),
            "Test | Result | Unit\nNN | 4.2 | mg/L\nTH | 210 | mg/L",
            top=70.0,
        ),
        (140.0, {50.0: "NN = nitrate nitrogen; TH = total hardness as CaCO3"}),
    )
    assert [brief(r)[:2] for r in reading.results] == [("nitrate", "4.2"), ("hardness", "210")]


@pytest.mark.parametrize(
    "legend",
    [
        "NN = nitrate nitrogen; NN = nitrite nitrogen; XX = chloride",
        "NN = nice number; XX = other number",
    ],
)
def test_a_legend_that_tells_two_things_or_none_names_nothing(legend: str) -> None:
    reading = read_csv(f"Sample,Date,NN,Iron mg/L\nW-1,5/22/26,4.2,0.35\n{legend}")
    assert [r.analyte for r in reading.results if r.analyte] == ["iron"]
