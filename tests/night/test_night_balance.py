"""No drop is lost or made, whatever is asked of whatever well."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from welltold.night.balance import Minute, balance
from welltold.night.supply import Supply

FLOWS = st.integers(0, 3000)
SUPPLIES = st.builds(
    Supply,
    pump=FLOWS,
    inflow=FLOWS,
    well=st.integers(0, 20000),
    tank=st.integers(0, 30000),
    booster=st.none() | FLOWS,
)
NIGHTS = st.lists(FLOWS, min_size=1, max_size=120)


def begin(supply: Supply) -> int:
    """What stands in the tank when the night begins: nothing, or a full storage tank."""
    return 0 if supply.booster is None else supply.tank


@given(SUPPLIES, NIGHTS)
def test_well_drawn_is_delivered_and_change_of_the_tank(supply: Supply, night: list[int]) -> None:
    minutes = list(balance(supply, night))
    drawn, delivered = (sum(getattr(m, of) for m in minutes) for of in ("pumped", "gets"))
    assert drawn == delivered + minutes[-1].tank - begin(supply)


@given(SUPPLIES, NIGHTS)
def test_what_runs_in_is_drawn_and_change_of_the_well(supply: Supply, night: list[int]) -> None:
    minutes = list(balance(supply, night))
    arrived, drawn = (sum(getattr(m, of) for m in minutes) for of in ("arrives", "pumped"))
    assert arrived == drawn + minutes[-1].well - supply.well


@given(SUPPLIES, NIGHTS)
def test_nothing_goes_below_nothing_or_over_the_brim(supply: Supply, night: list[int]) -> None:
    for one in balance(supply, night):
        assert 0 <= one.gets <= one.needed
        assert 0 <= one.pumped <= supply.pump
        assert 0 <= one.arrives <= supply.inflow
        assert 0 <= one.well <= supply.well
        assert 0 <= one.tank <= supply.tank


@given(SUPPLIES, NIGHTS, FLOWS)
def test_without_a_pressure_tank_more_water_never_delivers_less(
    supply: Supply, night: list[int], more: int
) -> None:
    plain = replace(supply, tank=0, booster=None)
    richer = replace(plain, inflow=plain.inflow + more)

    def total(one: Supply) -> int:
        return sum(minute.gets for minute in balance(one, night))

    assert total(richer) >= total(plain)


def test_the_pressure_switch_by_hand() -> None:
    """Pump 5 gpm, tank 6 gal and empty, 0.5 gpm drawn.

    Minute 1: 5 - 0.5 = 4.5 in the tank. Minute 2: it is full with 1.5 more, the pump gives 2 and
    stops. Minutes 3 to 14 drain 6 gal at 0.5. Minute 15 starts the pump again.
    """
    minutes = list(balance(Supply(500, 500, 0, 600), [50] * 15))
    assert [m.pumped for m in minutes] == [500, 200, *[0] * 12, 500]
    assert [m.tank for m in minutes[:3]] == [450, 600, 550]
    assert minutes[13].tank == 0


def test_the_pump_runs_only_for_the_rest_of_the_minute_by_hand() -> None:
    """8 gal asked with 6 in the tank: the tank lasts 6/8 min, the pump runs 2/8 min at 4 gpm."""
    supply = Supply(400, 400, 0, 600)
    filling = [0, 100, 0]
    # 1 gal starts the pump: it gives 1 + 3, then 3 more, and stops at 6 gal
    *_, full, last = balance(supply, [*filling, 800])
    assert full == Minute(0, 0, 300, 300, 0, 600)
    assert last.pumped == 100
    assert last.gets == 700
