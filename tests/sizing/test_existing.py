"""Equipment in place: kept, set anew or replaced, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from sizing.waters import Stream, hard, home, water

from welltold.interpretation import Existing
from welltold.site import Equipment, EquipmentUnit
from welltold.sizing import advise_existing

D = Decimal
SOFT = EquipmentUnit("softener", tank_in=D(12), medium="resin", media_ft3=D(2), metered=True)


def codes(advice: Existing) -> set[str]:
    return {one.code.removeprefix("sizing.") for one in advice.why}


def test_a_softener_that_is_set_right_is_kept() -> None:
    """20 gpg for 4, 6,000 grains a day: 48,000 last 8 days, one of them kept back; 16 lb."""
    advice = advise_existing(replace(SOFT, salt_lb=D(16)), hard("20"), home())
    assert advice.do == "keep"
    assert (advice.settings["salt_lb"], advice.settings["interval_days"]) == (16, 7)
    assert {one.of for one in advice.worked} == {f"settings.{name}" for name in advice.settings}


def test_a_softener_with_another_dose_is_set_anew() -> None:
    advice = advise_existing(replace(SOFT, salt_lb=D(30)), hard("20"), home())
    assert advice.do == "reset"
    assert "existing_salt" in codes(advice)
    assert advise_existing(SOFT, hard("20"), home()).do == "reset", "nobody told the dose"


def test_a_clock_is_told() -> None:
    advice = advise_existing(replace(SOFT, salt_lb=D(16), metered=False), hard("20"), home())
    assert advice.do == "reset"
    assert "existing_timer" in codes(advice)


def test_a_softener_too_small_is_replaced() -> None:
    """0.75 cubic feet hold 18,000 grains: at 40 gpg for 5 (15,000 a day) not even two days."""
    small = EquipmentUnit("softener", tank_in=D(8), media_ft3=D("0.75"))
    advice = advise_existing(small, hard("40"), home(people=5))
    assert advice.do == "replace"
    assert advice.settings == {}


def test_more_salt_carries_a_small_softener() -> None:
    """1 cubic foot, 7,000 grains a day: 24,000 last 2 days and a reserve, 30,000 last 3; 15 lb."""
    unit = EquipmentUnit("softener", tank_in=D(9), media_ft3=D(1), salt_lb=D(8))
    advice = advise_existing(unit, hard("23.333"), home())
    assert advice.do == "reset"
    assert "existing_more_salt" in codes(advice)
    assert (advice.settings["interval_days"], advice.settings["salt_lb"]) == (3, 14)


def test_a_softener_that_is_a_little_small_regenerates_oftener() -> None:
    """1.5 cubic feet hold 36,000; at 6,000 a day that is 6 days, 5 and a reserve."""
    unit = EquipmentUnit("softener", tank_in=D(10), media_ft3=D("1.5"))
    advice = advise_existing(unit, hard("20"), home())
    assert advice.do == "reset"
    assert advice.settings["interval_days"] == 5


def test_no_second_tank_is_put_beside_the_one_in_place() -> None:
    """9 people: 675 gal in two hours are 5.6 gpm; a 10 inch bed carries 2.7."""
    unit = EquipmentUnit("greensand_filter", tank_in=D(10), media_ft3=D("1.5"))
    advice = advise_existing(unit, water(iron="2"), home(people=9))
    assert advice.do == "replace"


def test_a_filter_that_the_pump_cannot_wash_is_replaced() -> None:
    """A 12 inch bed at 10 gpm a square foot needs 7.85; the pump gives 6."""
    unit = EquipmentUnit("greensand_filter", tank_in=D(12), medium="greensand", media_ft3=D(2))
    advice = advise_existing(unit, water(iron="2"), home(4, "2", "6"))
    assert advice.do == "replace"
    assert "needs 7.9 gpm" in advice.why[0].text
    assert advise_existing(unit, water(iron="2"), home(4, "2", "8")).do == "keep"


def test_the_filling_in_place_counts() -> None:
    """The same tank with solid manganese dioxide needs 25 x 0.785 = 19.6 gpm."""
    unit = EquipmentUnit("air_injection_filter", tank_in=D(12), medium="manganese_dioxide")
    advice = advise_existing(unit, water(iron="2"), home(4, "2", "15"))
    assert advice.do == "replace"
    assert "needs 19.7 gpm" in advice.why[0].text


@pytest.mark.parametrize(("age", "old"), [("7", False), ("8", True)])
def test_age_asks_for_a_test(age: str, old: bool) -> None:
    unit = EquipmentUnit("greensand_filter", tank_in=D(12), media_ft3=D(2), age_years=D(age))
    advice = advise_existing(unit, water(iron="2"), home())
    assert advice.do == "keep"
    assert ("existing_old" in codes(advice)) is old


@pytest.mark.parametrize(
    ("unit", "inlet", "pump", "code"),
    [
        (EquipmentUnit("softener"), hard("20"), "12", "existing_unknown"),
        (SOFT, Stream(), "12", "existing_open"),
        (SOFT, hard("20"), None, "existing_open"),
        (EquipmentUnit("uv"), hard("20"), "12", "existing_no_size"),
        (EquipmentUnit("shock_chlorination"), hard("20"), "12", "existing_no_size"),
    ],
)
def test_what_cannot_be_told(
    unit: EquipmentUnit, inlet: Stream, pump: str | None, code: str
) -> None:
    advice = advise_existing(unit, inlet, home(4, "2", pump))
    assert advice.do == "cant_tell"
    assert code in codes(advice)


def test_a_sample_behind_equipment_tells_nothing() -> None:
    site = replace(home(), equipment=Equipment(after=("softener",)))
    assert codes(advise_existing(SOFT, hard("20"), site)) == {"existing_behind"}


def test_the_usual_filling_is_told_where_nobody_measured_it() -> None:
    unit = EquipmentUnit("softener", tank_in=D(12))
    assert "existing_filling" in codes(advise_existing(unit, hard("20"), home()))
