"""Names of a printed spreadsheet that run into the cell beside them, without a blank between."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, table

from welltold.reading import Reading
from welltold_parsers.layout import read_document

LEFTS = (40.0, 136.0, 206.0, 276.0)
"""Where the heads stand; "Nitrogen, Ammonia (a" ends at 135.6, by five points a letter."""


def printed(rows: str, *, top: float = 100.0) -> list[tuple[float, dict[float, str]]]:
    """Return lines with the names on the left of their cells and the values on the right."""
    lines = []
    for at, row in enumerate(rows.strip().splitlines()):
        name, *values = (cell.strip() for cell in row.split("|"))
        ends = [edge + 64.0 - 5.0 * len(v) for edge, v in zip(LEFTS[1:], values, strict=True)]
        cells = {LEFTS[0]: name} | {x: v for x, v in zip(ends, values, strict=True) if v}
        lines.append((top + 14.0 * at, cells))
    return lines


def read(rows: str, heads: str) -> Reading:
    return read_document(pdf(page(*table(LEFTS, heads, top=72.0, pitch=13.0), *printed(rows))))


def test_an_answer_that_touches_the_name_before_it_moves_no_other_value() -> None:
    heads = "Sample ID | S-1 | S-2 | S-3\nParameter (mg/L) | Barn | House | Spring"
    rows = """
Nitrogen, Ammonia (aN/A | | 0.257 | 0.112
Sulfate | 10.7 | 37 | 30
Fluoride | 1.2 | 0.4 | 0.19
Bromide | 0.18 | 0.2 | 0.065
"""
    found = {s.id: [brief(r)[:2] for r in s.results] for s in read(rows, heads).samples}
    # as printed: ammonia of S-1 was not tested
    assert found["S-1"][-3:] == [("sulfate", "10.7"), ("fluoride", "1.2"), ("bromide", "0.18")]
    assert found["S-2"] == [
        ("ammonia", "0.257"),
        ("sulfate", "37"),
        ("fluoride", "0.4"),
        ("bromide", "0.2"),
    ]
    assert found["S-3"][1:] == [("sulfate", "30"), ("fluoride", "0.19"), ("bromide", "0.065")]


def test_a_cut_name_before_its_number_is_read_and_asked_about() -> None:
    heads = "Substance | Measured | Unit | Procedure"
    rows = """
Sulfate | 42.7 | mg/L | EPA 300.0
Nitrogen, Ammonia (a0.257 | | mg/L | EPA 350.1
Sodium, Total | 8.1 | mg/L | EPA 200.7
Iron, Total | 4.03 | mg/L | EPA 200.7
"""
    results = read(rows, heads).results
    assert [(r.analyte, r.text) for r in results] == [
        ("sulfate", "42.7"),
        ("ammonia", "0.257"),
        ("sodium", "8.1"),
        ("iron", "4.03"),
    ]
    assert [r.use for r in results] == ["as_is", "look", "as_is", "as_is"]


def test_a_number_of_a_sample_is_not_parted_at_an_edge() -> None:
    # "2408417-27" stands across the edge of the second column, in the heading of the next sample
    heads = "Analyte | Result | Unit | Method"
    rows = "Lead | 19.4 | ug/L | EPA 200.8\nCopper | 321 | ug/L | EPA 200.8"
    second = (142.0, {40.0: "1508 Poplar Ave", 110.0: "2408417-27", 200.0: "Sampled: 08/26/24"})
    lines = [
        *table(LEFTS, heads, top=72.0),
        *printed(rows),
        second,
        *table(LEFTS, heads, top=160.0),
        *printed(rows, top=188.0),
    ]
    reading = read_document(pdf(page(*lines)))
    assert "2408417-" not in {s.id for s in reading.samples}
