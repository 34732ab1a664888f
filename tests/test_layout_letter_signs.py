"""A letter in the place of a sign: "L0.05" is less than 0.05 in some data systems; it is asked."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.layout_sheets import read_csv

HEAD = "Sample,Analyte,Result,Units\n"
OTHERS = "26-1,Chloride,14,mg/L\n26-1,Sulfate,22,mg/L\n26-1,Calcium,61,mg/L\n"


@pytest.mark.parametrize("text", ["L0.05", "L 0.05", "K0.05", "K.05"])
def test_a_letter_of_less_than_makes_a_limit_that_is_doubted(text: str) -> None:
    reading = read_csv(f"{HEAD}{OTHERS}26-1,Iron,{text},mg/L")
    iron = reading.results[-1]
    assert (iron.analyte, iron.state, iron.operator, iron.value) == (
        "iron",
        "below",
        "<",
        Decimal("0.05"),
    )
    assert iron.text == text
    assert iron.use == "look"
    assert [reason.code for reason in iron.review] == ["read.sign_letter"]


@pytest.mark.parametrize("text", ["L0", "M0.05", "L-0.05", "L0.05.1", "Lab 5"])
def test_other_letters_and_no_limits_are_left_unread(text: str) -> None:
    reading = read_csv(f"{HEAD}{OTHERS}26-1,Iron,{text},mg/L")
    assert [r.analyte for r in reading.results] == ["chloride", "sulfate", "calcium"]
    assert any(text in u.text for u in reading.unread)
