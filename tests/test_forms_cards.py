"""Kit cards, captions in the corner of a box, and what a typewriter filled in."""

from __future__ import annotations

import pytest
from layout_sheets import HIGH, WIDE, brief, page, pdf, read_page, table, words

from welltold.reading import Reading
from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

CARD = [
    (60.0, {40.0: "Kit no. 55120", 250.0: "Sample location: Bar sink"}),
    (90.0, {40.0: "Iron", 180.0: "Copper", 320.0: "Lead"}),
    (105.0, {40.0: "0.3 ppm", 180.0: "< 0.1 ppm", 320.0: "< 5 ppb"}),
    (120.0, {40.0: "Goal: 0.3 max", 180.0: "Goal: 1.3 max", 320.0: "Goal: 15 max"}),
    (145.0, {40.0: "pH", 180.0: "Nitrate-N", 320.0: "Coliform Bacteria"}),
    (160.0, {40.0: "7.2", 180.0: "3 ppm", 320.0: "Negative"}),
    (175.0, {40.0: "Goal: 6.5 - 8.5", 180.0: "Goal: under 10", 320.0: "Goal: Negative"}),
]
TOLD = [
    ("iron", "0.3", "ppm", None),
    ("copper", "<0.1", "ppm", None),
    ("lead", "<5", "ppb", None),
    ("ph", "7.2", None, None),
    ("nitrate", "3", "ppm", "N"),
    ("total_coliform", "absent", None, None),
]


def values(reading: Reading) -> list[tuple[str | None, str, str | None, str | None]]:
    return [brief(r) for r in reading.results]


def test_a_card_of_boxes_is_read_box_by_box() -> None:
    reading = read_page(*CARD)
    assert values(reading) == TOLD
    assert reading.unread == ()
    assert [r.review for r in reading.results] == [()] * 6
    (sample,) = reading.samples
    assert (sample.id, sample.point) == ("55120", "Bar sink")
    (iron,) = (w for w in reading.results[0].where if w.of == "value")
    # "0.3" is 15 wide, the blank 2.8, "ppm" 15.
    assert iron.box == (40.0, 105.0, 72.8, 116.0)


def test_what_stands_close_below_the_last_boxes_belongs_to_none_of_them() -> None:
    foot = (
        "Tested by Skerry Point Laboratory. ppm = mg/L. ppb = parts per billion, one in a billion."
    )
    assert values(read_page(*CARD, (190.0, {40.0: foot}))) == TOLD


def test_the_number_may_stand_above_its_name() -> None:
    above = [CARD[0]]
    for top, at in ((90.0, 1), (145.0, 4)):
        above += [(top, CARD[at + 1][1]), (top + 15, CARD[at][1]), (top + 30, CARD[at + 2][1])]
    assert values(read_page(*above)) == TOLD


def test_units_may_have_a_line_of_their_own_in_each_box() -> None:
    lines = [
        (90.0, {40.0: "Iron", 180.0: "Copper"}),
        (105.0, {40.0: "0.3", 180.0: "0.1"}),
        (120.0, {40.0: "ppm", 180.0: "ppb"}),
        (145.0, {40.0: "Lead", 180.0: "pH"}),
        (160.0, {40.0: "5", 180.0: "7.1"}),
        (175.0, {40.0: "ppb"}),
    ]
    assert values(read_page(*lines)) == [
        ("iron", "0.3", "ppm", None),
        ("copper", "0.1", "ppb", None),
        ("lead", "5", "ppb", None),
        ("ph", "7.1", None, None),
    ]


def test_a_box_without_a_number_gives_nothing_and_none_of_its_neighbours() -> None:
    lines = [(top, dict(cells)) for top, cells in CARD]
    del lines[2][1][180.0]
    assert [r.analyte for r in read_page(*lines).results] == [
        "iron",
        "lead",
        "ph",
        "nitrate",
        "total_coliform",
    ]


