"""Worked wells: each is what a published source says about such a water, named beside it."""

from __future__ import annotations

import pytest
from treatment_wells import (
    bacteria,
    finding,
    health,
    plan,
    quiet,
    refused,
    steps,
    trains,
)

from welltold.reading import Sample
from welltold.site import Site, Tap, Wishes


def test_a_clean_well_needs_nothing_and_is_told_so() -> None:
    told = plan(quiet("ph", "7.3"), quiet("nitrate", "2.1"), bacteria(found=False))
    assert told.trains == () == told.needs == told.refused
    assert steps(told) == {"nothing_needed"}


def test_yearly_tests_are_those_of_the_epa_page_for_private_wells() -> None:
    # US EPA, Protect Your Home's Water, 2021: total coliform, nitrate, total dissolved solids, pH.
    told = plan(quiet("ph", "7.3"))
    yearly = {again.analyte for again in told.retest if again.when == "every year"}
    assert yearly == {"total_coliform", "nitrate", "total_dissolved_solids", "ph"}
    assert all(again.why[0].args["source"] for again in told.retest)


def test_a_little_clear_iron_goes_with_the_softener() -> None:
    # Water Quality Association, Getting Smart with Softeners: iron below 2 mg/L.
    # NDSU Extension WQ1031: dissolved iron can be taken out by a softener.
    told = plan(finding("iron", "1.2"), finding("hardness", "280"), quiet("ph", "7.4"))
    assert trains(told)[0] == ["softener"]
    assert set(told.trains[0].stages[0].for_) == {"iron", "hardness"}
    assert ["air_injection_filter", "softener"] in trains(told)


def test_iron_that_is_rusty_at_once_does_not_go_with_the_softener() -> None:
    # PM Engineer, Finding the Right Solution for Complex Water Problems: red-water iron wants a
    # filter; a softener does not take it out.
    site = Site(tap=Tap(("rusty_at_once",)))
    told = plan(finding("iron", "1.2"), finding("hardness", "280"), quiet("ph", "7.4"), site=site)
    assert trains(told)[0] == ["air_injection_filter", "softener"]


@pytest.mark.parametrize(
    ("dissolved", "first"),
    [("1.15", ["softener"]), ("0.2", ["sediment_filter", "softener"])],
)
def test_dissolved_iron_decides_before_the_look_of_it(dissolved: str, first: list[str]) -> None:
    # NDSU Extension WQ1031: only iron that is dissolved is exchanged. PM Engineer: red-water iron
    # wants a filter that holds particles.
    told = plan(
        finding("iron", "1.2", fraction="total"),
        quiet("iron", dissolved, fraction="dissolved"),
        finding("hardness", "280"),
        site=Site(tap=Tap(("rusty_at_once",))),
    )
    assert trains(told)[0] == first


def test_more_iron_gets_a_filter_of_its_own_ahead_of_the_softener() -> None:
    told = plan(finding("iron", "4"), finding("hardness", "280"), quiet("ph", "7.4"))
    assert trains(told)[0] == ["air_injection_filter", "softener"]
    asked = {c.asks: c for c in told.trains[0].stages[1].conditions}
    iron = asked["Iron at most 2 mg/L"]
    assert iron.holds is None
    assert "expected behind the air-injection iron filter: measure it there" in iron.has


def test_iron_over_ten_is_beyond_the_air_filter() -> None:
    # Extension leaflet on iron and manganese treatment, Orange County NC: oxidizing filters to a
    # combined 15 mg/L.
    assert trains(plan(finding("iron", "12"), quiet("ph", "7.2")))[0] == ["oxidizing_filter"]
    told = plan(finding("iron", "14"), finding("manganese", "2"), quiet("ph", "7.2"))
    assert "oxidizing_filter" in refused(told)
    assert trains(told)[0][:2] == ["chlorine_feed", "retention_tank"]


