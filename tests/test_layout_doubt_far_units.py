"""A unit from afar is doubted where it stands behind its result, or others name their own."""

from __future__ import annotations

from decimal import Decimal

from welltold.reading import Box, Result, Sample, Where
from welltold_parsers.layout.doubt_far_units import doubt_far_units

VALUE: Box = (200.0, 300.0, 220.0, 310.0)
LINE: Box = (40.0, 100.0, 300.0, 110.0)
FOOT: Box = (40.0, 700.0, 180.0, 710.0)
RIGHT: Box = (240.0, 300.0, 260.0, 310.0)
OVER: Box = (195.0, 120.0, 225.0, 130.0)


def _result(unit: str, place: Box, page: int = 1) -> Result:
    where = (Where("value", 1, box=VALUE), Where("unit", page, box=place))
    return Result("iron", "Iron", "1", "value", value=Decimal(1), unit=unit, where=where)


def _doubted(*results: Result) -> list[bool]:
    found = doubt_far_units((Sample(results=results),))[0].results
    return [r.confidence < 1 for r in found]  # by itself it is too slight to ask about


def test_one_line_above_the_table_holds_for_all_of_it() -> None:
    left = _result("mg/L", (40.0, 100.0, 120.0, 110.0))
    assert _doubted(left, left, left) == [False, False, False]


def test_a_line_for_all_is_doubted_beside_rows_with_another_unit() -> None:
    far = _result("ug/L", (40.0, 100.0, 120.0, 110.0))
    near = _result("mg/L", RIGHT)
    assert _doubted(far, far, near) == [True, True, False]


def test_a_unit_below_or_on_another_page_is_doubted() -> None:
    assert _doubted(_result("mg/L", FOOT)) == [True]
    assert _doubted(_result("mg/L", (40.0, 100.0, 120.0, 110.0), page=2)) == [True]


def test_a_unit_over_the_column_is_near_and_a_line_across_the_page_is_not() -> None:
    assert _doubted(_result("mg/L", OVER), _result("ug/L", RIGHT)) == [False, False]
    assert _doubted(_result("mg/L", LINE), _result("ug/L", RIGHT)) == [True, False]
