"""Wells with a site file, a doubt or a rare result: what each adds to the advice."""

from __future__ import annotations

from decimal import Decimal

import pytest
from treatment_wells import (
    bacteria,
    finding,
    health,
    level,
    plan,
    quiet,
    refused,
    steps,
    trains,
)

from welltold.interpretation import Goal
from welltold.messages import say
from welltold.reading import Sample
from welltold.site import Equipment, Home, SampleFacts, Site, Tap, Well, Wishes
from welltold.site_keys import Timed
from welltold.treatment import consider

# What the owner wants, what is there, and how the sample was taken.


def test_no_salt_is_honoured_and_said() -> None:
    told = plan(finding("hardness", "300"), site=Site(wishes=Wishes(no_salt=True)))
    assert told.trains == ()
    assert "no salt" in refused(told)["softener"]
    assert "left_over" in steps(told)
    assert "Hardness" in next(s for s in told.steps if s.step == "left_over").why[0].text


def test_no_chemicals_is_honoured_and_said() -> None:
    site = Site(wishes=Wishes(no_chemicals=True))
    told = plan(finding("ph", "5.2"), finding("iron", "4"), site=site)
    assert told.trains == ()
    assert "no chemicals" in refused(told)["soda_ash_feed"]


def test_drinking_tap_only_leaves_the_house_alone_and_says_what_is_left() -> None:
    site = Site(wishes=Wishes(scope="drinking_water"))
    told = plan(health("arsenic", "0.02"), finding("hardness", "300"), site=site)
    # 300 mg/L of hardness would scale a membrane, and no softener is wanted: the cartridge first.
    assert trains(told) == [["arsenic_adsorber"], ["reverse_osmosis"]]
    assert told.trains[0].left == ("hardness",)
    assert "drinking tap only" in refused(told)["softener"]


BEHIND = [
    (Sample(id="A"), Site(equipment=Equipment(after=("softener",)))),
    (Sample(id="A", taken="treated"), Site()),
    (Sample(id="A"), Site(samples={"A": SampleFacts(after=("softener",))})),
    (Sample(id="A"), Site(samples={"A": SampleFacts(taken="treated")})),
    (Sample(id="A", taken="raw"), Site(samples={"A": SampleFacts(taken="treated")})),
]


@pytest.mark.parametrize(("sample", "site"), BEHIND)
def test_a_sample_from_behind_equipment_gets_no_train(sample: Sample, site: Site) -> None:
    told = plan(finding("iron", "4"), finding("hardness", "300"), sample=sample, site=site)
    assert told.trains == ()
    assert "raw_sample" in steps(told)
    assert len(told.needs) == 2


def test_the_site_file_knows_better_where_the_sample_was_taken() -> None:
    site = Site(equipment=Equipment(after=("softener",)), samples={"A": SampleFacts(taken="raw")})
    told = plan(finding("iron", "4"), sample=Sample(id="A", taken="treated"), site=site)
    assert told.trains


def test_clean_treated_water_is_not_told_that_the_well_needs_nothing() -> None:
    told = plan(quiet("iron", "0.1"), sample=Sample(taken="treated"))
    assert steps(told) == {"raw_sample"}


def test_an_unknown_pump_is_a_condition_with_the_bucket_test() -> None:
    told = plan(finding("iron", "4"))
    pump = next(c for c in told.trains[0].stages[0].conditions if "pump" in c.asks)
    assert pump.holds is None
    assert "5 gallon bucket" in pump.asks
    assert "bucket_test" in steps(told)


@pytest.mark.parametrize(
    "well",
    [
        Well(pump_gpm=Decimal(3)),
        # 5 gallons in 100 seconds are 3 gallons a minute.
        Well(bucket=Timed(Decimal(5), Decimal(100))),
        # The smallest of several figures counts.
        Well(pump_gpm=Decimal(9), bucket=Timed(Decimal(5), Decimal(100))),
    ],
)
def test_a_pump_too_weak_for_the_smallest_bed_asks_for_storage_or_twins(well: Well) -> None:
    # Light media wash at 10 gpm a square foot: an 8-inch tank, 0.349 square feet, asks 3.5 gpm.
    told = plan(finding("iron", "4"), quiet("ph", "7.4"), site=Site(well=well))
    stage = told.trains[0].stages[0]
    assert stage.size
    assert "storage_gal" in stage.size
    assert told.trains[0].flow
    assert told.trains[0].flow.fits is False
    assert any("The pump gives 3 gpm" in caution.text for caution in stage.cautions)
    assert "storage_booster" in steps(told)


