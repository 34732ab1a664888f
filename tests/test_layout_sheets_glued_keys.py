"""Keys that run into the value before them, and samples with the report's number alone."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, read_page, table, words

from welltold.reading import Reading
from welltold_parsers.geometry import Page
from welltold_parsers.layout import read_document

LEFTS = (40, 150, 220, 300)


def rows(top: float) -> list[tuple[float, dict[float, str]]]:
    return table(
        LEFTS, "Component|EQL|Unit|Results\nCalcium|0.5|mg/L|14\nZinc|0.01|mg/L|0.030", top
    )


def named(reading: Reading) -> list[tuple[str | None, str | None, str | None, int]]:
    return [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples]


@pytest.mark.parametrize(
    ("glued", "when"),
    [
        ("05/31/2026 9:30 AMDate Received", "2026-05-31T09:30"),
        ("05/31/2026Date Received", "2026-05-31"),
        ("05/31/2026 14:10Received", "2026-05-31T14:10"),
    ],
)
def test_a_key_glued_to_the_day_before_it(glued: str, when: str) -> None:
    reading = read_page(
        (40.0, {40: "Work Order", 150: "81005"}),
        (54.0, {40: "Project", 150: "Domestic wells 2026"}),
        (75.0, {40: "Sample ID", 150: "26-02718", 300: "Description", 380: "Outside hydrant"}),
        (89.0, {40: "Sample Date", 150: glued, 380: "06/01/2026"}),
        *rows(110),
        (175.0, {40: "Sample ID", 150: "26-02719", 300: "Description", 380: "Workshop"}),
        (189.0, {40: "Sample Date", 150: "05/31/2026 9:40 AM"}),
        *rows(210),
    )
    assert named(reading) == [
        ("26-02718", "Outside hydrant", when, 2),
        ("26-02719", "Workshop", "2026-05-31T09:40", 2),
    ]
    assert reading.samples[0].received == "2026-06-01"


def test_a_name_behind_a_number_is_no_key() -> None:
    reading = read_page(
        (40.0, {40: "Sample ID", 150: "26-02718", 300: "Description", 380: "Lot 12Received here"}),
        (54.0, {40: "Sample Date", 150: "05/31/2026"}),
        *rows(80),
    )
    assert named(reading) == [("26-02718", "Lot 12Received here", "2026-05-31", 2)]


def test_a_block_with_the_number_of_the_order_alone_is_doubted() -> None:
    """The first block has lost its names: the order's number names no bottle beside others."""
    first = page((40.0, {40: "Work Order: 81005"}), *rows(80))
    others = [
        Page(
            at,
            612.0,
            792.0,
            (
                *words(f"Sample ID: 26-0271{at}", 40, 40),
                *words(f"Description: Tap {at}", 250, 40),
                *page(*rows(80)).words,
            ),
        )
        for at in (2, 3)
    ]
    reading = read_document(pdf(first, *others))
    told = {s.id: [m.code for r in s.results for m in r.review] for s in reading.samples}
    assert told == {"81005": ["read.sample_nameless"] * 2, "26-02712": [], "26-02713": []}
