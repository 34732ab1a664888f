"""A unit in two words stays whole where it reaches under the head before its own."""

from __future__ import annotations

from layout_sheets import page, pdf

from welltold_parsers.layout import read_document

_ROWS = (
    ("Arsenic", "<0.001", "0.010"),
    ("Barium", "<0.1", "2.0"),
    ("Chloride", "14.2", "250"),
    ("Copper", "0.07", "1.3"),
    ("Fluoride", "0.22", "4.00"),
    ("Iron", "0.84", "0.30"),
    ("Lead", "<0.003", "0.015"),
    ("Manganese", "0.11", "0.05"),
    ("Zinc", "0.48", "5.0"),
)


def test_a_unit_that_is_wider_than_the_others_keeps_its_first_word() -> None:
    heads = {87.0: "Analyte", 187.0: "Test Result", 291.0: "Allowable Limit", 421.0: "Unit"}
    rows = [
        (120.0 + 15 * at, {49.0: name, 200.0: text, 318.0: limit, 420.0: "mg/L"})
        for at, (name, text, limit) in enumerate(_ROWS)
    ]
    odd = (120.0 + 15 * len(rows), {49.0: "pH", 205.0: "6.8", 405.0: "Std. Units", 514.0: "H2"})
    sheet = page((100.0, heads | {496.0: "Qualifier(s)"}), *rows, odd)
    found = {r.analyte: (r.unit, r.printed_limit) for r in read_document(pdf(sheet)).results}
    assert found["ph"] == ("Std. Units", None)
    assert found["lead"] == ("mg/L", "0.015")
