"""Earlier sheets of a well: matched by tap, put into one unit, never compared where it misleads."""

from __future__ import annotations

from typing import Any

import pytest
from history_sheets import D, arsenic, codes, earlier_of, nitrate, only, sheet_of, view
from report_making import note, sample, view_of

from welltold.earlier import with_earlier
from welltold.jsonform import to_jsonable

# -- values ---------------------------------------------------------------------------------------


def test_without_earlier_sheets_nothing_is_added() -> None:
    now = view(nitrate("8"))
    assert with_earlier(now, ()) is now
    assert "earlier" not in to_jsonable(now)["samples"][0]


@pytest.mark.parametrize(
    ("row", "value"),
    [
        (arsenic("4.0", unit="ug/L", levels=()), "0.0040"),
        (arsenic("12000", unit="ng/L", levels=()), "0.012"),
        (arsenic("0.004"), "0.004"),
    ],
)
def test_an_earlier_value_is_put_into_the_present_unit(row: dict[str, Any], value: str) -> None:
    result = only(view(arsenic("0.012")), view(row, day="2024-06-01", sha="b"))
    assert result.comparable
    assert result.value == D(value)


def test_nitrate_as_nitrate_is_put_onto_nitrogen() -> None:
    """62.0049 g/mol of NO3 hold 14.0067 g of N (IUPAC 2021): 44.268 mg/L as NO3 is 10.00 as N."""
    before = view(nitrate("44.268", basis="NO3", levels=()), day="2024-06-01", sha="b")
    result = only(view(nitrate("8")), before)
    assert result.value is not None
    assert abs(result.value - D(10)) < D("0.001")


def test_what_was_not_found_keeps_its_limit_and_its_sign() -> None:
    result = only(view(arsenic("0.012")), view(arsenic("<0.005", operator="<"), sha="b"))
    assert (result.operator, result.value, result.comparable) == ("<", D("0.005"), True)


CANNOT = {
    "no_day": (nitrate("8"), nitrate("7"), {"day": None}),
    "unit": (nitrate("8"), nitrate("7", unit="pCi/L", basis=None, levels=()), {}),
    "look": (nitrate("8"), nitrate("7", review=(note("smudged"),)), {}),
    "fraction": (arsenic("0.012", fraction="total"), arsenic("0.004", fraction="dissolved"), {}),
}


@pytest.mark.parametrize("case", CANNOT)
def test_what_cannot_be_compared_is_told(case: str) -> None:
    now, then, more = CANNOT[case]
    result = only(view(dict(now)), view(dict(then), sha="b", **more))
    assert not result.comparable
    assert codes(result) == {case}


@pytest.mark.parametrize(
    ("slug", "now", "then", "told"),
    [
        ("nitrate", "raw", "treated", True),
        ("nitrate", "raw", "flushed", False),
        ("nitrate", "first_draw", "flushed", False),
        ("lead", "first_draw", "flushed", True),
        ("copper", "flushed", "first_draw", True),
        ("lead", None, "first_draw", False),
    ],
)
def test_water_drawn_in_another_way(slug: str, now: Any, then: Any, *, told: bool) -> None:
    """Treatment changes everything; standing in the pipes what the pipes give off."""
    row = {"slug": slug, "value": D(5), "text": "5", "unit": "mg/L"}
    result = only(view(dict(row), taken=now), view(dict(row), taken=then, sha="b"))
    assert (codes(result) == {"taken"}) is told


def test_germs_are_compared_as_found_or_not() -> None:
    row = {"slug": "total_coliform", "text": "Present", "present": True}
    then = {"slug": "total_coliform", "text": "Absent", "present": False}
    result = only(view(row), view(then, sha="b"))
    assert (result.comparable, result.present) == (True, False)


# -- which samples --------------------------------------------------------------------------------


def test_the_same_sheet_is_not_its_own_past() -> None:
    (sheet,) = earlier_of(view(nitrate("8")), view(nitrate("8"))).sheets
    assert not sheet.matched
    assert [one.code for one in sheet.why] == ["earlier.same_sheet"]


def test_samples_of_one_tap_are_found_by_its_name() -> None:
    """The words that only tell how it was drawn do not count as another place."""
    now = view(nitrate("8"), point="Kitchen tap")
    rows = [
        sample(sheet_of(nitrate(text)), id_, point)
        for text, id_, point in (("1", "A", "Barn"), ("7", "B", "KITCHEN TAP"), ("2", "C", None))
    ]
    before = view_of(*rows)
    found = earlier_of(now, before)
    assert [(one.sample, one.matched) for one in found.sheets] == [("B", True)]
    assert found.analytes[0].results[0].value == D(7)


def test_no_sample_is_guessed_among_several() -> None:
    before = view_of(
        *(
            sample(sheet_of(nitrate(text)), text, point)
            for text, point in (("1", "Barn"), ("2", ""))
        )
    )
    (sheet,) = earlier_of(view(nitrate("8"), point="Kitchen tap"), before).sheets
    assert [one.code for one in sheet.why] == ["earlier.no_match"]


def test_two_single_samples_are_taken_for_one_well_and_other_names_are_told() -> None:
    now = view(nitrate("8"), point="Kitchen tap")
    (sheet,) = earlier_of(now, view(nitrate("7"), sha="b", point="Well head")).sheets
    assert sheet.matched
    assert [one.code for one in sheet.why] == ["earlier.only_samples", "earlier.other_name"]


def test_a_newer_sheet_is_told() -> None:
    (sheet,) = earlier_of(view(nitrate("8")), view(nitrate("7"), sha="b", day="2026-12-01")).sheets
    assert "earlier.newer" in [one.code for one in sheet.why]


def test_results_stand_in_order_of_time() -> None:
    days = ["2024-01-05", "2019-01-05", "2025-01-05", "2021-01-05"]
    before = [view(nitrate("7"), day=day, sha=str(at)) for at, day in enumerate(days)]
    (history,) = earlier_of(view(nitrate("8")), *before).analytes
    assert [one.collected for one in history.results] == sorted(days)