def test_a_strong_pump_is_compared_with_the_tank_and_asked_for_its_pressure() -> None:
    told = plan(finding("iron", "4"), site=Site(well=Well(pump_gpm=Decimal(12))))
    pump = [c for c in told.trains[0].stages[0].conditions if "pump" in c.asks]
    assert [c.holds for c in pump] == [True, None]
    assert all(c.has.startswith("12 gpm") for c in pump)
    assert "bucket_test" not in steps(told)
    assert "pressure_test" in steps(told)


def test_a_doubtful_number_is_checked_on_the_sheet_first() -> None:
    told = plan(finding("hardness", "300", confidence=0.7))
    doubt = [c for c in told.trains[0].stages[0].conditions if "lab sheet" in c.asks]
    assert [c.holds for c in doubt] == [None]
    sure = plan(finding("hardness", "300", confidence=0.95))
    assert not any("lab sheet" in c.asks for c in sure.trains[0].stages[0].conditions)


def test_a_doubtful_number_never_makes_a_condition_hold() -> None:
    told = plan(finding("hardness", "300"), quiet("iron", "0.1", confidence=0.5))
    iron = next(c for c in told.trains[0].stages[0].conditions if c.asks.startswith("Iron"))
    assert iron.holds is None
    assert "not sure" in iron.has


def test_a_result_below_a_high_limit_does_not_make_a_condition_hold() -> None:
    told = plan(finding("hardness", "300"), quiet("iron", "5", operator="<"))
    iron = next(c for c in told.trains[0].stages[0].conditions if c.asks.startswith("Iron"))
    assert (iron.has, iron.holds) == ("<5 mg/L", None)


def test_a_softener_names_the_low_sodium_diet() -> None:
    site = Site(home=Home(persons=("low_sodium_diet",)))
    told = plan(finding("hardness", "300"), site=site)
    said = " ".join(caution.text for caution in told.trains[0].stages[0].cautions)
    assert "low-sodium diet" in said
    assert "low-sodium" not in " ".join(
        c.text for c in plan(finding("hardness", "300")).trains[0].stages[0].cautions
    )


def test_brine_and_septic() -> None:
    def said(waste: str | None) -> str:
        site = Site(home=Home(waste=waste))  # type: ignore[arg-type]  # a value of the list
        stage = plan(finding("hardness", "300"), site=site).trains[0].stages[0]
        return " ".join(caution.text for caution in stage.cautions)

    assert "septic" in said("septic")
    assert "septic" in said(None)
    assert "septic" not in said("sewer")


def test_equipment_in_place_is_looked_at_before_another_is_bought() -> None:
    site = Site(equipment=Equipment(in_place=("softener",)))
    stage = plan(finding("hardness", "300"), site=site).trains[0].stages[0]
    assert any("in the house already" in caution.text for caution in stage.cautions)


def test_calcite_makes_the_hardness_ahead_of_the_softener_unknown() -> None:
    # The reaction CaCO3 + CO2 + H2O adds as much hardness as calcite dissolves.
    told = plan(finding("ph", "6.2"), finding("hardness", "150"), quiet("iron", "0.02"))
    assert trains(told)[0] == ["calcite_neutralizer", "softener"]
    neutralizer = told.trains[0].stages[0]
    assert any("harder" in caution.text for caution in neutralizer.cautions)


def test_a_flooded_well_is_disinfected_and_tested_whatever_the_sheet_says() -> None:
    # US EPA, Protect Your Home's Water: test at once after a flood.
    told = plan(bacteria(found=False), site=Site(well=Well(flooded=True)))
    assert {"after_flood", "mend_well", "retest_bacteria"} <= steps(told)
    assert "nothing_needed" not in steps(told)
    assert any((a.analyte, a.when) == ("total_coliform", "at once") for a in told.retest)


def test_a_baby_in_the_house_gets_the_tests_of_the_minnesota_list() -> None:
    # Minnesota Department of Health, Safe Drinking Water for Your Baby.
    told = plan(quiet("ph", "7"), site=Site(home=Home(persons=("infant",))))
    before = {a.analyte for a in told.retest if "baby" in a.when}
    assert before == {"total_coliform", "nitrate", "arsenic", "fluoride", "lead", "manganese"}


