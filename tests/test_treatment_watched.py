"""What is watched: when it still asks for treatment, and when it does not.

The levels are those of 40 CFR 143.3 (manganese 0.05 mg/L, sulfate 250 mg/L, fluoride 2.0 mg/L).
"""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from treatment_wells import finding, health, level, plan, quiet, steps, trains

import welltold
from welltold.interpretation import Finding, Verdict
from welltold.site import Home, Site
from welltold.treatment import Plan


def rusty(verdict: Verdict, value: str = "0.21") -> Plan:
    """Return the advice on hard, rusty water in a home with a baby."""
    manganese = finding(
        "manganese",
        value,
        verdict,
        persons=("infant",),
        levels=(level("0.05", "mg/L", "secondary"),),
    )
    home = Site(home=Home(persons=("infant",)))
    return plan(finding("iron", "3.4"), finding("hardness", "357"), manganese, site=home)


def test_a_baby_in_the_home_does_not_take_manganese_out_of_the_treatment() -> None:
    with_baby, without = rusty("watch"), rusty("nuisance_only")
    assert trains(with_baby) == trains(without)
    assert [s.for_ for s in with_baby.trains[0].stages] == [
        s.for_ for s in without.trains[0].stages
    ]
    assert [need.for_ for need in with_baby.needs if "manganese" in need.analytes] == ["nuisance"]
    assert "live_with_it" not in steps(with_baby)


def test_manganese_that_is_watched_below_its_line_for_stains_asks_for_nothing() -> None:
    told = rusty("watch", "0.04")
    assert not any("manganese" in need.analytes for need in told.needs)


def sulfate(**more: object) -> Finding:
    levels = (level("250", "mg/L", "secondary"),)
    return finding("sulfate", "600", "watch", levels=levels, **more)  # type: ignore[arg-type]  # real fields


def test_sulfate_that_is_watched_asks_for_no_less_than_sulfate_that_only_tastes() -> None:
    assert trains(plan(sulfate())) == trains(plan(finding("sulfate", "300"))) != []


def test_what_is_only_less_than_a_line_is_not_above_it() -> None:
    assert plan(sulfate(operator="<")).needs == ()


@pytest.mark.parametrize("person", ["child", "infant"])
def test_fluoride_that_is_watched_asks_for_a_child_and_for_a_baby_only(person: str) -> None:
    """40 CFR 141.208: the notice above 2.0 mg/L is for children under nine."""
    levels = (level("2.0", "mg/L", "secondary"),)
    fluoride = finding("fluoride", "2.6", "watch", persons=("child", "infant"), levels=levels)
    assert plan(fluoride).needs == ()
    young = plan(fluoride, site=Site(home=Home(persons=(person,))))  # type: ignore[arg-type]  # a person
    assert [need.for_ for need in young.needs] == ["health"]
    assert "someone in your home" in young.needs[0].why[0].text


def test_the_source_of_a_solvent_is_looked_for_before_anything_is_ordered() -> None:
    """Carbon is a treatment for it (40 CFR 141.61(b)); its step is ahead of the order."""
    told = plan(health("trichloroethylene", "9"))
    order = [step.step for step in told.steps]
    assert order.index("find_solvent") < order.index("specialist") < order.index("confirm_raw")
    assert (
        "health department" in next(s for s in told.steps if s.step == "find_solvent").why[0].text
    )


def test_fuel_has_its_own_step_in_place_of_that_for_solvents() -> None:
    told = plan(health("trichloroethylene", "9"), health("benzene", "9"))
    assert "find_fuel" in steps(told)
    assert "find_solvent" not in steps(told)


def test_a_level_that_may_not_be_reached_is_told_in_a_sentence() -> None:
    """40 CFR 143.3: 0.3 mg/L of iron; the picture of the same train tells up to 0.34 mg/L."""
    sheet = Path(__file__).parents[1] / "samples" / "sheets" / "hard-rusty.pdf"
    first = welltold.interpret(welltold.read(sheet)).samples[0].trains[0]
    assert first.water is not None
    iron = first.water[-1].values["iron"].high
    assert iron is not None
    assert round(iron, 2) == Decimal("0.34")
    told = [one.text for one in first.against if one.code == "simulation.may_miss"]
    assert told == [
        "Iron may not get down to 0.3 mg/L. Up to 0.34 mg/L is expected, so test behind it."
    ]


def test_where_nothing_is_foretold_no_level_is_said_to_be_missed() -> None:
    """All that is known of this iron is that no more leaves the filter than came in."""
    line = (level("0.3", "mg/L", "secondary"),)
    told = plan(finding("iron", "3.4", levels=line), quiet("ph", "7.3"))
    assert told.trains
    assert not [one for train in told.trains for one in train.against if "may_miss" in one.code]
