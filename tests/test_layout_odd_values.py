"""Dashes before numbers, flags behind them, and flags under heads of something else: by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

_LEFTS = (50.0, 200.0, 320.0)


@pytest.mark.parametrize(
    ("test", "text", "unit", "value"),
    [
        ("Saturation Index (Langelier)", "– 2.1", "", "-2.1"),
        ("ORP", "− 15", "mV", "-15"),
        ("Iron", "– 0.3", "mg/L", "0.3"),
        ("Nitrate-N", "- 4.2", "mg/L", "4.2"),
    ],
)
def test_a_dash_apart_from_its_number_is_doubted(
    test: str, text: str, unit: str, value: str
) -> None:
    rows = f"Test | Result | Unit\n{test} | {text} | {unit}\nLead | – | ug/L\nZinc | 0.2 | mg/L"
    reading = read_page((40.0, {50.0: "Sample: Barn"}), *table(_LEFTS, rows, top=70.0))
    found = {r.text: r for r in reading.results}
    assert str(found[text].value) == value
    assert [m.code for m in found[text].review] == ["read.dash_open"]
    assert found["–"].state == "blank"
    assert found["0.2"].review == ()


@pytest.mark.parametrize(
    ("text", "value", "flags"),
    [
        ("18 F1", "18", ("F1",)),
        ("2.1 B1", "2.1", ("B1",)),
        ("<0.5 H4", "<0.5", ("H4",)),
        ("18 *1", "18", ("*1",)),
        ("7.5 J,F1", "7.5", ("J", "F1")),
    ],
)
def test_a_code_of_the_lab_behind_a_number(text: str, value: str, flags: tuple[str, ...]) -> None:
    reading = read_csv(f'Sample,Test,Result,Unit\nA,Lead,"{text}",ug/L\nA,Zinc,2.5 J,mg/L')
    lead, zinc = reading.results
    assert (brief(lead)[1], lead.qualifiers) == (value, flags)
    assert [m.code for m in lead.review] == ["read.flag_unknown"]
    assert zinc.review == ()


@pytest.mark.parametrize("heads", [("Method", "Status"), ("Comment", "Comment"), ("Lab", "Lab")])
def test_flags_under_heads_of_something_else(heads: tuple[str, str]) -> None:
    reading = read_csv(
        f"Well,Date,Lead ug/L,{heads[0]},Iron mg/L,{heads[1]}\n"
        "MW-1,2026-01-02,5,U,0.35,\nMW-2,2026-01-02,7.1,,0.5,J"
    )
    assert [(brief(r)[1], r.qualifiers) for r in reading.results] == [
        ("<5", ("U",)),
        ("0.35", ()),
        ("7.1", ()),
        ("0.5", ("J",)),
    ]


def test_one_flag_behind_several_results_is_doubted_at_them() -> None:
    reading = read_csv(
        "Well,Date,Lead ug/L,Iron mg/L,Comment\nMW-1,2026-01-02,5,0.35,U\nMW-2,2026-01-02,7,0.5,"
    )
    assert {r.operator for r in reading.results} == {"="}
    assert "read.flag_unknown" in [m.code for r in reading.results for m in r.review]


def test_signs_before_their_numbers_are_no_flags_of_the_number_before() -> None:
    reading = read_csv(
        "Well,Date,,Lead ug/L,,Iron mg/L,,Zinc mg/L\n"
        "MW-1,2026-01-02,,5,<,0.35,<,0.1\nMW-2,2026-01-02,<,7,,0.5,<,0.1"
    )
    assert [brief(r)[1] for r in reading.results] == ["5", "<0.35", "<0.1", "<7", "0.5", "<0.1"]


_OF_IONS = (
    "Test | ppm | meq/L | lbs/acre-inch\nCalcium | 92.0 | 4.60 | 20.8\n"
    "Magnesium | 40.1 | 3.30 | 9.1\nSodium | 224 | 9.74 | 50.7\nSum of cations | | 17.64 | "
)


def test_a_sum_that_stands_in_the_column_of_other_units_alone() -> None:
    reading = read_page(
        (40.0, {50.0: "Sample: Pivot 3"}),
        *table((50.0, 200.0, 280.0, 360.0), _OF_IONS, top=70.0),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("calcium", "92.0", "ppm"),
        ("magnesium", "40.1", "ppm"),
        ("sodium", "224", "ppm"),
        ("cation_sum", "17.64", "meq/L"),
    ]
    assert reading.unread == ()


def test_a_test_that_stands_in_another_unit_alone_which_is_none_of_its_own_is_told() -> None:
    rows = _OF_IONS.replace("Sum of cations | | 17.64 | ", "Boron | | | 0.09")
    reading = read_page(
        (40.0, {50.0: "Sample: Pivot 3"}), *table((50.0, 200.0, 280.0, 360.0), rows, top=70.0)
    )
    assert [u.text for u in reading.unread] == ["Boron 0.09"]
