"""Units told in a legend or a sentence belong to the test or the sheet that they are told of."""

from __future__ import annotations

import pytest

from welltold_parsers.layout.context import _CLAUSE
from welltold_parsers.layout.legends import _unit


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
