"""What a letter says of this water, and what it says of other wells, other days and standards."""

from __future__ import annotations

from decimal import Decimal

from tests.layout_sheets import page, pdf

from welltold.reading import Reading
from welltold_parsers.layout import read_document


def _read(*lines: str) -> Reading:
    placed = [(60.0 + 14 * at, {40.0: text}) for at, text in enumerate(lines)]
    return read_document(pdf(page(*placed)))


def _told(reading: Reading) -> list[tuple[str | None, Decimal | None, bool | None]]:
    return [(r.analyte, r.value, r.present) for r in reading.results]


def test_an_answer_behind_words_between_commas_is_read() -> None:
    told = _told(_read("The test for E. coli, which is the sign of sewage, was negative."))
    assert told == [("e_coli", None, False)]


def test_a_result_compared_with_a_standard_is_read_and_the_next_sentences_too() -> None:
    told = _told(
        _read(
            "Arsenic was measured at 6.1 µg/L, below the standard of 10 µg/L. Lead was <1 µg/L.",
            "Iron was 0.9 mg/L in your water, which surprised the two of us very much.",
        )
    )
    assert told == [
        ("arsenic", Decimal("6.1"), None),
        ("lead", Decimal(1), None),
        ("iron", Decimal("0.9"), None),
    ]


def test_your_water_has_speaks_of_the_only_test_of_the_paragraph_and_is_asked_about() -> None:
    reading = _read(
        "Since several wells had arsenic above the standard of 10 parts per billion, we tested.",
        "Your water has 3.7 parts per billion, which is below the standard.",
    )
    assert _told(reading) == [("arsenic", Decimal("3.7"), None)]
    assert [m.code for m in reading.results[0].review] == ["read.sentence"]


def test_other_wells_and_other_days_are_no_results() -> None:
    reading = _read(
        "Water in this township commonly has 15 mg/L of nitrate nitrogen in the summer.",
        "When the well was sampled in July by the driller coliform bacteria were absent.",
        "When your well was last tested, in June 2025, nitrate nitrogen was 5.2 mg/L.",
    )
    assert _told(reading) == []


def test_the_number_and_the_day_of_the_sample_are_told_in_the_first_sentence() -> None:
    reading = _read(
        "On April 14, 2026 our sanitarian collected a sample (laboratory number 26-0933-A) there.",
        "The chloride concentration was 12 mg/L in the sample that was taken from it.",
    )
    (sample,) = reading.samples
    assert (sample.id, sample.collected) == ("26-0933-A", "2026-04-14")


def test_the_number_of_the_previous_sample_is_not_this_one_s() -> None:
    reading = _read(
        "The chloride concentration was 12 mg/L in the sample that was taken from it.",
        "Previous sample of this supply: 5/3/2021, lab no. 21-04417, nitrate 5.9 mg/L.",
    )
    (sample,) = reading.samples
    assert (sample.id, sample.point) == (None, None)
    assert _told(reading) == [("chloride", Decimal(12), None)]
