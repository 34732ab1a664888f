"""What nobody told, what cannot be, and the edges of a choice."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from sizing.asking import open_about
from sizing.waters import Stream, hard, home, water

from welltold.messages import speaking
from welltold.site import Equipment, Site, Wishes
from welltold.sizing import (
    pressure_loss_psi,
    size_stage,
    train_flow,
    waste_gal_day,
)
from welltold.stage_files import stage_names
from welltold.treatment.knowledge import conditions

D = Decimal
WHOLE = Wishes(scope="whole_house")


@pytest.mark.parametrize("stage", stage_names())
@pytest.mark.parametrize("site", [Site(), home(), home(pump=None), home(None, None, "5")])
@pytest.mark.parametrize("inlet", [Stream(), hard("20", iron="3", ph="6.5")], ids=["none", "some"])
def test_every_stage_can_be_asked_for(stage: str, site: Site, inlet: Stream) -> None:
    sized = size_stage(stage, ["iron", "bacteria", "pfas"], inlet, site)
    for one in (sized, *sized.instead):
        figures = {
            f"{part}.{name}"
            for part in ("size", "settings", "use_per_year")
            for name in getattr(one, part)
        }
        assert figures == {entry.of for entry in one.worked}, "each figure has its arithmetic"
        assert len(one.worked) == len(figures)
        for entry in one.worked:
            part, _, name = entry.of.partition(".")
            assert getattr(one, part)[name] == entry.value
            assert entry.citation
            assert "{" not in entry.how.text


def test_septic_is_asked() -> None:
    sized = size_stage("softener", ["hardness"], hard("20"), home(waste="septic"))
    assert open_about(sized.conditions, "septic").holds is None


@pytest.mark.parametrize("stage", ["softener", "anion_exchanger", "chlorine_feed", "soda_ash_feed"])
def test_an_open_upper_end_sizes_nothing(stage: str) -> None:
    endless = water(
        hardness=("400", None),
        nitrate=("10", None),
        sulfate="5",
        iron=("9", None),
        carbon_dioxide=("30", None),
    )
    sized = size_stage(stage, ["nitrate"], endless, home())
    assert not set(sized.settings)
    assert any(one.holds is None for one in sized.conditions)


def test_a_sample_behind_equipment_sizes_nothing() -> None:
    site = replace(home(), equipment=Equipment(in_place=("softener",), after=("softener",)))
    sized = size_stage("softener", ["hardness"], hard("20"), site)
    assert not sized.size
    assert sized.refused[0].code == "sizing.behind_equipment"


@pytest.mark.parametrize(("celsius", "ph"), [("0.4", "7"), ("12", "5.9"), ("12", "9.1")])
def test_chlorine_contact_outside_the_published_region_is_refused(celsius: str, ph: str) -> None:
    site = home(water_temperature_c=D(celsius))
    sized = size_stage("retention_tank", ["bacteria"], water(ph=ph), site)
    assert sized.refused
    assert "retention_gal" not in sized.size


def test_chlorine_contact_of_unknown_ph_is_left_open() -> None:
    site = home(water_temperature_c=D(12))
    sized = size_stage("retention_tank", ["bacteria"], water(ph=("5", "7")), site)
    assert not sized.refused
    assert "retention_gal" not in sized.size
    assert open_about(sized.conditions, "pH at the tank").holds is None


def test_dark_water_refuses_the_lamp() -> None:
    assert size_stage("uv", ["bacteria"], water(uv_transmittance="74.9"), home()).refused
    assert not size_stage("uv", ["bacteria"], water(uv_transmittance="75"), home()).refused


def test_what_the_stage_asks_itself_the_sizing_does_not_ask_again() -> None:
    unknown = size_stage("uv", ["bacteria"], Stream(), home())
    assert not [one.asks for one in unknown.conditions if "ransmittance" in one.asks]
    assert [row.op for row in conditions("uv") if row.fact == "uv_transmittance"] == [">="]
    tap = size_stage("reverse_osmosis", ["nitrate"], water(total_dissolved_solids="300"), home())
    assert not [one.asks for one in tap.conditions if "pressure" in one.asks]
    assert [row.fact for row in conditions("reverse_osmosis") if row.ask == "pressure"]


def test_pfas_carbon_stands_in_a_row_for_ten_minutes() -> None:
    sized = size_stage("carbon_filter", ["pfas"], Stream(), home(4, "2"))
    # 10 min x 7 gpm / 7.48 = 9.36 cubic feet in two tanks.
    assert sized.size["least_ft3"] == D("9.36")
    assert sized.size["in_a_row"] is True
    assert sized.size["tanks"] == 2
    assert isinstance(sized.size["contact_minutes"], Decimal)
    assert sized.size["contact_minutes"] >= 10
    assert sized.backwash_gpm is None


def test_a_softener_behind_a_neutralizer_is_set_on_the_high_hardness() -> None:
    """By hand: 20 to 160 mg/L: 160 / 17.118 = 9.35, iron 0.5 x 4 = 2: 11.35, dialled 12."""
    inlet = water(hardness=("20", "160"), iron="0.5", manganese="0")
    settings = size_stage("softener", ["hardness"], inlet, home()).settings
    assert settings["hardness_gpg"] == D("9.35")
    assert settings["compensated_gpg"] == D("11.35")
    assert settings["dial_gpg"] == 12


def test_a_usual_softener_by_hand() -> None:
    """20 gpg, 4 people: 6,000 grains a day; 7 days / 24,000 = 1.75, so 2 cubic feet, 12 inches.

    Salt for 42,000 grains at 3,000 a pound: 14 lb every 6 days, 852 lb a year; 14 / 3 / 0.5 = 9.3
    minutes of refill.
    """
    sized = size_stage("softener", ["hardness"], hard("20"), home(4, "2", "12"))
    assert (sized.size["tank_in"], sized.size["media_ft3"]) == (12, 2)
    assert sized.settings["salt_lb"] == 14
    assert sized.settings["interval_days"] == 6
    assert sized.settings["refill_minutes"] == 10
    assert sized.use_per_year["salt_lb_per_year"] == pytest.approx(D("851.67"), abs=D("0.01"))
    assert sized.settings["drain_gpm"] == 4


def test_low_sodium_diet_is_told() -> None:
    sized = size_stage("softener", ["hardness"], hard("20"), home(persons=("low_sodium_diet",)))
    assert open_about(sized.conditions, "low-sodium").holds is None
    without = size_stage("softener", [], hard("20"), home())
    assert not any("low-sodium" in one.asks for one in without.conditions)


def test_chlorine_feed_by_hand() -> None:
    """3 x 0.64 = 1.92; x 1.25 + 0.5 = 2.9 mg/L; 2.9 x 7 gpm x 1440 / 52,500 = 0.557 gpd."""
    sized = size_stage("chlorine_feed", ["iron"], water(iron="3"), home(4, "2", "7"))
    assert sized.settings["dose_mg_l"] == D("2.90")
    assert sized.settings["feed_gpd"] == D("0.56")
    # 10 gpd pump at 5.6 %: thinned to half its travel, 5 / 0.557 = 8.98 -> 7 parts of water.
    assert sized.settings["water_parts"] == 7
    assert sized.settings["feed_percent"] == pytest.approx(D("44.5"), abs=D("0.1"))


def test_chlorine_without_any_demand_still_leaves_a_residual() -> None:
    nothing = water(iron="0", manganese="0", hydrogen_sulfide="0")
    sized = size_stage("chlorine_feed", ["bacteria"], nothing, home())
    assert sized.size["chlorine_demand_mg_l"] == 0
    assert sized.settings["dose_mg_l"] == 1
    assert size_stage("chlorine_feed", ["iron"], nothing, home()).settings["dose_mg_l"] == D("0.5")


@pytest.mark.parametrize(("nitrate", "sulfate", "told"), [("20", "68", False), ("20", "69", True)])
def test_sulfate_above_nitrate_asks_for_another_resin(
    nitrate: str, sulfate: str, told: bool
) -> None:
    """20 mg/L as N are 20 / 14.007 = 1.428 meq/L, which is 68.6 mg/L of sulfate (48.03)."""
    inlet = water(nitrate=nitrate, sulfate=sulfate)
    sized = size_stage("anion_exchanger", ["nitrate"], inlet, home())
    assert any(one.code == "sizing.anion_selective" for one in sized.cautions) is told


def test_what_was_not_found_is_left_to_the_reserve() -> None:
    """3 x 0.64 = 1.92; ammonia below 0.05 would take 0.38, below 0.1 0.76 mg/L."""
    for limit, demand in (("0.05", "1.92"), ("0.1", "2.68")):
        inlet = water(iron="3", ammonia=("0", limit))
        sized = size_stage("chlorine_feed", ["iron"], inlet, home())
        assert sized.size["chlorine_demand_mg_l"] == D(demand)


def test_upflow_is_offered_only_without_iron() -> None:
    weak = home(4, "2", "3")
    clean = size_stage(
        "calcite_neutralizer", ["low_ph"], water(iron="0.1", carbon_dioxide="40"), weak
    )
    rusty = size_stage(
        "calcite_neutralizer", ["low_ph"], water(iron="2", carbon_dioxide="40"), weak
    )
    assert clean.instead[0].size["upflow"] is True
    assert clean.instead[0].backwash_gpm is None
    assert not any("upflow" in one.size for one in rusty.instead)


def test_an_adsorber_for_the_whole_house() -> None:
    """4 min x 7 gpm / 7.48 = 3.74 cubic feet: a 16 inch tank, 6 x 1.396 = 8.4 gpm."""
    site = home(4, "2", "12")
    sized = size_stage("arsenic_adsorber", ["arsenic"], Stream(), replace(site, wishes=WHOLE))
    assert (sized.size["tank_in"], sized.size["media_ft3"]) == (16, 4)
    assert sized.size["backwash_gpm"] == D("8.38")
    # 300 gal x 365 / 7.48 / 4 cubic feet = 3,660 bed volumes; 10,000 are reached after 2.7 years.
    assert sized.use_per_year["bed_volumes_per_year"] == pytest.approx(D(3659), abs=D(1))
    assert sized.size["life_years"] == 2
    tap = size_stage("arsenic_adsorber", ["arsenic"], Stream(), site)
    assert tap.size["media_ft3"] == D("0.27")
    assert tap.backwash_gpm is None


def test_the_largest_single_backwash_of_a_train() -> None:
    site = home(4, "2", "9")
    stages = ("greensand_filter", "softener", "uv")
    sized = [size_stage(stage, ["iron"], hard("20", iron="2"), site) for stage in stages]
    flow = train_flow(sized, site)
    assert (flow.pump_gpm, flow.backwash_gpm, flow.fits) == (9, D("7.85"), True)
    assert train_flow(sized[2:], site).fits is None
    weak = home(4, "2", "2")
    no = [size_stage(stage, ["iron"], hard("20", iron="2"), weak) for stage in stages]
    assert train_flow(no, weak).fits is False


def test_hardness_added_by_the_stages_ahead_is_told() -> None:
    """By hand: (171.18 - 17.118) / 17.118 = 9 grains."""

    class Behind(Stream):
        raw = hard("1")

    settings = size_stage("softener", [], Behind(hard("10").told), home()).settings
    assert settings["added_gpg"] == 9


WASHED = ("softener", "greensand_filter", "anion_exchanger", "tannin_exchanger")


@pytest.mark.parametrize("stage", WASHED)
def test_no_water_is_lost_in_a_cycle(stage: str) -> None:
    """Backwash and rinse at the backwash flow, brine, and the refill: what goes to the drain."""
    inlet = hard("20", iron="1", nitrate="15", sulfate="30")
    sized = size_stage(stage, ["iron"], inlet, home())
    told = {name: D(str(value)) for name, value in sized.settings.items()}
    washing = (told["backwash_minutes"] + told["rinse_minutes"]) * D(str(sized.backwash_gpm))
    brine = told.get("brine_gpm", D(0)) * told.get("brine_minutes", D(0))
    salt = told.get("salt_lb", D(0)) / 3 / D(str(sized.size["tanks"]))
    gallons = D(str(sized.size["backwash_gal"]))
    assert gallons == pytest.approx(washing + brine + salt, abs=D("0.5"))
    yearly = D(str(sized.use_per_year["water_gal_per_year"]))
    cycles = 365 / told["interval_days"] * D(str(sized.size["tanks"]))
    assert yearly == pytest.approx(gallons * cycles, rel=D("0.001"))


@pytest.mark.parametrize(
    ("sulfide", "medium"), [("0.1", "coated_lightweight"), ("0.2", "catalytic_carbon")]
)
def test_sulfide_never_meets_coated_media(sulfide: str, medium: str) -> None:
    inlet = water(iron="2", hydrogen_sulfide=sulfide)
    assert size_stage("air_injection_filter", ["iron"], inlet, home()).size["medium"] == medium


def test_a_large_house_gets_several_tanks() -> None:
    """30 people: 2,250 gal in two hours are 18.75 gpm, 3.75 square feet at 5.

    The largest tank has 3.14; two of 21 inches would need 24 gpm each, three of 16 need 14.
    """
    inlet = hard("60", iron="1")
    large = home(30, "8", "20")
    filters = size_stage("greensand_filter", ["iron"], inlet, large)
    assert (filters.size["tanks"], filters.size["tank_in"], filters.fits) == (3, 16, True)
    # 30 x 75 gal x 64 grains x 7 days / 24,000 = 42 cubic feet: three of the largest hold 30.
    soft = size_stage("softener", ["hardness"], inlet, large)
    assert [one.code for one in soft.refused] == ["sizing.too_much_load"]
    # 20 people at 40 grains: 17.5 cubic feet, two of the largest tanks.
    two = size_stage("softener", ["hardness"], hard("40"), home(20, "4", "20"))
    assert (two.size["tanks"], two.size["media_ft3_total"]) == (2, 20)
    assert not two.refused


def test_a_drain_control_lets_the_whole_backwash_pass() -> None:
    """A 16 inch bed at 10 needs 13.96: the manual's 15, and not 12, though the pump gives 14.

    A 10 inch bed at 10 has 0.5454 square feet and needs 5.45: the next size in stock is 5.5.
    """
    inlet = water(iron="2")
    for pump in ("15", "14"):
        sized = size_stage("greensand_filter", ["iron"], inlet, home(6, "4", pump))
        assert (sized.size["tank_in"], sized.settings["drain_gpm"]) == (16, 15)
    small = size_stage("greensand_filter", ["iron"], inlet, home(2, "1", "6"))
    assert (small.size["tank_in"], small.settings["drain_gpm"]) == (10, D("5.5"))


@pytest.mark.parametrize(("people", "asks"), [(2, False), (4, True)])
def test_a_fast_neutralizer_is_told(people: int, asks: bool) -> None:
    """10 inches are 0.545 square feet: 1.25 gpm over two hours are 2.3 each, 2.5 gpm are 4.6."""
    sized = size_stage("calcite_neutralizer", [], water(iron="0"), home(people, "2", "7"))
    assert sized.size["tank_in"] == 10
    assert any("full rise" in one.asks for one in sized.conditions) is asks


def test_membrane_production_by_hand() -> None:
    """12 C: 1 - 13 x 0.03 = 0.61; 40 - 4 - 20 = 16 psi: 75 x 0.61 x 16 / 50 = 14.64 gpd.

    At most: exp(2640 (1/298.15 - 1/285.15)) = 0.668; 60 - 4 - 20 = 36 psi: 36.1 gpd.
    """
    site = home(4, "2", water_temperature_c=D(12), pressure_psi=(D(40), D(60)))
    sized = size_stage("reverse_osmosis", [], water(total_dissolved_solids="400"), site)
    assert sized.size["makes_gpd"] == D("14.64")
    assert sized.size["makes_at_most_gpd"] == pytest.approx(D("36.1"), abs=D("0.1"))
    assert sized.size["wanted_gpd"] == 4
    assert "booster" not in sized.size
    weak = home(4, "2", pressure_psi=(D(30), D(50)))
    assert size_stage("reverse_osmosis", [], Stream(), weak).size["booster"] is True


def test_heavy_media_are_replaced_by_light_ones() -> None:
    """8 gpm wash a 10 in tank of the blend, which carries 6.54 gpm of the 7 of the house.

    They wash a 12 in tank of light media too (0.785 x 10 = 7.85), which carries all of it.
    """
    sized = size_stage("oxidizing_filter", ["iron"], water(iron="3"), home(4, "2", "8"))
    assert sized.fits is False
    first = sized.first_way()
    assert (first.size["medium"], first.size["tanks"]) == ("coated_lightweight", 1)
    assert (first.size["tank_in"], first.fits) == (12, True)


def test_whole_train() -> None:
    inlet, site = hard("15", iron="2"), home(4, "2", "12", waste="septic")
    parts = [
        size_stage(stage, ["iron"], inlet, site) for stage in ("greensand_filter", "softener", "uv")
    ]
    loss = pressure_loss_psi(parts, site)
    # A 12 in bed: 5 psi x 7 / 3.93 gpm = 8.9; softener 8; lamp 2.
    assert loss.value == pytest.approx(D("18.9"), abs=D("0.05"))
    assert loss.conditions[0].holds is False
    waste = waste_gal_day(parts, site)
    expected = sum(D(str(one.size.get("waste_gal_day", 0))) for one in parts)
    assert waste.value == expected
    assert waste.conditions[0].holds is None


def test_the_same_home_is_told_in_the_language_of_the_moment() -> None:
    """What a home asks for is kept between two calls; its sentences must not be."""

    def told() -> str:
        sized = size_stage("softener", [], hard("20"), home())
        return {one.of: one.how.text for one in sized.worked}["size.gal_day"]

    assert told().startswith("4 people")
    with speaking("es"):
        assert told().startswith("4 personas")
    assert told().startswith("4 people")
