"""Columns of limits beside the samples of a certificate are no samples, whatever heads them."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table

from welltold.reading import Reading

LEFTS = (40, 180, 240, 300, 360, 440, 530)
ROWS = """
Colour|TCU|-|5|7|<2|2
Dissolved Sulphate (SO4)|mg/L|-|500|118|121|1.0
pH|pH|-|6.5:8.5|7.52|7.71|N/A
Nitrate (N)|mg/L|10|-|<0.10|0.18|0.10
Total Iron (Fe)|ug/L|-|300|1900|<100|100
Total Sodium (Na)|ug/L|20000|200000|31000|162000|100
"""


def read(health: str, other: str) -> Reading:
    heads = f"""
Lab Sample ID||||BXK411|BXK412|
||||2026/09/15|2026/09/15|
Sampling Date||||09:30|09:50|
|UNITS|{health}|{other}|RAW WELL|TREATED|RDL
"""
    return read_page(*table(LEFTS, heads.strip("\n") + ROWS, top=60))


def told(reading: Reading) -> dict[str | None, list[str]]:
    return {s.id: [r.text for r in s.results] for s in reading.samples}


@pytest.mark.parametrize(
    ("health", "other"),
    [
        ("MAC", "A/O"),
        ("MAC", "AO/OG"),
        ("IMAC", "OG"),
        ("Health", "Aesthetic"),
        ("Primary", "Secondary"),
        ("GCDWQ", "Aesth. Obj."),
    ],
)
def test_objectives_are_limits(health: str, other: str) -> None:
    reading = read(health, other)
    assert told(reading) == {
        "BXK411": ["7", "118", "7.52", "<0.10", "1900", "31000"],
        "BXK412": ["<2", "121", "7.71", "0.18", "<100", "162000"],
    }
    assert [(s.point, s.collected) for s in reading.samples] == [
        ("RAW WELL", "2026-09-15T09:30"),
        ("TREATED", "2026-09-15T09:50"),
    ]
    assert not reading.unread


def test_a_column_without_a_number_is_doubted_where_every_sample_has_one() -> None:
    """Nobody knows "Zeta": its numbers are shown to a person, or told as unread."""
    reading = read("MAC", "Zeta")
    whole = {s.id: s for s in reading.samples}
    assert {"BXK411", "BXK412"} <= whole.keys()
    others = [r for s in reading.samples if s.id not in {"BXK411", "BXK412"} for r in s.results]
    assert all(r.review for r in others)
