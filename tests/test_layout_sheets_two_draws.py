"""Lists of a school's outlets: the way to draw stands over a bottle's number and its lead."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_csv

from welltold.reading import Reading
from welltold_parsers.geometry import Document, Sheet, SheetCell
from welltold_parsers.layout import read_document

_ROWS = """
F-1,Room 4 sink,7/18/2026,26-5501,2.3,26-5502,<1.0
F-2,Hall fountain,7/18/2026,26-5503,17.8,26-5504,3.9
F-3,Kitchen,7/18/2026,26-5505,ND,26-5506,ND
"""
_TRUTH = [
    ("26-5501", "Room 4 sink", "first_draw", ("lead", "2.3", "ppb", None)),
    ("26-5502", "Room 4 sink", "flushed", ("lead", "<1.0", "ppb", None)),
    ("26-5503", "Hall fountain", "first_draw", ("lead", "17.8", "ppb", None)),
    ("26-5504", "Hall fountain", "flushed", ("lead", "3.9", "ppb", None)),
    ("26-5505", "Kitchen", "first_draw", ("lead", "<", "ppb", None)),
    ("26-5506", "Kitchen", "flushed", ("lead", "<", "ppb", None)),
]


def _told(reading: Reading) -> list[tuple[object, ...]]:
    return [(s.id, s.point, s.taken, brief(r)) for s in reading.samples for r in s.results]


@pytest.mark.parametrize(
    ("upper", "lower"),
    [
        (
            "Fixture ID,Location,Date Sampled,First draw,,Flush (30 sec),",
            ",,,Sample #,Lead (ppb),Sample #,Lead (ppb)",
        ),
        ("Tag,Outlet,Date,1st draw,,Flushed,", ",,,Bottle No.,Lead ppb,Bottle No.,Lead ppb"),
        (
            "Fixture ID,Location,Collected,Initial (first draw),,Second draw,",
            ',,,Lab ID,"Pb, ppb",Lab ID,"Pb, ppb"',
        ),
    ],
)
def test_a_draw_over_a_bottle_and_its_lead_in_a_separated_file(upper: str, lower: str) -> None:
    assert _told(read_csv(f"{upper}\n{lower}\n{_ROWS.strip()}\n")) == _TRUTH


def test_a_draw_merged_over_a_bottle_and_its_lead_in_a_workbook() -> None:
    upper = (
        SheetCell(1, 1, "Fixture ID", rows=2),
        SheetCell(1, 2, "Room / Location", rows=2),
        SheetCell(1, 3, "Date Sampled", rows=2),
        SheetCell(1, 4, "Initial (first draw)", columns=2),
        SheetCell(1, 6, "Follow-up flush (30 sec)", columns=2),
    )
    lower = tuple(
        SheetCell(2, at, text)
        for at, text in ((4, "Sample #"), (5, "Lead (ppb)"), (6, "Sample #"), (7, "Lead (ppb)"))
    )
    rows = tuple(
        tuple(SheetCell(number, at, text) for at, text in enumerate(line.split(","), start=1))
        for number, line in enumerate(_ROWS.strip().splitlines(), start=3)
    )
    sheet = Sheet("Lead", (upper, lower, *rows))
    document = Document("made.xlsx", "0" * 64, "xlsx", (), (sheet,))
    assert _told(read_document(document)) == _TRUTH
