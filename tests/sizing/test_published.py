"""Worked examples as published; each test names where the example stands."""

from __future__ import annotations

from decimal import Decimal

import pytest
from sizing.waters import hard, home, water

from welltold.site import Site, Well
from welltold.site_keys import Timed
from welltold.sizing import pump_flow, size_stage
from welltold.sizing.carbon import bed_minutes
from welltold.sizing.contact import contact_gal
from welltold.sizing.drains import published_drain
from welltold.sizing.exchangers import anion_gal_ft3, anion_load_gpg
from welltold.sizing.feed_pump import bleach_ml
from welltold.sizing.feeds import demands
from welltold.sizing.house import house, two_hour_peak
from welltold.sizing.hydraulics import (
    area_ft2,
    backwash_gpm,
    casing_gal,
    viscosity,
)
from welltold.sizing.load import compensated
from welltold.sizing.membrane import warm_factor, warm_factor_exponential
from welltold.sizing.neutralizer import media_lb_day
from welltold.sizing.rules import number
from welltold.sizing.salt import capacity_ft3
from welltold.sizing.stock import media

D = Decimal
BUCKETS = (
    *((20, 15), (25, 12), (27, 11), (30, 10), (33, 9), (35, 8), (37, 8), (38, 7), (40, 7)),
    *((42, 7), (43, 6), (45, 6), (48, 6), (50, 6), (51, 5), (55, 5), (60, 5), (61, 4)),
    *((65, 4), (75, 4), (86, 3), (100, 3)),
)


def about(value: str, tolerance: str) -> object:
    return pytest.approx(D(value), abs=D(tolerance))


def timed(gallons: str, seconds: str) -> Timed:
    return Timed(D(gallons), D(seconds))


def test_f01_draw_down_and_recovery() -> None:
    """A seller's technical note: 16 gallons drawn, 90 s to recover: 10.6 (exactly 10.67) gpm."""
    found = pump_flow(Site(well=Well(drawdown=timed("16", "90"))))
    assert found.gpm == about("10.667", "0.001")
    assert found.floor_gpm == 10


@pytest.mark.parametrize(
    ("seconds", "gpm"),
    # 300 / s, rounded down: arithmetic; the table that dealers carry.
    BUCKETS,
)
def test_f02_to_f04_bucket_is_rounded_down(seconds: int, gpm: int) -> None:
    found = pump_flow(Site(well=Well(bucket=timed("5", str(seconds)))))
    assert found.floor_gpm == gpm
    assert found.gpm == D(300) / seconds


def test_f05_two_hour_peak() -> None:
    """Penn State Extension, Water System Planning, 2022: 400 gallons a day in two hours."""
    assert two_hour_peak(D(400)) == about("3.3", "0.05")


def test_f06_compensated_hardness_and_load() -> None:
    """Sizing Conventional Water Softeners: 18 gpg, 1.5 mg/L iron at a factor of 2, 4 x 60 gal."""
    full = compensated(D(18), (D("1.5"), D(2)))
    assert full == 21
    assert 4 * 60 * full == 5040
    assert 3 * 4 * 60 * full == 15120


def test_f07_interval_of_a_20000_grain_setting() -> None:
    """A seller's note: 5 people x 80 gal x 15 gpg; 20,000 grains at 6 lb: 3.3 days."""
    load = 5 * 80 * compensated(D(15))
    assert load == 6000
    days = capacity_ft3(D(6)) / load
    assert days == about("3.3", "0.05")
    assert 6 * 30 / days == about("55", "1")


def test_f08_high_efficiency_limits() -> None:
    """Building America Solution Center: 3,350 grains a pound = 477 g a kg; 5 gal = 18.9 L."""
    grams = number("salt_best_grains_lb") * D("0.06479891") / D("0.45359237")
    assert grams == about("477", "5")
    assert number("water_best_gal_kgrain") * D("3.785411784") == about("18.9", "0.1")


@pytest.mark.parametrize(
    ("tank", "resin", "bed"),
    [(14, 5, 10), (16, 7, 15), (18, 9, 17), (21, 12, 25), (24, 15, 30), (30, 25, 50), (36, 35, 70)],
)
def test_f15_to_f21_drain_flow_by_tank(tank: int, resin: int, bed: int) -> None:
    """Residential control-valve manual, 50 F, 50 % bed expansion, stock flow controls."""
    for rate, printed in ((D(5), resin), (D(10), bed)):
        found = published_drain(rate, D(tank))
        assert found is not None
        assert found[0] == printed
        # Area times rate, by hand, lies within a tenth of the stock size.
        exact = rate * D("3.14159265") / 4 * (D(tank) / 12) ** 2
        assert exact == pytest.approx(printed, rel=0.08)


