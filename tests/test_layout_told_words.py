"""A result of a sentence is framed where its words stand, not over the whole line."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from layout_sheets import page, pdf

from welltold.reading import Result
from welltold_parsers.geometry import Page
from welltold_parsers.layout import read_document

LETTER = page(
    (60.0, {40.0: "The nitrate-nitrogen content of your water was found to be 6.8 mg/L. The EPA"}),
    (
        74.0,
        {40.0: "standard is 10 mg/L. Your well was dug in 1961, and the arsenic was measured at"},
    ),
    (88.0, {40.0: "3.1 ug/L this time. No coliform bacteria were found. Please test it again."}),
)


def framed(result: Result, of: str, sheet: Page) -> str:
    """Return the words of the page that lie inside the first place of this kind."""
    left, top, right, bottom = next(p.box for p in result.where if p.of == of and p.box)
    inside = (
        w.text
        for w in sheet.words
        if left <= (w.left + w.right) / 2 <= right and top <= (w.top + w.bottom) / 2 <= bottom
    )
    return " ".join(inside)


@pytest.mark.parametrize(
    ("slug", "name", "words"),
    [
        ("nitrate", "nitrate-nitrogen", "6.8 mg/L."),
        ("arsenic", "arsenic", "3.1 ug/L"),
        ("total_coliform", "coliform bacteria", "No coliform bacteria were found."),
    ],
)
def test_the_words_that_tell_a_result_are_its_place(slug: str, name: str, words: str) -> None:
    result = _of(slug, read_document(pdf(LETTER)).results)
    assert framed(result, "label", LETTER) == name
    assert framed(result, "value", LETTER) == words


def test_a_sentence_that_says_a_row_again_is_still_known_for_one() -> None:
    sheet = page(
        (60.0, {40.0: "Test", 200.0: "Result", 300.0: "Unit"}),
        (74.0, {40.0: "Total coliform bacteria", 200.0: "3.1", 300.0: "MPN/100 mL"}),
        (
            130.0,
            {40.0: "Your sample of the kitchen contained coliform bacteria when it was tested."},
        ),
    )
    (result,) = read_document(pdf(sheet)).results
    assert framed(result, "value", sheet) == result.text == "3.1"
    assert sum(place.of == "value" for place in result.where) == 2


def _of(slug: str, results: Iterable[Result]) -> Result:
    (found,) = (r for r in results if r.analyte == slug)
    return found