def test_what_the_tables_do_not_know_is_never_dropped() -> None:
    told = plan(health("boron", "9"), finding("zinc", "8"), finding("ph", "9.2"))
    assert [need.analytes for need in told.needs] == [("boron",), ("zinc", "ph")]
    said = {step.step: step.why[0].text for step in told.steps}
    assert "Boron" in said["no_stage_health"]
    assert "Zinc" in said["no_stage_nuisance"]
    assert told.trains == ()


def test_gas_that_can_burn_is_for_a_specialist() -> None:
    told = plan(health("methane", "29", urgency="now"))
    assert told.trains == ()
    assert told.steps[0].step == "vent_methane"
    assert "specialist" in steps(told)


def test_fumes_come_first_of_all_steps() -> None:
    site = Site(tap=Tap(("fuel_or_solvent_smell",)))
    told = plan(health("benzene", "9"), health("nitrate", "14"), site=site)
    assert told.steps[0].step == "stop_fumes"


def test_gross_alpha_is_first_told_apart() -> None:
    told = plan(health("gross_alpha", "22"))
    assert told.trains == ()
    assert "which_alpha" in steps(told)


def test_a_sheet_that_cannot_tell_is_not_called_quiet() -> None:
    told = plan(finding("nitrate", "12", "cant_tell"), quiet("ph", "7"))
    assert steps(told) == {"nothing_told"}


def test_the_goal_is_the_level_that_was_passed() -> None:
    arsenic = health(
        "arsenic", "0.016", levels=(level("0.010", "mg/L"), level("0", "mg/L", "goal"))
    )
    told = plan(arsenic, finding("hardness", "300"), finding("ph", "6.2"))
    goals = {need.analytes: need.goal for need in told.needs}
    assert goals["arsenic",] == Goal(Decimal("0.010"), "mg/L", None)
    assert goals["hardness",] == Goal(Decimal(120), "mg/L", "CaCO3")
    assert goals["ph",] == Goal(Decimal("6.5"), "SU", None)


def test_one_filter_serves_iron_and_manganese() -> None:
    # Extension leaflet on iron and manganese treatment: one oxidizing filter for both.
    told = plan(finding("iron", "3"), finding("manganese", "0.6"), quiet("ph", "7.4"))
    assert trains(told)[0] == ["oxidizing_filter"]
    assert set(told.trains[0].stages[0].for_) == {"iron", "manganese"}


def test_a_tap_device_that_stays_is_not_doubled_by_another() -> None:
    told = plan(health("nitrate", "14"), health("arsenic", "0.016"), bacteria(found=False))
    assert trains(told)[0] == ["reverse_osmosis"]
    assert all(
        "reverse_osmosis" not in stages or stages == ["reverse_osmosis"] for stages in trains(told)
    )


def test_what_a_stage_ahead_adds_is_measured_behind_it() -> None:
    # The reaction CaCO3 + CO2 + H2O adds hardness: 100 mg/L in the well is more behind calcite.
    told = plan(bacteria(), finding("ph", "6.2"), quiet("hardness", "100"), quiet("iron", "0.02"))
    assert trains(told)[1] == ["shock_chlorination", "calcite_neutralizer", "uv"]
    lamp = told.trains[1].stages[-1]
    hardness = next(c for c in lamp.conditions if c.asks.startswith("Hardness"))
    assert hardness.holds is None
    assert "adds to it" in hardness.has


def test_a_yearly_test_is_listed_once() -> None:
    told = plan(health("nitrate", "14"), bacteria(found=False))
    yearly = [again for again in told.retest if again.when.startswith("every year")]
    assert [again.when for again in yearly if again.analyte == "nitrate"] == [
        "every year, raw and treated"
    ]


@pytest.mark.parametrize(("arsenic", "holds"), [("0.039", True), ("0.055", False)])
def test_much_arsenic_asks_whether_one_tap_is_enough(arsenic: str, holds: bool) -> None:
    # Maine CDC 2016: the kitchen tap is enough below 40 micrograms per liter.
    stage = plan(health("arsenic", arsenic)).trains[0].stages[0]
    assert next(c for c in stage.conditions if "one tap is enough" in c.asks).holds is holds


def test_a_mere_nuisance_may_be_left_as_it_is() -> None:
    assert "live_with_it" in steps(plan(finding("iron", "0.31")))
    assert "live_with_it" not in steps(plan(finding("iron", "0.31"), health("nitrate", "12")))


def test_a_nuisance_with_persons_at_risk_is_not_waved_through() -> None:
    # 40 CFR 141.208: above 2 mg/L fluoride, other water for children under nine.
    told = plan(finding("fluoride", "2.6", persons=("child",)))
    assert told.trains
    assert "live_with_it" not in steps(told)


