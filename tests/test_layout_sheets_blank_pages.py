"""A blank on a page of its own is no client's water, however it is named."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

Lines = list[tuple[float, dict[float, str]]]
LEFTS = (40, 260, 330, 400)
ROWS = "Compound|Result|MRL|Units\n{}"


def block(key: str, name: str, number: str, kind: str, rows: str) -> Lines:
    word, _, said = kind.partition(": ")
    head: Lines = [
        (60.0, {40: key, 150: name, 340: "Lab Sample ID:", 440: number}),
        (74.0, {40: "Collected:", 150: "11/09/2026 09:12", 340: f"{word}:", 440: said}),
    ]
    return head + table(LEFTS, ROWS.format(rows), top=110)


WATER = "PFOA|14.7|1.9|ng/L\nPFOS|23.5|1.9|ng/L\nPFHxS|< 1.9|1.9|ng/L"
CLEAN = "PFOA|< 1.9|1.9|ng/L\nPFOS|0.71 J|1.9|ng/L\nPFHxS|< 1.9|1.9|ng/L"


def read(key: str, name: str, kind: str) -> Reading:
    """Read a client's sample, a blank, and another client's sample, a page each."""
    first = block(key, "Wellhead", "P-3310-A", "Matrix: Drinking water", WATER)
    blank = block(key, name, "P-3310-B", kind, CLEAN)
    last = block(key, "Kitchen cold", "P-3310-C", "Matrix: Drinking water", WATER)
    return read_document(
        pdf(page(*first), page(*blank, number=2), page(*last, number=3)),
    )


@pytest.mark.parametrize(
    "name",
    [
        "Field Reagent Blank (FRB)",
        "FRB",
        "FRB-1",
        "FRB (Kitchen)",
        "Well 3 FRB",
        "Field Blk",
        "Trip Blk 1",
        "Trip Blank",
        "Equip. Blank",
        "Equipment Blank #2",
        "Rinsate",
        "Method Blank",
        "Laboratory Fortified Blank",
        "FIELDBLANK",
        "Blank (trip)",
        "Shipping blank",
        "DI water blank",
    ],
)
@pytest.mark.parametrize("key", ["Client Sample ID:", "Sample Point:"])
def test_a_blank_by_its_name(key: str, name: str) -> None:
    reading = read(key, name, "Matrix: Drinking water")
    assert [(s.id, len(s.results)) for s in reading.samples] == [("P-3310-A", 3), ("P-3310-C", 3)]
    assert any(w.code in {"read.blank_left_out", "read.qc_left_out"} for w in reading.warnings)


@pytest.mark.parametrize(
    "kind",
    [
        "Sample Type: Field Blank",
        "Sample Type: Trip blank",
        "Matrix: Blank Water",
        "Matrix: Reagent Water",
        "QC Type: Equipment Blank",
    ],
)
def test_a_blank_by_its_kind(kind: str) -> None:
    """The name is plain: another key of the head says what it is."""
    reading = read("Client Sample ID:", "Site QA-1", kind)
    assert [s.id for s in reading.samples] == ["P-3310-A", "P-3310-C"]


@pytest.mark.parametrize(
    "name", ["Blanket Spring", "12 Blank St", "Blank Rd well", "Frb Farm East"]
)
def test_a_place_that_sounds_so_is_read(name: str) -> None:
    reading = read("Client Sample ID:", name, "Matrix: Drinking water")
    assert [s.id for s in reading.samples] == ["P-3310-A", "P-3310-B", "P-3310-C"]