@pytest.mark.parametrize(
    ("tank", "printed"), [(14, 3), (16, 4), (18, 5), (21, 7), (24, 9), (30, 14), (36, 20)]
)
def test_drain_flow_of_fine_mesh_resin(tank: int, printed: int) -> None:
    """The same manual: fine mesh softening resin at 2.8 gpm a square foot."""
    found = published_drain(D("2.8"), D(tank))
    assert found is not None
    assert found[0] == printed


def test_f23_nitrate_exchange_load() -> None:
    """By hand: 20 mg/L NO3-N and 100 mg/L SO4 are 10.26 gpg; 16,000 grains treat 1,559 gallons."""
    load = anion_load_gpg(D(20), D(100))
    assert load == about("10.26", "0.01")
    assert anion_gal_ft3(D(16000), load) == about("1559", "3")


def test_f24_membrane_in_cold_water() -> None:
    """10 C: exp(2640 (1/298.15 - 1/T)) = 0.626; 3 % a degree (WQA) = 0.55. 5 C: 0.53 and 0.40."""
    assert warm_factor(D(10)) == D("0.55")
    assert warm_factor(D(5)) == D("0.40")
    assert warm_factor_exponential(D(10)) == about("0.626", "0.005")
    assert warm_factor_exponential(D(5)) == about("0.53", "0.005")


def test_cold_membrane_at_a_home() -> None:
    """A 75 gpd membrane at 50 F with the tank pushing back is said to give 25 to 35 gpd."""
    site = home(water_temperature_c=D(10), pressure_psi=(D(40), D(60)))
    sized = size_stage("reverse_osmosis", ["nitrate"], water(total_dissolved_solids="300"), site)
    low, high = sized.size["makes_gpd"], sized.size["makes_at_most_gpd"]
    assert isinstance(low, D)
    assert isinstance(high, D)
    assert low < 25 < high < 40


@pytest.mark.parametrize(
    ("tank", "area", "at_5", "at_10", "at_12"),
    [
        (8, ".349", "1.7", "3.5", "4.2"),
        (9, ".442", "2.2", "4.4", "5.3"),
        (10, ".545", "2.7", "5.5", "6.5"),
        (12, ".785", "3.9", "7.9", "9.4"),
        (13, ".922", "4.6", "9.2", "11.1"),
        (14, "1.069", "5.3", "10.7", "12.8"),
        (16, "1.396", "7.0", "14.0", "16.8"),
    ],
)
def test_areas_and_backwash_flows(tank: int, area: str, at_5: str, at_10: str, at_12: str) -> None:
    """Round tanks by hand: pi / 4 x (in / 12)^2, times the rate."""
    assert area_ft2(D(tank)) == about(area, "0.0005")
    assert backwash_gpm(media()["resin"], D(tank)) == about(at_5, "0.051")
    assert backwash_gpm(media()["greensand"], D(tank)) == about(at_10, "0.051")
    assert backwash_gpm(media()["manganese_blend"], D(tank)) == about(at_12, "0.051")


@pytest.mark.parametrize(("baths", "gpm"), [("1", 5), ("2", 7), ("3", 9), ("4", 11), ("2.5", 8)])
def test_flow_by_bathrooms(baths: str, gpm: int) -> None:
    """The dealers' rule: 1 bath 5, 2 baths 7, 3 baths 9, 4 baths 11 gpm."""
    assert house(home(bathrooms=baths)).peak_gpm == gpm


@pytest.mark.parametrize(
    ("salt", "grains"), [("6", 20000), ("8", 24000), ("10", 27000), ("15", 30000), ("7", 22000)]
)
def test_softener_capacity_by_salt(salt: str, grains: int) -> None:
    """Trade capacity tables; 7 lb lies half way between 6 and 8."""
    assert capacity_ft3(D(salt)) == grains


def test_sodium_of_softened_water() -> None:
    """Trade rule and Salt Institute: 7.86 mg/L a grain; 10 gpg add 79 mg/L, 157 mg in 2 litres."""
    sized = size_stage("softener", ["hardness"], hard("10"), home())
    assert sized.size["sodium_added_mg_l"] == about("78.6", "0.1")
    assert sized.size["sodium_mg_day"] == about("157", "1")


def test_calcite_dissolved_in_a_year() -> None:
    """By hand: 64 mg/L x 300 gal a day = 0.161 lb a day = 59 lb a year."""
    day = media_lb_day(D(64), D(300))
    assert day == about("0.1602", "0.0005")
    assert day * 365 == about("58.5", "0.5")


