"""The table of indices: a wrong row is an error that names its line, never a silent default."""

from __future__ import annotations

import pytest

from welltold.chemistry import ranges
from welltold.errors import DataFileError
from welltold.tables import Row

GOOD = {
    "index": "x",
    "unit": "ratio",
    "digits": "1",
    "formula": "Cl / SO4",
    "ranges": "ph 4.5 9.5",
    "citation": "somebody, 2020",
    "range_from": "compared with a reference in this range",
    "verified": "yes",
}


@pytest.mark.parametrize(
    ("column", "text"),
    [
        ("range_from", ""),  # nobody may widen a range that has no reason
        ("ranges", "ph 4.5"),
        ("verified", "perhaps"),
        ("citation", ""),
    ],
)
def test_a_wrong_row_is_told_with_its_line(
    monkeypatch: pytest.MonkeyPatch, column: str, text: str
) -> None:
    row = Row("indices.csv", 14, {**GOOD, column: text})
    monkeypatch.setattr(ranges, "read_table", lambda _: iter([row]))
    with pytest.raises(DataFileError, match=r"indices\.csv, line 14"):
        ranges.formulas.__wrapped__()
