"""Listings of a large laboratory: codes, remarks before the number, keys without a colon."""

from __future__ import annotations

import pytest
from layout_sheets import brief, page, pdf, read_page, table

from welltold.analytes import identify
from welltold.reading import Reading
from welltold_parsers.geometry import Document, Sheet, SheetCell
from welltold_parsers.layout import read_document

_LEFT = (40.0, 90.0, 260.0, 300.0, 360.0, 430.0, 480.0, 530.0)
_LIST = (
    "PARM | PARAMETER NAME | RMK | RESULT | UNITS | RL | RL | METH\n"
    "CODE | | CODE | | OF MEASURE | VALUE | TYPE | CODE\n"
    "00915 | Calcium, wf | | {} | mg/L | 0.022 | irl | CL041\n"
    "00608 | Ammonia as N, wf | < | 0.010 | mg/L | 0.010 | irl | CL041\n"
    "70300 | Residue on evap at 180C, wf | | 301 | mg/L | 12 | mrl | CL041\n"
    "01046 | Iron, wf | E | 3.1 | ug/L | 4.0 | mrl | PLM43"
)


def _listing() -> Reading:
    lines = [(30.0, {40.0: "BOX 9, BUILDING 4, ELK ROAD, OSK, ID 83999", 400.0: "PAGE 1 OF 2"})]
    for at, (number, day, calcium) in enumerate(
        [("R26-0882-001", "20260616 1000 PDT", "68.2"), ("R26-0882-002", "20260617 0930", "91.0")]
    ):
        top = 60.0 + 200 * at
        station = f"STATION 48120711630040{at + 1}"
        lines += [
            (top, {40.0: station, 220.0: f"29N03W Elm School {at + 1}"}),
            (top + 12, {40.0: f"LAB ID {number}", 220.0: f"BEGIN DATE/TIME {day}"}),
            *table(_LEFT, _LIST.format(calcium), top=top + 40, pitch=12.0),
        ]
    lines.append((500.0, {40.0: "STATION 481207116300401 SAMPLE TYPE 2 (BLANK) BEGIN 20260616"}))
    return read_document(pdf(page(*lines)))


def test_a_listing_with_codes_and_remarks() -> None:
    reading = _listing()
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("R26-0882-001", "29N03W Elm School 1", "2026-06-16T10:00"),
        ("R26-0882-002", "29N03W Elm School 2", "2026-06-17T09:30"),
    ]
    first = reading.samples[0].results
    assert [brief(r) for r in first] == [
        ("calcium", "68.2", "mg/L", None),
        ("ammonia", "<0.010", "mg/L", "N"),
        ("total_dissolved_solids", "301", "mg/L", None),
        ("iron", "3.1", "ug/L", None),
    ]
    assert [str(r.reporting_limit) for r in first] == ["0.022", "0.010", "12", "4.0"]
    assert {r.fraction for r in first} == {"dissolved"}
    assert [r.method for r in first] == ["CL041", "CL041", "CL041", "PLM43"]


@pytest.mark.parametrize(
    ("label", "slug", "fraction"),
    [
        ("Alkalinity, wf, fixed end pt, lab", "alkalinity", "dissolved"),
        ("Silica, wf, as SiO2", "silica", "dissolved"),
        ("Iron, wu", "iron", "total"),
        ("Specific cond at 25C", "specific_conductance", None),
    ],
)
def test_short_names_of_parameters(label: str, slug: str, fraction: str | None) -> None:
    found = identify(label, fuzzy=False)
    assert found is not None
    assert (found.slug, found.fraction) == (slug, fraction)


def test_the_end_of_an_address_is_no_number_of_a_sample() -> None:
    reading = read_page(
        (30.0, {40.0: "Alder Lab, 4 Elk Road, Osk, ID 83999"}),
        (60.0, {40.0: "Nitrate-N", 200.0: "4.2 mg/L"}),
    )
    assert [s.id for s in reading.samples] == [None]


def test_samples_in_merged_heads_with_an_empty_row_below() -> None:
    across = ((1, "Client Sample ID", "Barn", "Tap B"), (2, "Lab Sample ID", "PZ-1", "PZ-2"))
    rows = [
        (
            SheetCell(row, 3, key),
            SheetCell(row, 4, one, columns=3),
            SheetCell(row, 7, two, columns=3),
        )
        for row, key, one, two in across
    ]
    texts = (
        "Parameter | CAS | Unit | Result | Qual | RDL | Result | Qual | RDL",
        "Chloride | 16887-00-6 | mg/L | 4.4 | | 0.5 | 37.6 | | 0.5",
        "Nitrate (as N) | 14797-55-8 | mg/L | <0.050 | | 0.05 | 0.297 | H | 0.05",
    )
    for row, text in enumerate(texts, start=4):
        cells = enumerate(text.split("|"), start=1)
        rows.append(tuple(SheetCell(row, at, t.strip()) for at, t in cells if t.strip()))
    document = Document("made.xlsx", "0" * 64, "xlsx", (), (Sheet("Results", tuple(rows)),))
    reading = read_document(document)
    assert [(s.id, s.point) for s in reading.samples] == [("PZ-1", "Barn"), ("PZ-2", "Tap B")]
    assert [[r.text for r in s.results] for s in reading.samples] == [
        ["4.4", "<0.050"],
        ["37.6", "0.297"],
    ]