@pytest.mark.parametrize(
    ("ph", "iron", "first"),
    [
        # Extension text, Drinking Water Treatment - pH Adjustment: calcite treats water as low as
        # pH 6; below that, and where iron is treated too, feed soda ash.
        ("6.3", "0.05", "calcite_neutralizer"),
        ("6.0", "0.05", "calcite_neutralizer"),
        ("5.6", "0.05", "calcite_magnesia_neutralizer"),
        ("4.8", "0.05", "soda_ash_feed"),
        ("6.3", "3.0", "soda_ash_feed"),
        ("5.6", "3.0", "soda_ash_feed"),
    ],
)
def test_acid_water(ph: str, iron: str, first: str) -> None:
    told = plan(finding("ph", ph), quiet("iron", iron))
    assert trains(told)[0] == [first]


def test_acid_water_with_iron_is_neutralized_ahead_of_the_iron_filter() -> None:
    told = plan(finding("ph", "6.2"), finding("iron", "5"), quiet("hardness", "60"))
    assert trains(told)[0] == ["soda_ash_feed", "air_injection_filter"]
    assert "2 mg/L" in refused(told)["calcite_neutralizer"]


def test_water_too_acid_for_an_iron_filter_is_neutralized_for_the_filter() -> None:
    # Household treatment table in an environmental engineering handbook: pH 6.8 for the catalyst.
    told = plan(finding("iron", "1.5"), quiet("ph", "6.6"))
    assert trains(told)[0] == ["calcite_neutralizer", "air_injection_filter"]
    extra = [need for need in told.needs if need.for_ == "equipment"]
    assert [need.analytes for need in extra] == [("ph",)]


def test_acid_water_without_copper_or_lead_gets_no_metal_filter() -> None:
    # County well survey, Orange County NC: 14 wells below pH 6.5 had no high lead or copper.
    told = plan(finding("ph", "6.1"), quiet("copper", "0.2"), quiet("lead", "0.001"))
    assert trains(told)[0] == ["calcite_neutralizer"]
    assert told.trains[0].stages[0].for_ == ("ph",)


def test_copper_in_acid_water_is_treated_at_its_cause() -> None:
    # Penn State, Corrosive Water, Lead and Copper in Private Water Supplies of Pennsylvania.
    told = plan(health("copper", "2.1"), finding("ph", "6.1"))
    assert all(len(stages) == 1 for stages in trains(told))
    assert set(told.trains[0].stages[0].for_) == {"copper", "ph"}
    assert "first_draw_pair" in steps(told)


def test_copper_without_a_ph_gets_steps_and_no_equipment() -> None:
    told = plan(health("copper", "2.1"))
    assert told.trains == ()
    assert {"first_draw_pair", "measure_ph"} <= steps(told)


def test_a_lead_filter_waits_for_the_two_samples() -> None:
    # US EPA 2024, Instructions for Homeowners: first draw after 6 hours, then flushed.
    told = plan(health("lead", "0.020"))
    assert told.trains == ()
    assert "lead_cartridge" in refused(told)
    assert {"first_draw_pair", "find_lead", "bottled_water"} <= steps(told)
    told = plan(health("lead", "0.020"), sample=Sample(taken="first_draw"))
    assert trains(told) == [["lead_cartridge"]]
    assert told.trains[0].stages[0].place == "point_of_use"


def test_nitrate_goes_to_the_drinking_tap_and_bottles_come_first() -> None:
    # Penn State Extension F-136: reverse osmosis, anion exchange, distillation. Washington State
    # nitrate notice: no formula under 12 months, never boil.
    told = plan(health("nitrate", "14", urgency="now"), bacteria(found=False))
    assert trains(told) == [["reverse_osmosis"], ["anion_exchanger"]]
    assert told.trains[0].stages[0].place == "point_of_use"
    assert told.steps[0].step == "bottled_nitrate"
    assert "until a test of the treated tap" in told.steps[0].why[0].text
    assert not any("boil" in step.why[0].text.lower() for step in told.steps)


def test_a_nitrate_claim_ends_at_27() -> None:
    # NSF/ANSI 58 statements in a manual: claims hold to 27 mg/L nitrate as N.
    told = plan(health("nitrate", "28"), bacteria(found=False))
    assert "27 mg/L as N" in refused(told)["reverse_osmosis"]
    assert trains(told)[0] == ["anion_exchanger"]
    assert trains(plan(health("nitrate", "27")))[0] == ["reverse_osmosis"]


