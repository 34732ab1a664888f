"""A heading with its method behind it tells the fraction of the rows under it."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table

_COLUMNS = (40.0, 420.0, 520.0)


@pytest.mark.parametrize(
    "heading",
    [
        "Dissolved Metals (ug/L) — EPA 200.8, field filtered 0.45 micron, one bottle",
        "Dissolved metals, EPA 200.8 rev. 5.4, filtered on the day at the well",
    ],
)
def test_total_and_dissolved_metals_of_one_table_are_two_results(heading: str) -> None:
    rows = (
        "Parameter | DW-1 | DW-2\nTotal Metals (ug/L) — EPA 200.8 | |\nArsenic | 22.7 | 1.1\n"
        f"Iron | 184 | 210\n{heading} | |\nArsenic | 19.8 | 0.9\nIron | 159 | 12"
    )
    reading = read_page(*table(_COLUMNS, rows))
    told = [(r.analyte, r.text, r.fraction) for s in reading.samples for r in s.results]
    assert told == [
        ("arsenic", "22.7", "total"),
        ("iron", "184", "total"),
        ("arsenic", "19.8", "dissolved"),
        ("iron", "159", "dissolved"),
        ("arsenic", "1.1", "total"),
        ("iron", "210", "total"),
        ("arsenic", "0.9", "dissolved"),
        ("iron", "12", "dissolved"),
    ]
    codes = {m.code for s in reading.samples for r in s.results for m in r.review}
    assert "read.twice_different" not in codes


def test_a_sentence_of_many_words_heads_no_rows() -> None:
    rows = (
        "Parameter | Result | Units\nIron | 184 | ug/L\n"
        "Dissolved metals were not asked for by the client on this day | |\nLead | 3 | ug/L"
    )
    reading = read_page(*table(_COLUMNS, rows))
    assert [(r.analyte, r.fraction) for r in reading.results] == [("iron", None), ("lead", None)]
