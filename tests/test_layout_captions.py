"""Cards with a caption over the number, a bar with numbers under it, and what the lab can see."""

from __future__ import annotations

from decimal import Decimal

from tests.layout_sheets import page, pdf

from welltold.reading import Reading
from welltold_parsers.layout import read_document

_Line = tuple[float, dict[float, str]]


def _row(top: float, names: tuple[str, str], values: tuple[str, str], notes: str) -> list[_Line]:
    """Two cards side by side: name, caption to the right of it, number, bar, note."""
    return [
        (top, {50: names[0], 170: "Your result", 320: names[1], 440: "Your result"}),
        (top + 14, {175: values[0], 445: values[1]}),
        (top + 28, {50: "0", 120: "0.15", 200: "0.3", 320: "0", 390: "0.15", 470: "0.3"}),
        (top + 42, {50: notes, 320: notes}),
    ]


_SEEN = "we can see down to 0.01 mg/L"


def _read() -> Reading:
    lines = [(40.0, {50: "Kit no. QX-530-77"})]
    lines += _row(80.0, ("Iron", "Manganese"), ("0.61 mg/L", "Not detected"), _SEEN)
    lines += _row(160.0, ("Fluoride", "Nitrate"), ("0.44 mg/L", "0.92 mg/L"), _SEEN)
    return read_document(pdf(page(*lines)))


def test_the_number_under_the_caption_is_the_result_and_the_bar_is_none() -> None:
    told = {r.analyte: (r.state, r.value, r.unit) for r in _read().results}
    assert told == {
        "iron": ("value", Decimal("0.61"), "mg/L"),
        "manganese": ("below", Decimal("0.01"), "mg/L"),
        "fluoride": ("value", Decimal("0.44"), "mg/L"),
        "nitrate": ("value", Decimal("0.92"), "mg/L"),
    }


def test_all_cards_are_one_sample_with_the_number_of_the_kit() -> None:
    assert [s.id for s in _read().samples] == ["QX-530-77"]


def test_a_card_whose_result_is_not_understood_is_told() -> None:
    lines = _row(80.0, ("Iron", "Manganese"), ("0.61 mg/L", "see 12 below"), _SEEN)
    lines += _row(160.0, ("Fluoride", "Nitrate"), ("0.44 mg/L", "0.92 mg/L"), _SEEN)
    reading = read_document(pdf(page(*lines)))
    assert [r.analyte for r in reading.results] == ["iron", "fluoride", "nitrate"]
    assert any("Manganese" in u.text for u in reading.unread)


def test_a_table_with_two_lists_under_result_heads_stays_a_table() -> None:
    lines = [
        (80.0, {50: "Test", 170: "Test result", 320: "Test", 440: "Test result"}),
        (95.0, {50: "Iron", 170: "0.61 mg/L", 320: "Lead", 440: "0.002 mg/L"}),
        (110.0, {50: "Zinc", 170: "0.10 mg/L", 320: "Boron", 440: "0.3 mg/L"}),
        (140.0, {50: "Test", 170: "Test result", 320: "Test", 440: "Test result"}),
        (155.0, {50: "Sulfate", 170: "21 mg/L", 320: "Chloride", 440: "12 mg/L"}),
    ]
    told = {r.analyte: r.value for r in read_document(pdf(page(*lines))).results}
    assert told == {
        "iron": Decimal("0.61"),
        "lead": Decimal("0.002"),
        "zinc": Decimal("0.10"),
        "boron": Decimal("0.3"),
        "sulfate": Decimal(21),
        "chloride": Decimal(12),
    }
