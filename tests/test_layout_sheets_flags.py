"""Data files that say "not found" in a column of its own: signs, flags, Y/N, a limit."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.layout_sheets import brief, read_csv

from welltold.reading import Reading


def _told(reading: Reading) -> list[tuple[str | None, str]]:
    return [brief(r)[:2] for r in reading.results]


@pytest.mark.parametrize("head", ["Remark", "Rmk", "Sign", "remark_code", "LessThan", "flag"])
def test_a_column_of_signs_before_the_value_is_part_of_it(head: str) -> None:
    reading = read_csv(
        f"Sample Date,{head},Nitrate (mg/L)\n2024-05-01,,1.4\n2024-06-01,<,0.99\n2024-07-01,E,2"
    )
    assert _told(reading) == [("nitrate", "1.4"), ("nitrate", "<0.99"), ("nitrate", "2")]


def test_each_of_several_sign_columns_serves_the_value_behind_it() -> None:
    reading = read_csv("cdate,r1,Iron,r2,Zinc\n2024-05-01,<,0.1,,0.2\n2024-06-01,,0.3,<,0.4")
    assert _told(reading) == [("iron", "<0.1"), ("zinc", "0.2"), ("iron", "0.3"), ("zinc", "<0.4")]


@pytest.mark.parametrize("head", ["LESS_THAN_YN", "less than flag", "Censored", "non_detect"])
def test_yes_under_less_than_is_a_limit_and_no_is_a_value(head: str) -> None:
    reading = read_csv(
        f"CHARACTERISTIC_NAME,RESULT,UNITS,{head}\nLead,0.001,mg/L,Y\nManganese,0.06,mg/L,N"
    )
    assert _told(reading) == [("lead", "<0.001"), ("manganese", "0.06")]


def test_yes_under_detected_is_a_value() -> None:
    reading = read_csv("Analyte,Result,Units,Detected\nLead,0.001,mg/L,Y\nIron,0.06,mg/L,N")
    assert _told(reading) == [("lead", "0.001"), ("iron", "<0.06")]


def test_a_flag_that_names_the_limit_gives_a_value_that_is_not_available() -> None:
    reading = read_csv(
        "Site,Date,TP_ugL,TPFlag,NO3_ugL,NO3Flag\n"
        'A,2024-05-01,NA,<MRL 6,10,"E, <MRL 20"\nB,2024-05-01,8,,20,<MRL 20'
    )
    assert _told(reading) == [
        ("phosphorus", "<6"),
        ("nitrate", "10"),
        ("phosphorus", "8"),
        ("nitrate", "<20"),
    ]
    assert reading.results[1].qualifiers == ("E",)


def test_a_flag_column_belongs_to_the_analyte_that_it_names_wherever_it_stands() -> None:
    reading = read_csv("Site,Iron_mgL,Zinc_mgL,Zinc_Flag,Iron_Flag\nA,0.1,0.2,,U\nB,0.3,0.4,U,")
    assert _told(reading) == [("iron", "<0.1"), ("zinc", "0.2"), ("iron", "0.3"), ("zinc", "<0.4")]


def test_not_available_without_a_flag_is_no_result_of_a_wide_file() -> None:
    reading = read_csv("Site,Iron_mgL,Zinc_mgL\nA,NA,0.2\nB,0.3,N/A")
    assert _told(reading) == [("zinc", "0.2"), ("iron", "0.3")]


def test_a_unit_column_named_after_its_analyte_gives_the_unit() -> None:
    reading = read_csv(
        "StationID,Sample Date,Nitrate_units,Nitrate\nC1,1/25/1999,mg/L,0.2\nC2,9/23/1999,ug/L,290"
    )
    assert [r.unit for r in reading.results] == ["mg/L", "ug/L"]
    assert [r.use for r in reading.results] == ["as_is"] * 2


def test_words_for_nothing_in_the_basis_column_leave_the_names_basis() -> None:
    reading = read_csv(
        "sample id,analyte,result,units,report basis\n"
        'S1,"Nitrate (as N)",8.86,mg/L,NA\nS1,Nitrite as N,0.1,mg/L,Dry\nS1,Sulfate,12,mg/L,N/A'
    )
    assert [r.basis for r in reading.results] == ["N", "N", None]


def test_a_basis_column_that_says_a_basis_is_heard() -> None:
    reading = read_csv(
        "Characteristic Name,Result Value,Unit,Method Speciation\n"
        "Nitrite,0.061,mg/L,as NO2\nNitrate,1.2,mg/L,as N"
    )
    assert [r.basis for r in reading.results] == ["NO2", "N"]
    assert [r.value for r in reading.results] == [Decimal("0.061"), Decimal("1.2")]


def test_bacteria_are_neither_dissolved_nor_total() -> None:
    reading = read_csv(
        "Characteristic Name,Result Value,Unit,Sample Fraction\n"
        "Escherichia coli,12,MPN/100mL,Total\nIron,0.2,mg/L,Total"
    )
    assert [r.fraction for r in reading.results] == [None, "total"]
