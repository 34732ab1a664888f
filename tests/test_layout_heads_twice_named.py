"""A sample named by a row of keys over its column, and once more in the head itself."""

from __future__ import annotations

from tests.layout_sheets import read_page, table


def test_a_name_in_the_head_stands_beside_the_number_that_a_key_gives() -> None:
    rows = table(
        (40.0, 220.0, 290.0, 360.0, 430.0),
        "Sample ID||XKD118|XKD119|\n"
        "Sampling Date||2021/09/14|2021/09/14|\n"
        "|UNITS|RW-1|RW-2|RDL\n"
        "Hardness (CaCO3)|mg/L|90.9|180|2.0\n"
        "Turbidity|NTU|0.624|1.26|0.10\n"
        "Dissolved Chloride|mg/L|22.1|182|1.0\n"
        "Dissolved Sulphate|mg/L|10.6|20.6|1.0",
    )
    samples = read_page(*rows).samples
    assert [(s.id, s.point, s.collected) for s in samples] == [
        ("XKD118", "RW-1", "2021-09-14"),
        ("XKD119", "RW-2", "2021-09-14"),
    ]
    assert [[r.text for r in s.results] for s in samples] == [
        ["90.9", "0.624", "22.1", "10.6"],
        ["180", "1.26", "182", "20.6"],
    ]
