"""State forms: small keys over boxes, a remark beside the title, comments below the results."""

from __future__ import annotations

import pytest
from layout_sheets import pdf, table, words

from welltold.reading import Reading
from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

Told = tuple[str | None, str | None, str | None]
LEFTS = (44, 145, 220, 314, 415, 490)
ROWS = """
Analyte|Result|Allowable limit|Analyte|Result|Allowable limit
Arsenic|< 0.001|( 0.010 )|Nitrate (as N)|< 1.00|( 10.0 )
Calcium|38||Sodium|8.70|
Iron|1.84|( 0.30 )|pH|6.4|( N/A )
Manganese|0.26|( 0.05 )|Color||( 15 )
"""


def small(text: str, left: float, top: float) -> list[Word]:
    """Set a text in small letters, as the keys of a form."""
    found = []
    for piece in text.split():
        found.append(Word(piece, left, top, left + 3.2 * len(piece), top + 7.0))
        left += 3.2 * len(piece) + 2.0
    return found


def read(title: tuple[str, ...], comments: tuple[str, ...], *, size: bool) -> Reading:
    found: list[Word] = []
    boxes = [
        ((42, "Name of owner"), (222, "County"), (422, "Laboratory No.")),
        ((42, "Collection address"), (302, "Sample point"), (422, "Program No.")),
        ((42, "Date collected"), (172, "Time"), (262, "Date received"), (372, "Collected by")),
        ((42, "Source of water"), (172, "Type of sample"), (372, "Type of treatment")),
    ]
    filled = [
        ((45, "HARLOW, D & T"), (225, "TAMARACK"), (425, "EN-26-048817")),
        ((45, "77 PELICAN LOOP"), (305, "WELL TAP"), (425, "TAM 0094412")),
        (
            (45, "10/14/2026"),
            (175, "11:15 AM"),
            (265, "10/15/2026"),
            (375, "W. BRANDT"),
            (461, "ID 22"),
        ),
        ((45, "[X] Well [ ] Spring"), (175, "[X] Raw"), (240, "[ ] Treated"), (375, "NONE")),
    ]
    for at, (keys, values) in enumerate(zip(boxes, filled, strict=True)):
        top = 60.0 + 24 * at
        for left, text in keys:
            found += small(text, left, top) if size else words(text, left, top - 2)
        for left, text in values:
            found += words(text, left, top + 10)
    for left, text in zip((44, 160), title, strict=False):
        found += words(text, left, 165)
    for top, cells in table(LEFTS, ROWS, top=182):
        for left, text in cells.items():
            found += words(text, left, top)
    for at, text in enumerate(comments):
        left = 48.0
        for piece in text.split():
            found += words(piece, left, 270 + 13 * at)
            left += 5.0 * len(piece) + 6.0
    return read_document(pdf(Page(1, 612.0, 792.0, tuple(found))))


def told(reading: Reading) -> list[Told]:
    assert len(reading.samples) == 1
    found = [(r.analyte, r.text, r.unit) for r in reading.samples[0].results]
    return sorted(found, key=lambda t: str(t[0]))


WANTED: list[Told] = [
    ("arsenic", "< 0.001", "mg/L"),
    ("calcium", "38", "mg/L"),
    ("iron", "1.84", "mg/L"),
    ("manganese", "0.26", "mg/L"),
    ("nitrate", "< 1.00", "mg/L"),
    ("ph", "6.4", None),
    ("sodium", "8.70", "mg/L"),
]
REMARK = "All results reported in mg/L except pH. A blank line means not tested."
COMMENTS = (
    "COMMENTS",
    "IRON EXCEEDS THE RECOMMENDED LEVEL OF 0.30 MG/L. STAINING IS LIKELY.",
    "MANGANESE EXCEEDS 0.05 MG/L BUT NOT THE GUIDELINE OF 0.30 MG/L.",
)


@pytest.mark.parametrize("size", [True, False])
@pytest.mark.parametrize(
    "title",
    [("ANALYSIS RESULTS", REMARK), (REMARK,), ("TEST RESULTS", REMARK.replace("line", "means"))],
)
@pytest.mark.parametrize("over", ["COMMENTS", "COMMENTS / INTERPRETATION", "Remarks:"])
def test_a_form_with_keys_over_boxes(title: tuple[str, ...], over: str, *, size: bool) -> None:
    """A box may hold two things side by side; the remark states the unit and heads nothing."""
    reading = read(title, (over, *COMMENTS[1:]), size=size)
    assert told(reading) == WANTED
    sample = reading.samples[0]
    assert (sample.id, sample.point, sample.collected) == (
        "EN-26-048817",
        "WELL TAP",
        "2026-10-14T11:15",
    )
    assert not any(r.review for r in sample.results)


def test_a_comment_set_wide_is_no_row() -> None:
    """Even without a title over it: "EXCEEDS" behind a name compares, and gives no result."""
    reading = read(("ANALYSIS RESULTS", REMARK), COMMENTS[2:], size=True)
    assert told(reading) == WANTED


@pytest.mark.parametrize(
    "text",
    [
        "Lead over 15 ppb is of concern for infants.",
        "Lead above 15 ppb is of concern for infants.",
        "Iron over 0.3 mg/L stains.",
        "Nitrate over the limit of 10 mg/L is of concern for infants.",
    ],
)
def test_advice_on_a_level_is_no_result(text: str) -> None:
    found: list[Word] = []
    for top, cells in (*table(LEFTS, "Test|Result|Units\nSulfate|12|mg/L\nZinc|0.1|mg/L", top=60),):
        for left, cell in cells.items():
            found += words(cell, left, top)
    found += words(text, 44, 140)
    reading = read_document(pdf(Page(1, 612.0, 792.0, tuple(found))))
    assert [r.analyte for s in reading.samples for r in s.results] == ["sulfate", "zinc"]
