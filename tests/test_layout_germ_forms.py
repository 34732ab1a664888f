"""Forms of bottles for germs: boxes above, a row a bottle, answers in letters."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, table

from welltold.reading import Reading
from welltold_parsers.geometry import Page
from welltold_parsers.layout import read_document
from welltold_parsers.layout.words import head_of

_LEFT = (40.0, 100.0, 220.0, 290.0, 375.0, 410.0, 500.0)
_HEAD = "Sample # | Sample Point | Sample Time | Free Cl2 (mg/L) | pH | {} | {}"
_FORM = (
    "T-1 | Raw Well 1 | 07:40 | | 7.6 | {0} | {0}\n"
    "T-2 | 12 Elm Ct, spigot | 08:31 | 1.6 | 7.8 | {1} | {0}"
)


def _form(heads: tuple[str, str], letters: tuple[str, str], *before: Page) -> Reading:
    return read_document(
        pdf(
            *before,
            page(
                (60.0, {40.0: "Analysis Requested: (check all that apply)"}),
                (75.0, {40.0: "X", 55.0: "Total Coliform/E. coli", 200.0: "Enterococci"}),
                (90.0, {40.0: "Sample Collection Date:", 170.0: "10/16/2026"}),
                (105.0, {40.0: "Lab Receipt Date & Time:", 170.0: "10/17/2026 11:15"}),
                *table(_LEFT, f"{_HEAD.format(*heads)}\n{_FORM.format(*letters)}", top=140.0),
                (260.0, {40.0: "Residual Analysis Method:", 375.0: "Average", 410.0: "of all"}),
            ),
        )
    )


def test_a_form_with_the_labs_answers_is_read_though_it_tells_what_was_requested() -> None:
    reading = _form(("Total Coliform", "E. coli"), ("A", "P"))
    told = [(r.analyte, r.text) for s in reading.samples for r in s.results]
    assert told == [
        ("ph", "7.6"),
        ("total_coliform", "A"),
        ("e_coli", "A"),
        ("free_chlorine", "1.6"),
        ("ph", "7.8"),
        ("total_coliform", "P"),
        ("e_coli", "A"),
    ]
    assert [(s.point, s.collected) for s in reading.samples] == [
        ("Raw Well 1", "2026-10-16T07:40"),
        ("12 Elm Ct, spigot", "2026-10-16T08:31"),
    ]
    assert {r.method for r in reading.results} == {None}


@pytest.mark.parametrize("letters", [("X", "X"), ("1", "2")])
def test_a_form_of_custody_with_field_readings_alone_stays_shut(letters: tuple[str, str]) -> None:
    first = page((60.0, {40.0: "Lead", 200.0: "2.1 ug/L"}))
    reading = _form(("Metals", "Bottles"), letters, first)
    assert [r.text for r in reading.results] == ["2.1 ug/L"]


def test_field_readings_are_doubted_where_a_form_of_custody_is_all_there_is() -> None:
    reading = _form(("Metals", "Bottles"), ("X", "X"))
    assert [(r.text, r.use) for r in reading.results] == [
        ("7.6", "look"),
        ("1.6", "look"),
        ("7.8", "look"),
    ]


def test_the_day_of_receipt_is_not_the_day_of_collection() -> None:
    head = head_of("Lab Receipt Date & Time")
    assert head is not None
    assert head.role == "received"
