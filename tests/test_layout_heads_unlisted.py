"""Heads in which the word over the names is one that nobody has listed."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

_GERMS = table((50.0, 470.0), "Test|Result\nE. coli|absent\nColiforms|absent")


@pytest.mark.parametrize(
    "head",
    [
        "Criteria|Results|Wanted|Must",
        "What we looked for|Your Result||Must",
        "Merkmal|Ergebnisse|= A|= B",
        "Qualities|Result|Column A|Column B",
    ],
)
def test_a_limit_is_never_read_where_a_second_table_has_the_results_elsewhere(head: str) -> None:
    rows = table(
        (50.0, 285.0, 370.0, 440.0),
        f"""
{head}
Iron in mg/l|0.08|0.20|
Chloride in mg/l|118.00|250|
Manganese in mg/l|0.01|0.05|
Calcium in mg/l|135.00||
Nitrate in mg/l|6.00||50.0
Sodium in mg/l|12.0|200|
""",
        top=170.0,
    )
    (sample,) = read_page(*_GERMS, *rows).samples
    metals = [r for r in sample.results if r.present is None]
    told = {r.analyte: brief(r)[1:3] for r in metals}
    assert not any(r.review for r in metals)
    assert told == {
        "iron": ("0.08", "mg/l"),
        "chloride": ("118.00", "mg/l"),
        "manganese": ("0.01", "mg/l"),
        "calcium": ("135.00", "mg/l"),
        "nitrate": ("6.00", "mg/l"),
        "sodium": ("12.0", "mg/l"),
    }


def test_a_title_with_the_word_results_is_no_head_of_the_names_below() -> None:
    lines = table((50.0, 250.0), "Wade Water Lab|Results")
    rows = table((50.0, 130.0), "Iron|0.31 mg/L\nLead|2 ug/L\nChloride|35 mg/L", top=140.0)
    (sample,) = read_page(*lines, *rows).samples
    assert [brief(r)[:3] for r in sample.results] == [
        ("iron", "0.31", "mg/L"),
        ("lead", "2", "ug/L"),
        ("chloride", "35", "mg/L"),
    ]


def test_values_that_stand_beside_the_head_of_results_are_doubted() -> None:
    rows = table(
        (50.0, 285.0, 370.0),
        """
Quality|Measured in March|A
Iron in mg/l|0.08|0.20
Chloride in mg/l|118.00|250
Manganese in mg/l|0.01|0.05
Sodium in mg/l|12.0|200
""",
        top=170.0,
    )
    (sample,) = read_page(*_GERMS, *rows).samples
    metals = [r for r in sample.results if r.present is None]
    assert len(metals) == 4
    assert all(r.review for r in metals)
