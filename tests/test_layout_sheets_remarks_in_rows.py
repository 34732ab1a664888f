"""A remark in the place of several results of a row: told, and the other results stay."""

from __future__ import annotations

import pytest
from layout_sheets import read_page, table

from welltold.reading import Reading

LEFTS = (20, 55, 135, 225, 305, 390, 445, 520)
HEAD = "Lab no.|Sample site|Collected|Free Cl2 mg/L|Total coliform|E. coli|HPC MPN/mL|Nitrate mg/L"


def read(row: str) -> Reading:
    rows = (
        "70881|Rm 101|10-06-26 7:05a|0.8|A|A|11|1.2\n70882|Rm 118|10-06-26 7:11a|0.7|A|P|4|1.1\n"
        f"{row}\n70884|Office|10-06-26 7:28a|0.2|P|A|130|1.3"
    )
    return read_page(*table(LEFTS, f"{HEAD}\n{rows}"))


def told(reading: Reading) -> list[str]:
    lounge = [s for s in reading.samples if s.id == "70883"]
    return [r.text for s in lounge for r in s.results if r.state != "blank"]


@pytest.mark.parametrize(
    ("row", "left"),
    [
        (
            "70883|Lounge|10-06-26 8:02a|0.6|INVALID - bottle leaked, please resample||NT|1.4",
            ["0.6", "1.4"],
        ),
        (
            "70883|Lounge|10-06-26 8:02a|0.6|sample frozen, not set up||35|1.4",
            ["0.6", "35", "1.4"],
        ),
        ("70883|Lounge|10-06-26 8:02a|0.6|A|A|broken in transit, see note", ["0.6", "A", "A"]),
    ],
)
def test_what_stands_beside_a_remark_stays(row: str, left: list[str]) -> None:
    reading = read(row)
    assert told(reading) == left
    assert [u.reason.code for u in reading.unread] == ["read.words_only"]
    assert "70883" in reading.unread[0].text
    assert [len(s.results) for s in reading.samples if s.id != "70883"] == [5, 5, 5]


def test_a_number_of_papers_is_no_count() -> None:
    """Above the table stands the number of the water system: two letters, four digits, a letter."""
    keys = (40.0, {50: "Pine School", 240: "TC 4471 N", 370: "NTNC", 470: "B26-1093"})
    reading = read_page(
        keys,
        *table(
            LEFTS, f"{HEAD}\n70881|Rm 101|10-06-26|0.8|A|A|11|1.2\n70882|Rm 2|10-06-26|0.7|A|A|4|1"
        ),
    )
    assert [(s.id, len(s.results)) for s in reading.samples] == [("70881", 5), ("70882", 5)]


def test_a_short_name_with_a_plain_number_is_read() -> None:
    reading = read_page(
        (40.0, {50: "Lab No. 55-1"}), (60.0, {50: "Na 1180 mg/L", 240: "Fe 0.31 mg/L"})
    )
    assert [r.analyte for s in reading.samples for r in s.results] == [
        "sodium",
        "iron",
    ]


def test_keys_below_a_table_are_no_rows_with_a_remark() -> None:
    key = {
        50.0: "Analysis Method: DPD Colorimetric with a",
        270.0: "Average of free residuals",
        430.0: "in all samples",
        510.0: "0.98 mg/L",
    }
    rows = f"{HEAD}\n70881|Rm 101|10-06-26|0.8|A|A|11|1.2\n70882|Rm 2|10-06-26|0.7|A|A|4|1"
    reading = read_page(*table(LEFTS, rows), (160.0, key))
    assert [len(s.results) for s in reading.samples if s.id] == [5, 5]
    assert [u.reason.code for u in reading.unread if u.reason.code == "read.words_only"] == []
