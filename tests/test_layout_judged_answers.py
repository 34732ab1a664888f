"""An answer with the laboratory's judgement behind or before it is that answer."""

from __future__ import annotations

import pytest
from tests.layout_sheets import page, pdf, read_csv

from welltold_parsers.layout import read_document


@pytest.mark.parametrize(
    ("printed", "present"),
    [
        ("PRESENT (Unsafe)", True),
        ("Present - Unsatisfactory", True),
        ("Positive / Fail", True),
        ("ABSENT - SAFE", False),
        ("Absent (satisfactory)", False),
        ("Safe (absent)", False),
        ("Not detected / Pass", False),
    ],
)
def test_the_answer_counts_and_the_judgement_goes_with_it(printed: str, present: bool) -> None:
    reading = read_csv(
        f"Test,Result,Method\nTotal Coliform,{printed},SM 9223B\nE. coli,Absent,SM\n"
    )
    first, second = reading.results
    assert (first.analyte, first.present, first.text) == ("total_coliform", present, printed)
    assert second.present is False


def test_a_pair_on_a_page_is_read_too() -> None:
    reading = read_document(pdf(page((60.0, {40.0: "Total Coliform Bacteria = Present (unsafe)"}))))
    assert [(r.analyte, r.present) for r in reading.results] == [("total_coliform", True)]


@pytest.mark.parametrize("printed", ["Present - Safe", "Absent / Fail", "Unsafe", "Satisfactory"])
def test_a_judgement_alone_or_against_the_answer_is_left_to_a_person(printed: str) -> None:
    reading = read_csv(
        f"Test,Result,Method\nTotal Coliform,{printed},SM 9223B\nE. coli,Absent,SM\n"
    )
    assert [r.analyte for r in reading.results if r.use == "as_is"] == ["e_coli"]
    told = [u.text for u in reading.unread] + [r.text for r in reading.results if r.use == "look"]
    assert any(printed in text for text in told)
