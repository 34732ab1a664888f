"""A head that tells the place under two keys is of one sample; a remark repeats its result."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, read_page, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

Lines = list[tuple[float, dict[float, str]]]
ROWS = table(
    (40, 220, 300), "Determinand|Result|Units\nChloride|19|mg/l\nLead Total|12.1|ug/l", 200
)


def head(*pairs: tuple[str, str]) -> Lines:
    return [(60.0 + 14 * n, {40: key, 150: value}) for n, (key, value) in enumerate(pairs)]


def samples(reading: Reading) -> list[tuple[str | None, str | None, str | None, int]]:
    return [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples]


NUMBER = ("Sample No.:", "4410926")
DAY = ("Sampled:", "15/10/2026")
TAP = ("Sampling point:", "Kitchen tap, High Moss")


@pytest.mark.parametrize(
    "pairs",
    [
        (NUMBER, DAY, TAP, ("Source:", "Borehole, UV treated")),
        (NUMBER, ("Source:", "Borehole, UV treated"), DAY, TAP),
        (NUMBER, DAY, ("Site:", "12 High Moss Road"), ("Source:", "Kitchen tap, High Moss")),
        (("Location:", "High Moss Farm"), NUMBER, DAY, ("Tap location:", "Kitchen tap, High Moss")),
    ],
)
def test_two_keys_of_the_place_are_of_one_sample(pairs: tuple[tuple[str, str], ...]) -> None:
    """The number of the sample stays; the place nearest to the bottle is told."""
    reading = read_page(*head(*pairs), *ROWS)
    assert samples(reading) == [("4410926", "Kitchen tap, High Moss", "2026-10-15", 2)]


def test_the_same_key_again_is_the_next_of_a_list() -> None:
    """A list of two places, then the results of the second, which its number names."""
    listed = head(
        ("Sample point:", "Barn"),
        ("Lab ID:", "A-1"),
        ("Sample point:", "House"),
        ("Lab ID:", "A-2"),
    )
    reading = read_page(*listed, *ROWS)
    assert samples(reading) == [("A-2", "House", None, 2)]


def test_a_remark_on_the_next_page_repeats_a_result() -> None:
    """The remark names no fraction, the row does: it is one result, with both places."""
    remark = (90.0, {40: "Lead at 12.1 ug/l was found in the first draw."})
    first = page(*head(NUMBER, DAY, TAP), *ROWS)
    reading = read_document(pdf(first, page(*head(NUMBER), remark, number=2)))
    assert samples(reading) == [("4410926", "Kitchen tap, High Moss", "2026-10-15", 2)]
    lead = next(r for r in reading.samples[0].results if r.analyte == "lead")
    assert {w.page for w in lead.where} == {1, 2}
    assert not lead.review


def test_a_remark_with_another_number_stays() -> None:
    remark = (90.0, {40: "Lead at 14.1 ug/l was found in the first draw."})
    first = page(*head(NUMBER, DAY, TAP), *ROWS)
    reading = read_document(pdf(first, page(*head(NUMBER), remark, number=2)))
    told = [r.text for s in reading.samples for r in s.results if r.analyte == "lead"]
    assert len(told) == 2