@pytest.mark.parametrize(
    ("gpm", "minutes", "factor", "gallons"), [(7, 20, "1", 140), (7, 20, "0.3", 467)]
)
def test_contact_tank_for_twenty_minutes(gpm: int, minutes: int, factor: str, gallons: int) -> None:
    """7 gpm x 20 min = 140 gallons; 467 where 0.3 of the volume counts."""
    assert contact_gal(D(minutes), D(1), D(gpm), D(factor)) == about(str(gallons), "0.5")


def test_contact_tank_against_germs() -> None:
    """By hand: 6 x 7 gpm / (1 mg/L x 0.3) = 140 gallons, at 10 C and pH 7."""
    site = home(water_temperature_c=D(10))
    sized = size_stage("retention_tank", ["bacteria"], water(ph="7"), site)
    assert sized.size["disinfection_gal"] == 140


@pytest.mark.parametrize(
    ("celsius", "ct"),
    # US EPA, EPA 815-R-20-003, Table B-2 (pH 6 to 9); from 10 C on the 6 of Washington State.
    [("0.5", 12), ("4.9", 12), ("5", 8), ("9.9", 8), ("10", 6), ("20", 6)],
)
def test_contact_in_cold_water(celsius: str, ct: int) -> None:
    site = home(water_temperature_c=D(celsius))
    sized = size_stage("retention_tank", ["bacteria"], water(ph=("6", "9")), site)
    assert sized.size["ct_mg_min_l"] == ct


def test_water_in_a_casing() -> None:
    """Hickory district: a 6 inch casing 120 ft deep, water at 20 ft, holds about 150 gallons."""
    well = Well(depth_ft=D(120), static_ft=D(20), casing_in=D(6))
    sized = size_stage("shock_chlorination", ["bacteria"], water(), Site(well=well))
    assert sized.size["casing_water_gal"] == about("146.9", "0.1")
    # 721 mL of 5.25 % bleach for each 100 gallons at 100 mg/L, by hand.
    assert sized.size["bleach_l"] == about("1.06", "0.01")


@pytest.mark.parametrize(
    ("casing", "gal_ft"),
    [(2, ".16"), (4, ".65"), (5, "1.02"), (6, "1.47"), (8, "2.61"), (10, "4.08"), (24, "23.5")],
)
def test_casing_volume(casing: int, gal_ft: str) -> None:
    """Hickory district prints .65, 1.0, 1.5, 2.6, 4.1; the exact figures by hand."""
    assert casing_gal(D(casing), D(1)) == about(gal_ft, "0.01")


def test_carbon_contact() -> None:
    """By hand: 2 cubic feet at 5 gpm are 3.0 minutes."""
    assert bed_minutes(D(2), D(5)) == about("3.0", "0.01")


@pytest.mark.parametrize(("percent", "ml"), [("5.25", "7.2"), ("12", "3.15")])
def test_bleach_for_a_hundred_gallons(percent: str, ml: str) -> None:
    """By hand: 378.5 / (10 x percent) mL for 1 mg/L in 100 gallons."""
    assert bleach_ml(D(100), D(1), D(percent)) == about(ml, "0.02")


def test_oxidant_demand() -> None:
    """AWWA/ASCE, Table 10.7: 0.64 chlorine, 0.94 permanganate a mg of iron; manganese 1.29."""
    chlorine = {one.analyte: one for one in demands("chlorine")}
    assert (chlorine["iron"].high, chlorine["manganese"].high) == (D("0.64"), D("1.29"))
    assert (chlorine["hydrogen_sulfide"].low, chlorine["hydrogen_sulfide"].high) == (
        D("2.08"),
        D("8.32"),
    )
    permanganate = {one.analyte: one for one in demands("permanganate")}
    assert permanganate["iron"].high == D("0.94")


@pytest.mark.parametrize(
    ("celsius", "viscosity_mpas"),
    [("0", "1.791"), ("10", "1.306"), ("20", "1.002"), ("25", "0.890"), ("30", "0.797")],
)
def test_viscosity_of_water(celsius: str, viscosity_mpas: str) -> None:
    """Handbook values of the viscosity of water, mPa s."""
    assert viscosity(D(celsius)) == about(viscosity_mpas, "0.003")


def test_arsenic_media_life() -> None:
    """By hand: 20,000 bed volumes x 7.48 gal = 149,600 gal a cubic foot, 1.4 years at 300 a day."""
    gallons = 20000 * number("bed_gal_ft3")
    assert gallons == about("149600", "50")
    assert gallons / 300 / 365 == about("1.4", "0.05")