def test_bacteria_mean_mending_before_equipment() -> None:
    # US EPA FAQ on E. coli in a private well: find and disinfect, then test again.
    told = plan(bacteria(), bacteria("e_coli"))
    assert trains(told)[0] == ["shock_chlorination"]
    order = [step.step for step in told.steps]
    assert order.index("mend_well") < order.index("shock_chlorinate")
    assert order.index("shock_chlorinate") < order.index("retest_bacteria")
    lamp = told.trains[1].stages[-1]
    assert lamp.stage == "uv"
    assert any("second sample still shows bacteria" in c.asks for c in lamp.conditions)
    assert any("no cure" in caution.text for caution in lamp.cautions)
    assert any("5 days" in again.when for again in told.retest)


def test_a_lamp_is_not_proposed_for_cloudy_water_that_stays_cloudy() -> None:
    told = plan(bacteria(), quiet("uv_transmittance", "60"))
    assert trains(told) == [["shock_chlorination"]]
    assert "75 %" in refused(told)["uv"]


def test_a_lamp_wants_clear_water_and_gets_a_filter_ahead() -> None:
    # UV guidance: turbidity below 1 NTU, here 3.
    told = plan(bacteria(), quiet("turbidity", "3"))
    assert trains(told)[1] == ["shock_chlorination", "sediment_filter", "uv"]
    assert [need.for_ for need in told.needs] == ["health", "equipment"]


def test_a_membrane_waits_until_the_well_is_clear_of_bacteria() -> None:
    # University of Nebraska G1490: reverse osmosis only on water free of coliform.
    told = plan(bacteria(), health("nitrate", "14"))
    assert trains(told)[0] == ["shock_chlorination", "reverse_osmosis"]
    feed = next(c for c in told.trains[0].stages[-1].conditions if c.asks.startswith("No bacteria"))
    assert feed.holds is False
    assert feed.has.startswith("found; test again after")


def test_arsenic_asks_which_arsenic() -> None:
    # Andrew 2015 and 2022: the membrane's claim is for arsenic V only; a cartridge may be listed
    # for both.
    told = plan(health("arsenic", "0.016"), quiet("iron", "0.05"), bacteria(found=False))
    assert trains(told) == [["reverse_osmosis"], ["arsenic_adsorber"]]
    assert "arsenic_species" in steps(told)
    assert any("arsenic V" in c.asks for c in told.trains[0].stages[0].conditions)
    told = plan(health("arsenic", "0.016"), quiet("arsenic_iii", "9"))
    assert trains(told)[0] == ["arsenic_adsorber"]
    assert "reverse_osmosis" in refused(told)
    assert "arsenic_species" not in steps(told)


def test_smell_in_hot_water_only_is_the_heater() -> None:
    # Water Supply 22(2), IWA, 2022: bacteria, sulfate and the magnesium anode.
    told = plan(quiet("sulfate", "60"), site=Site(tap=Tap(("rotten_egg_hot_only",))))
    assert told.trains == ()
    assert "look_at_heater" in steps(told)


@pytest.mark.parametrize(
    ("sulfide", "first"),
    [
        # Cooperative extension, Hydrogen Sulfide in Drinking Water: carbon for 0.05 to 0.3 mg/L.
        ("0.2", ["carbon_filter"]),
        ("1.5", ["air_injection_filter"]),
        # How to Treat Hydrogen Sulfide: chlorine for the strong ones, above 6 mg/L most of all.
        ("7", ["chlorine_feed", "retention_tank", "carbon_filter"]),
    ],
)
def test_rotten_egg_gas_by_amount(sulfide: str, first: list[str]) -> None:
    assert trains(plan(finding("hydrogen_sulfide", sulfide), quiet("ph", "7.5")))[0] == first


def test_no_air_filter_on_water_with_tannin() -> None:
    # State well leaflet on iron: color that never settles is organic iron; oxidation fails on it.
    told = plan(finding("iron", "3"), finding("tannin", "2"), quiet("ph", "7.2"))
    assert {"air_injection_filter", "oxidizing_filter"} <= set(refused(told))
    assert "Tannin" in refused(told)["air_injection_filter"]


def test_slime_in_the_tank_calls_for_disinfection_before_a_filter() -> None:
    # State well leaflet on iron: slime in the cistern, shock chlorinate, then chlorine.
    told = plan(finding("iron", "3"), site=Site(tap=Tap(("slime_in_tank",))))
    assert "look_in_tank" in steps(told)
    assert trains(told)[0][0] == "chlorine_feed"
    assert "air_injection_filter" in refused(told)


