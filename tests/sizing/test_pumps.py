"""What the pump gives, by whatever was timed: slow, flattered, contradicted or not known."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from sizing.asking import open_about
from sizing.waters import home, water

from welltold.site import Site, Well
from welltold.site_keys import Timed
from welltold.sizing import (
    pump_flow,
    size_stage,
)

D = Decimal
NOBODY = Site()


def test_nobody_timed_the_pump() -> None:
    flow = pump_flow(NOBODY)
    assert (flow.gpm, flow.floor_gpm, flow.how) == (None, None, None)
    assert "300 divided by the seconds" in open_about(flow.conditions, "bucket").asks
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), home(pump=None))
    assert sized.fits is None
    assert not sized.refused
    assert sized.size["tank_in"] == 12
    assert open_about(sized.conditions, "carries the backwash").holds is None


def test_a_bucket_too_slow_is_a_plain_no() -> None:
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), home(4, "2", "4"))
    assert sized.fits is False
    assert "The pump gives 4 gpm" in sized.refused[0].text
    # 0.785 square feet x 10 gpm = 7.854, a need, so up to the next tenth
    assert "needs 7.9 gpm" in sized.refused[0].text


def test_the_example_of_a_five_gallon_pump() -> None:
    """Two baths ask for 7 gpm; a 12 inch bed carries it and needs 7.85, the pump gives 5."""
    sized = size_stage("air_injection_filter", ["iron"], water(iron="3"), home(4, "2", "5"))
    assert sized.fits is False
    assert sized.backwash_gpm == pytest.approx(D("7.854"), abs=D("0.001"))
    twins = sized.instead[0]
    assert (twins.size["tanks"], twins.size["tank_in"], twins.fits) == (2, 9, True)
    stored = sized.instead[-1]
    assert stored.size["booster_gpm"] == 8
    # One day of 300 gallons and 7.85 gpm for 15 minutes, in tens: 420; at 5 gpm 1.4 hours.
    assert stored.size["storage_gal"] == 420
    assert stored.size["refill_hours"] == D("1.40")


def test_the_storage_tank_fills_as_fast_as_the_well_gives() -> None:
    site = home(4, "2", "5", yield_gpm=D("0.5"))
    sized = size_stage("air_injection_filter", ["iron"], water(iron="3"), site)
    assert sized.instead[-1].size["refill_hours"] == 14


def test_an_open_tap_proves_nothing_at_pressure() -> None:
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), home(4, "2", "12"))
    assert sized.fits is True
    assert open_about(sized.conditions, "at 30 psi").holds is None


@pytest.mark.parametrize(
    ("more", "asks"),
    [
        ({"gauge_psi": D(30)}, False),
        ({"gauge_psi": D(29)}, True),
        ({"bucket": None, "drawdown": Timed(D(12), D(60))}, False),
        ({"bucket": None, "drawdown": Timed(D(12), D(60)), "pressure_psi": (D(20), D(38))}, True),
        ({"bucket": None, "pump_gpm": D(12)}, True),
    ],
)
def test_gauge_or_drawdown_prove_the_pressure(more: dict[str, object], asks: bool) -> None:
    base = home(4, "2", "12")
    site = replace(base, well=replace(base.well, **more))  # type: ignore[arg-type]  # real fields
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), site)
    assert sized.fits is True
    assert any("at 30 psi" in one.asks for one in sized.conditions) is asks


def test_the_slowest_test_counts_and_a_contradiction_is_told() -> None:
    well = Well(bucket=Timed(D(5), D(60)), drawdown=Timed(D(16), D(90)), pump_gpm=D(12))
    flow = pump_flow(Site(well=well))
    assert (flow.gpm, flow.how) == (5, "bucket")
    told = open_about(flow.conditions, "tests disagree")
    assert told.holds is None
    assert "12" in told.has


def test_an_open_tap_that_gives_more_than_the_pump_at_pressure_is_told_as_flattery() -> None:
    well = Well(bucket=Timed(D(5), D(25)), drawdown=Timed(D(10), D(75)))
    flow = pump_flow(Site(well=well))
    assert (flow.gpm, flow.how) == (8, "drawdown")
    assert "flatters" in flow.conditions[0].asks


@pytest.mark.parametrize(
    "well", [Well(pump_gpm=D(0)), Well(bucket=Timed(D(0), D(60))), Well(bucket=Timed(D(5), D(0)))]
)
def test_no_flow_at_all_is_told(well: Well) -> None:
    flow = pump_flow(Site(well=well))
    assert flow.gpm is None
    assert open_about(flow.conditions, "no flow").has == "0 gpm"


def test_forty_gallons_a_minute_are_told() -> None:
    flow = pump_flow(Site(well=Well(pump_gpm=D(40))))
    assert flow.gpm == 40
    assert open_about(flow.conditions, "timed again").has == "40 gpm"


def test_a_gauge_above_pump_off_measures_the_tank() -> None:
    site = home(gauge_psi=D(60), pressure_psi=(D(40), D(60)))
    assert open_about(pump_flow(site).conditions, "pressure tank").has == "60 psi at the gauge"


def test_a_well_that_gives_less_than_its_pump_is_told() -> None:
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), home(yield_gpm=D(2)))
    lag = open_about(sized.conditions, "must lend")
    # 12 in: 7.854 gpm x 15 min = 117.8 gallons, of which the well gives 30; told in two digits.
    assert lag.holds is None
    assert "the 120 gal of" in lag.asks
    assert "lend 88 gal" in lag.asks
    assert "not known" in lag.has
    # A 6 inch casing, 120 - 60 feet of water x 1.47 gallons a foot: 88.
    deep = {"depth_ft": D(120), "static_ft": D(60), "casing_in": D(6), "yield_gpm": D(2)}
    sized = size_stage("greensand_filter", ["iron"], water(iron="3"), home(**deep))  # type: ignore[arg-type]  # facts
    assert "88.1 gal" in open_about(sized.conditions, "must lend").has
