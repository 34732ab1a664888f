"""Columns whose heads stand on the left and whose numbers on the right; numbers under an edge."""

from __future__ import annotations

from decimal import Decimal

import pytest
from layout_sheets import number, pdf, read_page, table, words

from welltold.reading import Reading
from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

RIGHTS = (230, 305, 380, 455)


def right_aligned(rows: list[tuple[str, ...]], top: float) -> list[Word]:
    found: list[Word] = []
    for at, row in enumerate(rows):
        y = top + 14 * at
        found += words(row[0], 20, y)
        for text, right in zip(row[1:], RIGHTS, strict=True):
            wide = sum(5.0 * len(w) for w in text.split()) + 2.8 * (len(text.split()) - 1)
            found += words(text, right - wide, y)
    return found


def told(reading: Reading) -> dict[str | None, list[tuple[str | None, Decimal | None, str | None]]]:
    return {s.id: [(r.analyte, r.value, r.unit) for r in s.results] for s in reading.samples}


@pytest.mark.parametrize("stub", ["Units", "Unit"])
def test_units_far_under_their_heads(stub: str) -> None:
    """A printed spreadsheet: heads at the left of wide columns, units and numbers at the right."""
    found = words("Sample No.", 20, 60)
    for text, left in zip(("Gross beta", "K", "Al", "Cr"), (100, 240, 315, 390), strict=True):
        found += words(text, left, 60)
    rows = [
        (stub, "pCi/L", "mg/L", "ppb", "ppb"),
        ("6420/1", "15", "3.78", "<10", "0.89"),
        ("6420/2", "3.5", "2.3", "12.7", "7.3"),
        ("6420/3", "<3", "1.88", "268", "<0.5"),
    ]
    page = Page(1, 612.0, 792.0, (*found, *right_aligned(rows, 74)))
    beta, potassium, aluminum, chromium = "gross_beta", "potassium", "aluminum", "chromium"
    assert told(read_document(pdf(page))) == {
        "6420/1": [
            (beta, number("15"), "pCi/L"),
            (potassium, number("3.78"), "mg/L"),
            (aluminum, number("10"), "ppb"),
            (chromium, number("0.89"), "ppb"),
        ],
        "6420/2": [
            (beta, number("3.5"), "pCi/L"),
            (potassium, number("2.3"), "mg/L"),
            (aluminum, number("12.7"), "ppb"),
            (chromium, number("7.3"), "ppb"),
        ],
        "6420/3": [
            (beta, number("3"), "pCi/L"),
            (potassium, number("1.88"), "mg/L"),
            (aluminum, number("268"), "ppb"),
            (chromium, number("0.5"), "ppb"),
        ],
    }


@pytest.mark.parametrize("key", ["Sample ID", "Lab No.", "Client Sample ID"])
def test_the_number_of_a_block_is_not_cut_at_the_edge_of_a_column(key: str) -> None:
    """ "TC08927" stands under the left edge of a head; no coliforms are counted there."""
    lefts = (52, 192, 310, 420)
    lines = []
    for at, (name, place) in enumerate((("TC08926", "Well 3"), ("TC08927", "Cabin"))):
        top = 60.0 + 110 * at
        lines.append((top, {52.0: key, 183.0: name, 312.0: "Collected From", 442.0: place}))
        lines += table(
            lefts, "Parameter|Found|Unit|LOQ\nSodium|12.8|mg/l|0.5\nZinc|65|ppb|10", top + 30
        )
    reading = read_page(*lines)
    assert {(s.id, s.point): len(s.results) for s in reading.samples} == {
        ("TC08926", "Well 3"): 2,
        ("TC08927", "Cabin"): 2,
    }
    assert not reading.unread
