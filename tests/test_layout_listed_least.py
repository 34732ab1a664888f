"""A list of the least that a laboratory reports, below a title: none of its numbers is a result."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table


@pytest.mark.parametrize(
    "title",
    [
        "Smallest amount reported for substances not detected",
        "Lowest level we can detect:",
        "The least amount that the laboratory can report",
    ],
)
def test_the_least_that_is_reported_is_no_result(title: str) -> None:
    reading = read_page(
        (40.0, {40: "Report KT-7120", 300: "Collected: 06/03/2025"}),
        *table(
            (40, 220, 320),
            "Test|Result|Unit\nCopper|0.31|mg/L\nZinc|ND|mg/L\nCadmium|ND|ug/L\nLead|2.2|ug/L",
        ),
        (200.0, {40: title}),
        *table((40, 180, 220), "Zinc|0.02|mg/L\nCadmium|0.5|ug/L\nBenzene|0.5|ug/L", top=215),
    )
    told = sorted((r.analyte, r.operator, str(r.value)) for s in reading.samples for r in s.results)
    assert told == [
        ("cadmium", "<", "0.5"),
        ("copper", "=", "0.31"),
        ("lead", "=", "2.2"),
        ("zinc", "<", "0.02"),
    ]
