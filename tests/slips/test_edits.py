"""Edits of one row: each is one slip away, and the same slip leads back."""

from __future__ import annotations

from decimal import Decimal

import pytest
from checks.made import row
from hypothesis import given
from hypothesis import strategies as st

from welltold.reading import Result
from welltold.slips.edits import Edit, edits

PRINTED = st.integers(1, 99999).flatmap(
    lambda digits: st.integers(0, 3).map(lambda places: Decimal(digits).scaleb(-places))
)


def of(result: Result, kind: str) -> list[Edit]:
    return [one for one in edits([result], [0]) if one.kind == kind]


def read(edit: Edit) -> tuple[Decimal | None, str | None]:
    return edit.rows[0][1].value, edit.rows[0][1].unit


@given(PRINTED)
def test_the_same_slip_leads_back(value: Decimal) -> None:
    printed = row("chloride", f"{value:f}")
    assert printed.value == value
    for kind in ("decimal", "digit", "unit"):
        for one in of(printed, kind):
            back = [read(other) for other in of(one.rows[0][1], kind)]
            assert (value, "mg/L") in back, (kind, read(one))


@given(PRINTED)
def test_an_edit_changes_the_number_or_what_it_counts_and_nothing_else(value: Decimal) -> None:
    printed = row("nitrate", f"{value:f}", reporting_limit=value)
    for one in edits([printed], [0]):
        ((at, then),) = one.rows
        assert at == 0
        changed = [
            name
            for name in ("value", "unit", "basis", "state")
            if getattr(then, name) != getattr(printed, name)
        ]
        assert len(changed) == 1
        assert (then.label, then.where, then.method) == (printed.label, printed.where, None)
        assert then.value is not None
        assert then.text == f"{'<' if then.state == 'below' else ''}{then.value:f}"
        assert 0 < one.weight < 0.05


@pytest.mark.parametrize(
    ("text", "confused"),
    [
        # pairs of data/slips.csv: 0-6 0-8 1-4 1-7 2-7 3-5 3-8 4-9 5-6 6-8
        ("17", {"47", "77", "11", "12"}),
        ("803", {"603", "303", "863", "883", "805", "808"}),
        ("2.0", {"7.0", "2.6", "2.8"}),
        ("6", {"5", "8"}),  # 0 alone would be no number
    ],
)
def test_digits_that_are_taken_for_each_other(text: str, confused: set[str]) -> None:
    assert {one.rows[0][1].text for one in of(row("sulfate", text), "digit")} == confused


@pytest.mark.parametrize(
    ("unit", "steps"),
    [
        ("mg/L", {"ug/L", "g/L"}),
        ("uS/cm", {"mS/cm"}),
        ("mS/cm", {"uS/cm"}),
        ("gpg", set()),
    ],
)
def test_units_a_thousand_apart(unit: str, steps: set[str]) -> None:
    slug = "specific_conductance" if "S/" in unit else "hardness"
    assert {read(one)[1] for one in of(row(slug, "12", unit), "unit")} == steps


def test_a_number_at_its_limit_may_have_lost_its_sign() -> None:
    at, over = (row("iron", text, reporting_limit=Decimal("0.05")) for text in ("0.05", "0.06"))
    assert [one.rows[0][1].text for one in of(at, "lost_sign")] == ["<0.05"]
    assert of(over, "lost_sign") == []


def test_rows_that_change_places_keep_their_own_units() -> None:
    rows = [row("iron", "40", "ug/L"), row("sulfate", "<5")]
    (swap,) = (one for one in edits(rows, [0, 1]) if one.kind == "swap")
    told = [(one.analyte, one.text, one.unit, one.state) for _, one in swap.rows]
    assert told == [("iron", "<5", "ug/L", "below"), ("sulfate", "40", "mg/L", "value")]


def test_rows_side_by_side_change_places_sooner() -> None:
    rows = [row("iron", "40"), row("sulfate", "5"), row("sodium", "7")]
    swaps = {
        tuple(at for at, _ in one.rows): one.weight
        for one in edits(rows, [0, 1, 2])
        if one.kind == "swap"
    }
    assert swaps[0, 1] == swaps[1, 2] > swaps[0, 2]