def test_radon_is_breathed_so_the_whole_house_is_treated_by_air() -> None:
    # Contractor pages quoting Vermont: carbon strongly discouraged; aeration to 99 %.
    told = plan(health("radon", "12000"))
    assert trains(told) == [["aerator"]]
    assert "radiation" in refused(told)["carbon_filter"]
    assert {"radon_air", "specialist"} <= steps(told)
    told = plan(health("radon", "12000"), site=Site(wishes=Wishes(scope="drinking_water")))
    assert told.trains == ()
    assert "breathed" in refused(told)["aerator"]


def test_solvents_are_breathed_so_carbon_stands_in_the_whole_house() -> None:
    # 40 CFR 141.61(b): granular activated carbon.
    told = plan(health("trichloroethylene", "9"))
    assert trains(told) == [["carbon_filter"]]
    assert told.trains[0].stages[0].place == "whole_house"
    assert "specialist" in steps(told)


def test_fuel_waits_until_its_source_was_found() -> None:
    """Common practice, no source: carbon for a leak that still runs is used up by it."""
    told = plan(health("benzene", "22"), finding("iron", "3"), finding("hardness", "300"))
    assert trains(told) == []
    assert [one.stage for one in told.refused] == ["carbon_filter"]
    assert {"find_fuel", "specialist", "call_health_department"} <= set(steps(told))
    assert "confirm_raw" not in steps(told)


def test_a_smell_of_fuel_holds_every_train_back() -> None:
    smells = Site(tap=Tap(("fuel_or_solvent_smell",)))
    told = plan(finding("iron", "3"), finding("hardness", "300"), site=smells)
    assert trains(told) == []
    assert {"stop_fumes", "find_fuel"} <= set(steps(told))


def test_pfas_at_the_tap_or_in_two_tanks_for_the_house() -> None:
    # Vermont Department of Health: whole-house carbon preferred, drinking tap accepted.
    told = plan(health("pfoa", "12"))
    assert trains(told) == [["reverse_osmosis"], ["carbon_filter"]]
    assert any("Two tanks" in c.asks for c in told.trains[1].stages[0].conditions)


def test_uranium_at_the_tap_or_by_anion_resin_behind_the_softener() -> None:
    # US EPA, Radionuclides: Modification of Existing Treatment: add anion resin to a softener.
    told = plan(health("uranium", "60"), finding("hardness", "300"))
    assert trains(told) == [["softener", "reverse_osmosis"], ["softener", "anion_exchanger"]]


def test_radium_goes_with_the_softener_that_hard_water_needs_anyway() -> None:
    # FAQ on radium removal in community systems: a softener takes about 90 %.
    told = plan(health("radium_226_228", "8"), finding("hardness", "300"))
    assert trains(told)[0] == ["softener"]
    assert trains(plan(health("radium_226_228", "8")))[0] == ["reverse_osmosis"]


def test_salty_water_is_treated_at_one_tap() -> None:
    # University of Nebraska G1490: reverse osmosis takes dissolved salts.
    told = plan(finding("sulfate", "400"), finding("total_dissolved_solids", "900"))
    assert trains(told) == [["reverse_osmosis"]]


def test_activated_alumina_wants_acid_water() -> None:
    # Hunt 2001: best at pH 5.5 to 6.
    told = plan(health("fluoride", "5"), quiet("ph", "7.6"))
    assert trains(told)[0] == ["reverse_osmosis"]
    assert all("fluoride_adsorber" not in stages for stages in trains(told))


def test_hardness_in_grains_is_the_same_water() -> None:
    # 1 grain per US gallon is 17.118 mg/L as CaCO3: 8 gpg is 137 mg/L, 7 gpg is 120 (119.8).
    hard = finding("hardness", "8", unit="gpg", basis=None)
    assert trains(plan(hard)) == [["softener"]]
    assert plan(finding("hardness", "7", unit="gpg", basis=None)).needs == ()


def test_arsenic_in_micrograms_is_the_same_water() -> None:
    told = plan(health("arsenic", "310", unit="ug/L"))
    assert "0.3 mg/L" in refused(told)["reverse_osmosis"]