def test_two_samples_below_their_heads_are_no_card() -> None:
    rows = "Sample | Iron (mg/L) | Lead (ug/L)\nBarn | 0.3 | 5\nHouse | 0.1 | 2"
    reading = read_page(*table((40.0, 180.0, 320.0), rows))
    assert [(s.id, len(s.results)) for s in reading.samples] == [("Barn", 2), ("House", 2)]


def small(text: str, left: float, top: float) -> list[Word]:
    """Set a caption in letters of half the size."""
    found = []
    for piece in text.split():
        right = left + WIDE / 2 * len(piece)
        found.append(Word(piece, left, top, right, top + HIGH / 2))
        left = right + 1.4
    return found


@pytest.mark.parametrize("house", ["Property", "Street address"])
def test_captions_in_small_type_are_keys_of_what_stands_below(house: str) -> None:
    boxes = {
        (40.0, 60.0): (house, "12 Gull Way"),
        (300.0, 60.0): ("Lab number", "OB-771"),
        (40.0, 84.0): ("Sampling point", "Kitchen faucet"),
        (300.0, 84.0): ("Date collected", "9/14/2026"),
    }
    made = [w for (x, y), (cap, _) in boxes.items() for w in small(cap, x, y)]
    made += [w for (x, y), (_, text) in boxes.items() for w in words(text, x, y + 8)]
    made += words("Lead: 1.2 ug/L", 40.0, 140.0)
    reading = read_document(pdf(Page(1, 612.0, 792.0, tuple(made))))
    (sample,) = reading.samples
    assert (sample.id, sample.point, sample.collected) == (
        "OB-771",
        "Kitchen faucet",
        "2026-09-14",
    )


def test_one_row_of_keys_is_a_form_where_a_test_follows() -> None:
    reading = read_page(
        (60.0, {40.0: "SAMPLE NO", 200.0: "SAMPLING POINT", 380.0: "DATE COLLECTED"}),
        (72.0, {40.0: "BA-20177", 200.0: "Barn hydrant", 380.0: "08/22/2026"}),
        (110.0, {40.0: "Total Coliform", 200.0: "☒ ABSENT", 300.0: "☐ PRESENT"}),
    )
    (sample,) = reading.samples
    assert (sample.id, sample.point, [r.present for r in sample.results]) == (
        "BA-20177",
        "Barn hydrant",
        [False],
    )


def test_what_a_typewriter_filled_in_keeps_its_words_together() -> None:
    def typed(text: str, left: float, top: float) -> list[Word]:
        """Set letters 6 wide, blanks as wide as letters."""
        found, at = [], 0
        for piece in text.split(" "):
            x = left + 6 * at
            found.append(Word(piece, x, top, x + 6 * len(piece), top + HIGH))
            at += len(piece) + 1
        return found

    made = list(page((60.0, {40.0: "SAMPLING POINT", 300.0: "LAB NUMBER"})).words)
    made += typed("Kitchen tap by the stairs", 40.0, 72.0) + typed("BW-220", 300.0, 72.0)
    made += page((110.0, {40.0: "Lead", 300.0: "1.2 ug/L"})).words
    made += words("Please call the office if you have any questions", 40.0, 140.0)
    reading = read_document(pdf(Page(1, 612.0, 792.0, tuple(made))))
    assert [s.point for s in reading.samples] == ["Kitchen tap by the stairs"]


def test_printed_choices_behind_a_key_name_no_place() -> None:
    reading = read_page(
        (60.0, {40.0: "Sample ID: A-17", 200.0: "Sampling point: Kitchen tap"}),
        (
            80.0,
            {
                40.0: "Supply type:",
                120.0: "Drilled",
                190.0: "Dug",
                250.0: "Spring",
                320.0: "Cistern",
            },
        ),
        (110.0, {40.0: "Lead: 1.2 ug/L"}),
    )
    assert [(s.id, s.point) for s in reading.samples] == [("A-17", "Kitchen tap")]