def test_rust_needs_no_cartridge_ahead_of_the_iron_filter() -> None:
    # A cartridge that plugs within days means dissolved iron: the iron filter holds the rust.
    rusty = (finding("iron", "3.4"), finding("turbidity", "21"), finding("hardness", "357"))
    told = plan(*rusty, quiet("ph", "7.3"))
    assert trains(told)[0] == ["air_injection_filter", "softener"]
    assert ["oxidizing_filter", "softener"] in trains(told)
    told = plan(finding("turbidity", "21"), finding("hardness", "357"), quiet("iron", "0.1"))
    assert trains(told)[0] == ["sediment_filter", "softener"]


def test_a_converted_number_is_shown_with_a_lab_s_digits() -> None:
    # 18.4 German degrees are 328.4 mg/L as CaCO3 (1 degree: 17.848).
    hard = finding("hardness", "328.402446635875671")
    told = plan(hard)
    assert told.needs[0].why[0].args["text"] == "328.4 mg/L as CaCO3"


def test_permanganate_is_fed_behind_the_calcite() -> None:
    told = plan(finding("manganese", "0.4"), finding("ph", "6.4"), quiet("iron", "0.05"))
    assert ["calcite_neutralizer", "permanganate_feed", "greensand_filter"] in trains(told)


@pytest.mark.parametrize("operator", ["=", None])
def test_a_number_that_cannot_be_told_makes_no_condition_hold(operator: str | None) -> None:
    # A nitrite whose basis is open is not known, though a number is printed.
    told = plan(health("nitrate", "14"), finding("nitrite", "2", "cant_tell", operator=operator))  # type: ignore[arg-type]  # a calculated finding has no sign
    nitrite = next(c for c in told.trains[0].stages[0].conditions if c.asks.startswith("Nitrite"))
    assert nitrite.holds is None
    assert "measure it" in nitrite.has


def test_health_comes_before_comfort() -> None:
    told = plan(finding("iron", "1"), health("pfoa", "12"), finding("hardness", "200"))
    assert [need.analytes[0] for need in told.needs] == ["pfoa", "iron", "hardness"]


def test_two_samples_of_two_wells_are_no_pair() -> None:
    # A first draw of one house and a flushed sample of another do not show where lead comes from.
    facts = {"A": SampleFacts(taken="first_draw"), "B": SampleFacts(taken="flushed")}
    site, lead = Site(samples=facts), (health("lead", "0.020"),)
    one = Sample(id="A", point="Kitchen")
    other = Sample(id="B", point="Kitchen")

    def pair(beside: tuple[Sample, ...]) -> str:
        stage = consider(lead, one, site, beside).trains[0].stages[0]
        return next(c.has for c in stage.conditions if "flushed sample" in c.asks)

    assert pair(()) == "one of the two samples"
    assert pair((other,)) == "both samples"


def test_any_germ_that_boiling_answers_counts_as_bacteria_before_a_lamp() -> None:
    # Giardia passes a coliform test; a unit that must not see germs must not see it either.
    told = plan(health("nitrate", "14"), bacteria("giardia"), bacteria(found=False))
    asked = [c for t in told.trains for s in t.stages for c in s.conditions]
    assert any(c.has.startswith("found") for c in asked if c.asks.startswith("No bacteria"))


def test_a_step_that_a_finding_tells_is_not_told_again() -> None:
    copper = health("copper", "2.1", do=(say("verdict.do_copper_two_samples"),))
    assert "first_draw_pair" not in steps(plan(copper))
    assert "first_draw_pair" in steps(plan(health("copper", "2.1")))


@pytest.mark.parametrize(
    ("three", "first"), [("2.2", "reverse_osmosis"), ("12", "arsenic_adsorber")]
)
def test_a_little_arsenic_iii_beside_much_arsenic_leaves_the_membrane_open(
    three: str, first: str
) -> None:
    # EPA/600/R-06/094, Homedale, Idaho: 2.2 of 56 ug/L was arsenic III, and tap membranes did it.
    told = plan(health("arsenic", "0.056"), quiet("arsenic_iii", three), bacteria(found=False))
    assert trains(told)[0] == [first]


def test_gas_in_the_water_is_never_beside_a_word_that_nothing_is_needed() -> None:
    site = Site(tap=Tap(("milky_spurting",)))
    assert steps(plan(quiet("ph", "7.3"), site=site)) == {"vent_methane"}
