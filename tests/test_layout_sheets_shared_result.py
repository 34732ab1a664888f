"""One "Result" over, or before, the columns of several samples of a sheet."""

from __future__ import annotations

from dataclasses import replace

import pytest
from layout_sheets import brief, from_csv

from welltold_parsers.layout import read_document

_SHEET = """
Analytical Report: PF25-07733,,,,
,,,Lab Sample ID,PF25-07733-01,PF25-07733-02,PF25-07733-03
,,,Client Sample ID,Well 1A,Well 2,Well 4
,,,Date/Time Collected,2025-09-09 08:15,2025-09-09 08:50,2025-09-09 09:40
Parameter,Method,Units,RL,Result,,
Arsenic,EPA 200.8,ug/L,0.5,3.1,7.84,12.6
Barium,EPA 200.8,ug/L,1,88.4,141,203
Iron,EPA 200.8,ug/L,10,42.5,318,2240
Lead,EPA 200.8,ug/L,0.5,<0.5,<0.5,0.92
"""


@pytest.mark.parametrize("merged", [1, 3])
def test_one_result_stands_for_the_columns_of_all_samples(merged: int) -> None:
    document = from_csv(_SHEET)
    (sheet,) = document.sheets
    rows = tuple(
        tuple(c._replace(columns=merged) if c.text == "Result" else c for c in row)
        for row in sheet.rows
    )
    reading = read_document(replace(document, sheets=(replace(sheet, rows=rows),)))
    assert [(s.id, s.point) for s in reading.samples] == [
        ("PF25-07733-01", "Well 1A"),
        ("PF25-07733-02", "Well 2"),
        ("PF25-07733-03", "Well 4"),
    ]
    assert [[brief(r)[1] for r in s.results] for s in reading.samples] == [
        ["3.1", "88.4", "42.5", "<0.5"],
        ["7.84", "141", "318", "<0.5"],
        ["12.6", "203", "2240", "0.92"],
    ]
