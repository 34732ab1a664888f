"""Where much of a sheet is unclear, its plain lines are doubted too; else not."""

from __future__ import annotations

from layout_sheets import read_csv

_HEAD = "Analyte,Result,Units\n"
_PLAIN = "Iron,0.3,mg/L\nManganese,0.02,mg/L\nChloride,12,mg/L\nSulfate,21,mg/L\n"
_CODE = "read.sheet_unclear"


def doubted(text: str) -> list[str]:
    """Return the analytes that are doubted for the sheet's sake."""
    (sample,) = read_csv(text).samples
    return [r.analyte or "" for r in sample.results if _CODE in {m.code for m in r.review}]


def test_one_unknown_line_among_four_plain_ones_says_nothing_of_them() -> None:
    assert doubted(f"{_HEAD}{_PLAIN}Zorbium,4,mg/L\n") == []


def test_three_unknown_lines_of_seven_throw_doubt_on_the_four_others() -> None:
    strange = "Zorbium,4,mg/L\nQuandrium,5,mg/L\nFelsitine,6,mg/L\n"
    told = doubted(f"{_HEAD}{_PLAIN}{strange}")
    assert told == ["iron", "manganese", "chloride", "sulfate"]


def test_a_sheet_without_units_is_no_unclear_sheet() -> None:
    assert doubted("Analyte,Result\nIron,0.3\nManganese,0.02\nChloride,12\nSulfate,21\n") == []


def test_one_column_with_a_doubtful_unit_does_not_cast_doubt_on_the_others() -> None:
    rows = "".join(f"Weir {n},{n}2,1{n}.5,4{n}250\n" for n in range(1, 7))
    reading = read_csv(f"site,enterococci_cfu_100ml,turbidity_ntu,conductivity_ms_cm\n{rows}")
    asked = {r.analyte for r in reading.results if r.review}
    assert asked == {"specific_conductance"}
