"""Ticks in tables of several samples: in the cell, in rows and in columns of answers; by hand."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv, read_page, table

from welltold.reading import Reading

_LEFTS = (50.0, 150.0, 300.0, 450.0)
_WIDE = (50.0, 220.0, 320.0, 420.0)
_TC, _EC = "total_coliform", "e_coli"


def _told(reading: Reading) -> list[tuple[str | None, list[tuple[str | None, str]]]]:
    return [(s.id or s.point, [brief(r)[:2] for r in s.results]) for s in reading.samples]


_TWO = [
    ("B-1", [(_TC, "present"), (_EC, "absent")]),
    ("B-2", [(_TC, "absent"), (_EC, "absent")]),
]


def test_both_answers_in_the_cell_of_a_sample_on_a_page() -> None:
    rows = (
        "Sample | Location | Total Coliform | E. coli\n"
        "B-1 | Barn | ☐ Absent ☒ Present | ☒ Absent ☐ Present\n"
        "B-2 | House | ☒ Absent ☐ Present | ☒ Absent ☐ Present\n"
        "B-3 | Shop | ☐ Absent ☐ Present | ☒ Absent ☐ Present"
    )
    reading = read_page((40.0, {50.0: "Bacteria report"}), *table(_LEFTS, rows, top=60.0))
    assert _told(reading) == _TWO
    assert [u.text.split()[0] for u in reading.unread] == ["B-3"]


@pytest.mark.parametrize(
    "text",
    [
        "Sample,Location,Total Coliform,E. coli\nB-1,Barn,☒ Present ☐ Absent,☐ Present ☒ Absent\n"
        "B-2,House,☐ Present ☒ Absent,☐ Present ☒ Absent",
        "Sample,Total Coliform Present,Total Coliform Absent,E. coli Present,E. coli Absent\n"
        "B-1,X,,,X\nB-2,,X,,X",
        "Sample,Total Coliform: Present,Total Coliform: Absent,E. coli: Present,E. coli: Absent\n"
        "B-1,☒,☐,☐,☒\nB-2,☐,☒,☐,☒",
    ],
)
def test_answers_in_cells_and_columns_of_a_sheet(text: str) -> None:
    assert _told(read_csv(text)) == _TWO


_ROWS = "Test | Barn | House | Shop\n{0} Present | ☒ | ☐ | ☐\n{0} Absent | ☐ | ☒ | {1}"


def test_a_row_for_each_answer() -> None:
    rows = _ROWS.format("Total Coliform", "☒")
    reading = read_page((40.0, {50.0: "Bacteria report"}), *table(_WIDE, rows, top=60.0))
    assert _told(reading) == [
        ("Barn", [(_TC, "present")]),
        ("House", [(_TC, "absent")]),
        ("Shop", [(_TC, "absent")]),
    ]


def test_rows_of_answers_of_which_one_sample_has_none_are_told() -> None:
    rows = _ROWS.format("E. coli", "☐") + "\nNitrate-N mg/L | 4.2 | 3.1 | 2.0"
    reading = read_page((40.0, {50.0: "Bacteria report"}), *table(_WIDE, rows, top=60.0))
    assert [r.analyte for r in reading.results] == ["nitrate"] * 3
    assert len(reading.unread) == 2
