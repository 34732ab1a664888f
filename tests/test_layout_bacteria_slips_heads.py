"""Slips for germs whose head names the count instead of "Result", several on one page."""

from __future__ import annotations

import pytest
from layout_sheets import brief, read_page, table

_LEFTS = (40.0, 247.0, 379.0)
_ROWS = "\nTotal coliform | 0 | 0\nE. coli | <1 | 0\nHeterotrophic plate count (per mL) | 41 | 500"


@pytest.mark.parametrize(
    ("test", "count", "per_ml"),
    [
        ("Test (membrane filter)", "Colonies per 100 mL", "Colonies per mL"),
        ("Organism", "CFU per 100 mL", "CFU per mL"),
        ("Examination (Colilert)", "Number per 100 mL", "per mL"),
        ("Test", "Count per 100 mL", "per mL"),
        ("Bacteria tested", "MPN/100 mL", "MPN per mL"),
    ],
)
def test_a_column_of_counts_is_read_with_its_unit(test: str, count: str, per_ml: str) -> None:
    reading = read_page(
        (60.0, {40.0: "Lab No. B-20317"}),
        *table(_LEFTS, f"{test} | {count} | Standard{_ROWS}"),
    )
    assert [brief(r)[:3] for r in reading.results] == [
        ("total_coliform", "0", count),
        ("e_coli", "<1", count),
        ("heterotrophic_plate_count", "41", per_ml),
    ]
    assert all(r.review == () for r in reading.results)


def _slip(
    top: float, number: str, owner: str, place: str, day: str
) -> list[tuple[float, dict[float, str]]]:
    title = "TRI-RIVERS DISTRICT HEALTH — REPORT OF BACTERIOLOGICAL EXAMINATION OF WATER"
    return [
        (top, {38.0: title, 498.0: f"Lab No. {number}"}),
        (top + 20, {40.0: owner, 277.0: place}),
        (top + 37, {40.0: day, 277.0: "Free Cl2", 333.0: "—", 354.0: "mg/L"}),
        *table(
            _LEFTS,
            "Test (membrane filter) | Colonies per 100 mL | Standard\nTotal coliform | 0 | 0\n"
            "E. coli | 0 | 0",
            top=top + 65,
            pitch=18.0,
        ),
    ]


@pytest.mark.parametrize(
    ("owner", "place", "hour"),
    [
        ("Supply/Owner Hemlock Grove", "Sampling point {}", "Hour 0815"),
        ("Owner Hemlock Grove", "Sample location {}", "Time 0815"),
        ("Hemlock Grove Mobile Park", "Collection point {}", "at 0815"),
    ],
)
def test_slips_on_one_page_are_samples_of_their_own(owner: str, place: str, hour: str) -> None:
    day = f"Collected: Date 4/16/26 {hour}"
    reading = read_page(
        *_slip(40.0, "B-20317", owner, place.format("Well #2 raw"), day),
        *_slip(240.0, "B-20318", owner, place.format("Lot 14 outside spigot"), day),
    )
    assert [(s.id, s.point, s.collected) for s in reading.samples] == [
        ("B-20317", "Well #2 raw", "2026-04-16T08:15"),
        ("B-20318", "Lot 14 outside spigot", "2026-04-16T08:15"),
    ]
    for sample in reading.samples:
        counts = [brief(r)[:2] for r in sample.results if r.state == "value"]
        assert counts == [("total_coliform", "0"), ("e_coli", "0")]
        assert all(r.review == () for r in sample.results)


def test_a_head_that_says_more_of_the_place_is_no_place() -> None:
    reading = read_page(
        (40.0, {40.0: "Sample Location Description", 240.0: "Date", 340.0: "Time"}),
        *table(_LEFTS, "Test | Count per 100 mL | Standard\nE. coli | 3 | 0", top=80.0),
    )
    assert [s.point for s in reading.samples] == [None]
