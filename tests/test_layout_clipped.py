"""Names of a printed spreadsheet that run into the cell beside them, without a blank between."""

from __future__ import annotations

from layout_sheets import brief, page, pdf, table

from welltold.reading import Reading
from welltold_parsers.geometry import Word
from welltold_parsers.layout import read_document
from welltold_parsers.layout.pitch import one_blank

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


def test_none_detected_across_an_edge_never_becomes_detected() -> None:
    # by hand: "None Detected" ends with the numbers and begins left of the head of its column
    rows = (
        "CAS | Component | Comment | Results | Limit\n14797-65-0 | Nitrite | | | 1\n"
        "7439-89-6 | Iron | above limit | | 0.3\n7440-23-5 | Sodium | | |\n"
        "7440-36-0 | Antimony | | | 6\n7440-39-3 | Barium | | | 2\n"
    )
    lines = table((40, 120, 220, 300, 370), rows)
    values = ["", "None Detected", "0.547", "11.7", "None Detected", "7.8"]
    for (_, cells), value in zip(lines[1:], values[1:], strict=True):
        cells[335.0 - 5.0 * len(value.replace(" ", "")) - 2.8 * value.count(" ")] = value
    above = (70.0, {40.0: "All results in ug/L"})
    results = read_document(pdf(page(above, *lines))).results
    assert [(r.analyte, r.text, r.operator) for r in results] == [
        ("nitrite", "None Detected", "<"),
        ("iron", "0.547", "="),
        ("sodium", "11.7", "="),
        ("antimony", "None Detected", "<"),
        ("barium", "7.8", "="),
    ]


def test_columns_of_a_typed_page_little_more_than_a_blank_apart_stay_two() -> None:
    # letters of 5.4 points: the word after one blank begins at 332.4 + 5 * 5.4 = 359.4
    value = Word("1.67", 332.4, 94.0, 354.0, 105.7)
    assert one_blank(value, Word("mg", 359.4, 94.0, 370.2, 105.7), (5.4,))
    assert not one_blank(value, Word("EPA", 360.0, 94.0, 376.2, 105.7), (5.4,))


def test_detected_under_none_is_the_rest_of_the_answer() -> None:
    rows = "Test | Observed | Units\nToluene | None | ug/l\nStyrene | 1.2 | ug/l\n"
    rows += "Bromoform | None | ug/l"
    lines = table((40, 160, 240), rows, pitch=30.0)
    lines += [(142.0, {160.0: "Detected"}), (202.0, {160.0: "Detected"})]
    results = read_document(pdf(page(*sorted(lines, key=lambda line: line[0])))).results
    assert [(r.analyte, r.text, r.operator) for r in results] == [
        ("toluene", "None Detected", "<"),
        ("styrene", "1.2", "="),
        ("bromoform", "None Detected", "<"),
    ]


def test_a_chemical_that_is_only_detected_asks_for_a_look() -> None:
    rows = "Test | Result | Units\nToluene | Detected | ug/l\nE. coli | Detected | CFU/100 mL"
    results = read_document(pdf(page(*table((40, 160, 240), rows)))).results
    assert [(r.present, r.use) for r in results] == [(True, "look"), (True, "as_is")]


def test_a_value_that_touches_its_method_ends_no_table() -> None:
    # counted by hand: four rows, the last two with a cut name and a number beside its method
    heads = "Parameter | Result | Method | Units"
    rows = """
Sulfate | 42.7 | EPA 300.0 | mg/L
Sodium, Total | 8.1 | EPA 200.7 | mg/L
"""
    lines = [*table(LEFTS, heads, top=72.0), *printed(rows, top=88.0)]
    for at, (name, value) in enumerate({"Nitrogen, Ammonia (a": "0.303"}.items()):
        cells = {40.0: name, 177.0: f"{value} EPA 350.1", 320.0: "mg/L"}
        lines.append((116.0 + 14 * at, cells))
    results = read_document(pdf(page(*lines))).results
    assert [(r.analyte, r.text) for r in results] == [
        ("sulfate", "42.7"),
        ("sodium", "8.1"),
        ("ammonia", "0.303"),
    ]
