"""Forms with small captions: numbered boxes, a framed number in a corner, several slips a page."""

from __future__ import annotations

from decimal import Decimal

from tests.layout_sheets import page, pdf, read_page, table, words

from welltold.reading import Reading
from welltold_parsers.geometry import Document, Page, Word
from welltold_parsers.layout import read_document


def _small(text: str, left: float, top: float) -> list[Word]:
    """Set a caption in letters of half the size."""
    found = []
    for word in words(text, 0.0, 0.0):
        a, b = left + word.left / 2, left + word.right / 2
        found.append(Word(word.text, a, top, b, top + 5.0))
    return found


def _boxes(top: float, captions: dict[float, str], filled: dict[float, str]) -> list[Word]:
    found = [w for left, text in captions.items() for w in _small(text, left, top)]
    return found + [w for left, text in filled.items() for w in words(text, left + 3, top + 8)]


def _page(found: list[Word]) -> Document:
    return pdf(Page(1, 612.0, 792.0, tuple(found)))


def _slip(top: float, number: str, place: str, chlorine: str, answer: str) -> list[Word]:
    found = words("Alder District Health Unit", 40, top)
    found += _small("LAB NUMBER", 480, top + 2)
    found += words("Water examination", 40, top + 14) + words(number, 483, top + 14)
    found += _boxes(
        top + 40,
        {40: "SAMPLING POINT (TAP)", 220: "DATE COLLECTED", 330: "TIME (24 HR)", 430: "CHLORINE"},
        {40: place, 220: "06/19/2026", 330: "0715", 430: chlorine},
    )
    found += words("E. coli", 40, top + 75) + words(answer, 220, top + 75)
    return found


def _two_slips() -> Reading:
    one = _slip(40.0, "B-71204", "Unit 4 kitchen", "0.6", "Absent")
    other = _slip(240.0, "B-71205", "Pump house tap", "0.4", "Present")
    return read_document(_page(one + other))


def test_each_slip_is_a_sample_with_its_number_and_place() -> None:
    told = [(s.id, s.point, s.collected) for s in _two_slips().samples]
    assert told == [
        ("B-71204", "Unit 4 kitchen", "2026-06-19T07:15"),
        ("B-71205", "Pump house tap", "2026-06-19T07:15"),
    ]


def test_the_answers_and_the_test_among_the_keys_go_to_their_slip() -> None:
    told = [[(r.label, r.value, r.present) for r in s.results] for s in _two_slips().samples]
    assert told == [
        [("CHLORINE", Decimal("0.6"), None), ("E. coli", None, False)],
        [("CHLORINE", Decimal("0.4"), None), ("E. coli", None, True)],
    ]


def test_numbers_of_boxes_are_no_part_of_the_captions() -> None:
    found = _boxes(
        60.0,
        {40: "14 SAMPLE NO.", 220: "15 DATE SAMPLED", 400: "16 TAP"},
        {40: "PW-88", 220: "10/27/2026", 400: "Laundry sink"},
    )
    found += _boxes(
        100.0,
        {40: "20 NITRATE MG/L AS N", 220: "21 LEAD UG/L", 400: "22 IRON MG/L"},
        {40: "8.7", 220: "18.6", 400: "0.05"},
    )
    found += _boxes(
        130.0,
        {40: "23 CHLORIDE MG/L", 220: "24 ARSENIC UG/L", 400: "25 SODIUM MG/L"},
        {40: "33", 220: "1.4", 400: "12"},
    )
    (sample,) = read_document(_page(found)).samples
    assert (sample.id, sample.point) == ("PW-88", "Laundry sink")
    assert {r.label: r.value for r in sample.results} == {
        "NITRATE MG/L AS N": Decimal("8.7"),
        "LEAD UG/L": Decimal("18.6"),
        "IRON MG/L": Decimal("0.05"),
        "CHLORIDE MG/L": Decimal(33),
        "ARSENIC UG/L": Decimal("1.4"),
        "SODIUM MG/L": Decimal(12),
    }


def test_a_numbered_list_of_results_keeps_its_numbers_apart() -> None:
    lines = table((40.0, 240.0, 320.0), "Test|Result|Units\n12 Copper|0.41|mg/L\n13 Lead|2|ug/L")
    told = {r.analyte: r.value for r in read_document(pdf(page(*lines))).results}
    assert told == {"copper": Decimal("0.41"), "lead": Decimal(2)}


def test_the_tool_behind_a_unit_hides_it_not() -> None:
    lines = [(60.0, {40: "Total dissolved solids, ppm (meter)", 300: "410"})]
    lines += [(75.0, {40: "Hardness, test strip", 300: "7 gpg"})]
    told = {r.analyte: (r.value, r.unit) for r in read_document(pdf(page(*lines))).results}
    assert told == {
        "total_dissolved_solids": (Decimal(410), "ppm"),
        "hardness": (Decimal(7), "gpg"),
    }


def test_a_form_that_offers_places_names_none_of_them() -> None:
    lines = [
        (60.0, {40: "Lab no.: 26-11", 300: "Collected: 9/14/2026"}),
        (75.0, {40: "Sample point:", 140: "Kitchen tap", 240: "Bath", 320: "Pressure tank"}),
        (95.0, {40: "Nitrate (as N)", 300: "6.8 mg/L"}),
    ]
    assert [s.point for s in read_document(pdf(page(*lines))).samples] == [None]


def test_a_title_that_says_unless_noted_tells_the_unit() -> None:
    lines = [
        (60.0, {40: "CHEMICAL EXAMINATION", 180: "(milligrams per liter unless noted)"}),
        (75.0, {40: "Test", 200: "Result", 300: "Limit"}),
        (90.0, {40: "Nitrate (as N)", 200: "6.8", 300: "10"}),
        (105.0, {40: "Turbidity (NTU)", 200: "4.1", 300: "5"}),
    ]
    told = [(r.analyte, r.unit) for r in read_document(pdf(page(*lines))).results]
    assert told == [("nitrate", "milligrams per liter"), ("turbidity", "NTU")]


def test_words_under_captions_of_tests_are_told_as_unread() -> None:
    found = _boxes(60.0, {40: "SAMPLE NO.", 220: "DATE SAMPLED"}, {40: "PW-8", 220: "10/27/2026"})
    found += _boxes(90.0, {40: "IRON MG/L", 220: "LEAD UG/L"}, {40: "0.05", 220: "3"})
    found += _boxes(120.0, {40: "COLOR", 220: "ODOR"}, {40: "quite clear", 220: "rotten egg"})
    reading = read_document(_page(found))
    assert [r.label for r in reading.results] == ["IRON MG/L", "LEAD UG/L"]
    assert [u.text for u in reading.unread] == ["COLOR quite clear", "ODOR rotten egg"]


def test_a_number_that_begins_as_a_controls_is_a_clients_where_it_is_the_only_one() -> None:
    slip = (
        (60.0, {50.0: "Lab Number: QC-26-3381", 300.0: "Collected: 06/19/2026"}),
        (80.0, {50.0: "Total coliform: Absent"}),
        (95.0, {50.0: "E. coli: Absent"}),
    )
    reading = read_page(*slip)
    assert [(r.analyte, r.state) for r in reading.results] == [
        ("total_coliform", "absent"),
        ("e_coli", "absent"),
    ]
    assert {r.use for r in reading.results} == {"look"}
    beside = read_page((40.0, {50.0: "Nitrate-N: 4.2 mg/L"}), *slip)
    assert [r.analyte for r in beside.results] == ["nitrate"]
