"""Cells of two lines: a question in a head, an hour over its half of the day."""

from __future__ import annotations

import pytest
from tests.layout_sheets import page, pdf

from welltold_parsers.layout import read_document

_HEAD = (
    (60.0, {40.0: "Sample", 120.0: "Outlet", 300.0: "First draw Lead", 500.0: "Above 5"}),
    (72.0, {40.0: "No.", 310.0: "(ppb)", 505.0: "ppb?"}),
)
_ROWS = (
    ("HM-001", "Rm 101 sink bubbler", "2.1", "No"),
    ("HM-002", "Rm 103 sink", "<1.0", "No"),
    ("HM-003", "Kitchen sink", "18.6", "YES"),
    ("HM-004", "Hall by gym", "4.4", "No"),
)


@pytest.mark.parametrize("begun", ["Above 5", "Over 15", "> 5", "Exceeds 5"])
def test_a_question_on_two_lines_of_a_head_is_no_result(begun: str) -> None:
    first, second = _HEAD
    head = ((first[0], {**first[1], 500.0: begun}), second)
    rows = [
        (90.0 + 14 * at, {40.0: number, 120.0: tap, 310.0: value, 505.0: answer})
        for at, (number, tap, value, answer) in enumerate(_ROWS)
    ]
    reading = read_document(pdf(page(*head, *rows)))
    assert [(s.id, s.results[0].text) for s in reading.samples] == [
        (number, value) for number, _, value, _ in _ROWS
    ]
    assert {r.unit for r in reading.results} == {"ppb"}


def test_the_half_of_the_day_below_an_hour_is_no_part_of_the_number_beside_it() -> None:
    head = (60.0, {40.0: "Sample", 120.0: "Outlet", 240.0: "Time", 300.0: "First draw Lead (ppb)"})
    rows = []
    for at, (number, tap, value, _) in enumerate(_ROWS):
        top = 90.0 + 30 * at
        row = {40.0: number, 120.0: tap, 310.0: value}
        rows += [(top, {240.0: f"6:0{at}"}), (top + 5, row), (top + 10, {240.0: "AM"})]
    reading = read_document(pdf(page(head, *rows)))
    told = [(s.id, r.text) for s in reading.samples for r in s.results]
    assert told == [(number, value) for number, _, value, _ in _ROWS]
