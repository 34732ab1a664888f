"""A summary of what was found, with a line over each sample's rows, repeats the detail pages."""

from __future__ import annotations

import pytest
from layout_sheets import page, pdf, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

Lines = list[tuple[float, dict[float, str]]]
DETAIL = (40, 200, 260, 320, 400)


def read(first: str, second: str) -> Reading:
    """Read a summary whose lines over the samples begin under one head and end under another."""
    lefts = (40, 197, 225, 260, 330, 400)
    summary: Lines = [
        (60.0, {40: "SUMMARY OF DETECTED COMPOUNDS"}),
        *table(lefts, "Analyte|Result|Qual|RL|Units|Method", top=80),
        (95.0, {40: "Kitchen Tap - 114 Alder Rd", 190: first}),
        *table(
            lefts,
            "Arsenic|13.6||0.50|ug/L|EPA 200.8, Total\nLead|0.31|J|0.50|ug/L|EPA 200.8, Total",
            top=110,
        ),
        (140.0, {40: "Pressure Tank - 114 Alder Rd", 190: second}),
        *table(
            lefts,
            "Arsenic|14.2||0.50|ug/L|EPA 200.8, Total\n"
            "Arsenic|13.9||0.50|ug/L|EPA 200.8, Dissolved (field filtered)",
            top=155,
        ),
    ]
    kitchen: Lines = [
        (60.0, {40: "Kitchen Tap - 114 Alder Rd", 200: first, 400: "Sampled: 11/03/26 08:40"}),
        *table(
            DETAIL,
            "Analyte|Result|RL|Units|Notes\nArsenic|13.6|0.50|ug/L|\nLead|0.31|0.50|ug/L|J\n"
            "Zinc|ND|5.0|ug/L|",
        ),
    ]
    tank: Lines = [
        (60.0, {40: "Pressure Tank - 114 Alder Rd", 200: second, 400: "Sampled: 11/03/26 08:55"}),
        *table(DETAIL, "Analyte|Result|RL|Units|Notes\nArsenic|14.2|0.50|ug/L|", top=90),
        (125.0, {40: "Metals by EPA 200.8, Dissolved (field filtered)"}),
        *table(DETAIL, "Arsenic|13.9|0.50|ug/L|", top=140),
    ]
    return read_document(
        pdf(page(*summary), page(*kitchen, number=2), page(*tank, number=3)),
    )


@pytest.mark.parametrize(
    ("one", "two"),
    [("26K0417-01", "26K0417-02"), ("RC-90411-1", "RC-90411-2"), ("2408417-01", "2408417-02")],
)
def test_each_result_is_told_once(one: str, two: str) -> None:
    """The number of a sample is whole, though the edge of a column runs through it."""
    reading = read(f"Lab ID: {one}", f"Lab ID: {two}")
    told = {
        s.id: sorted((r.analyte or "", r.text, r.fraction or "total") for r in s.results)
        for s in reading.samples
    }
    assert told == {
        one: [("arsenic", "13.6", "total"), ("lead", "0.31", "total"), ("zinc", "ND", "total")],
        two: [("arsenic", "13.9", "dissolved"), ("arsenic", "14.2", "total")],
    }
    assert not any(r.review for s in reading.samples for r in s.results if r.text != "ND")
