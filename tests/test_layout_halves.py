"""Raw and treated water side by side, each table under the number of its own sample."""

from __future__ import annotations

from layout_sheets import read_page, table

_LEFTS = (40.0, 150.0, 210.0, 320.0, 430.0, 490.0)
_HEADS = "Test | Result | Units | Test | Result | Units\n"
_ROWS = (
    "Iron | 3.92 | mg/L | Iron | <0.05 | mg/L\nLead | <1 | ug/L | Lead | 3 | ug/L\n"
    "MICROBIOLOGY (all in CFU/100mL) | | | | |\n"
    "Total Coliform | 12 | | Total Coliform | <1 |\nZinc | 7 | ug/L | | |"
)


def test_each_half_goes_to_the_sample_named_above_it() -> None:
    over = "RAW WATER | Lab No. 7716-A | | TREATED WATER | Lab No. 7716-B |\n"
    reading = read_page(*table(_LEFTS, over + _HEADS + _ROWS))
    assert [(s.id, s.taken) for s in reading.samples] == [("7716-A", "raw"), ("7716-B", "treated")]
    raw, treated = ([(r.analyte, r.text, r.unit) for r in s.results] for s in reading.samples)
    assert raw == [
        ("iron", "3.92", "mg/L"),
        ("lead", "<1", "ug/L"),
        ("total_coliform", "12", "CFU/100mL"),
        ("zinc", "7", "ug/L"),
    ]
    assert treated == [
        ("iron", "<0.05", "mg/L"),
        ("lead", "3", "ug/L"),
        ("total_coliform", "<1", "CFU/100mL"),
    ]
    assert not any(r.review for s in reading.samples for r in s.results)


def test_halves_without_numbers_above_them_are_doubted() -> None:
    reading = read_page(*table(_LEFTS, _HEADS + _ROWS))
    told = {r.analyte: r.use for s in reading.samples for r in s.results}
    assert {told[name] for name in ("iron", "lead", "total_coliform")} == {"look"}
