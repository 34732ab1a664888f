"""Doubts about water behind equipment, results that contradict, and numbers near their level."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.reading import Alternative
from welltold.site import Equipment, Site, Well
from welltold.verdicts.doubt_tables import (
    flag_effects,
    hidden_by,
    sampling_doubts,
    waiting_limits,
)

if TYPE_CHECKING:
    from .conftest import Bench
from verdicts.doubt_words import steps, told

# --- equipment in front of the tap


@pytest.mark.parametrize(
    ("stage", "slug", "text", "unit", "verdict"),
    [
        ("softener", "hardness", "5", "mg/L", "cant_tell"),  # NDSU WQ1031: takes calcium
        ("softener", "nitrate", "1", "mg/L:N", "no_concern_found"),  # and no nitrate
        ("reverse_osmosis", "arsenic", "<1", "ug/L", "cant_tell"),
        ("reverse_osmosis", "arsenic", "13", "ug/L", "health_concern"),
        ("uv", "total_coliform", "Absent", None, "cant_tell"),
        ("uv", "arsenic", "<1", "ug/L", "no_concern_found"),
        ("carbon_filter", "pfoa", "<2", "ng/L", "cant_tell"),
        ("aerator", "radon", "120", "pCi/L", "cant_tell"),
    ],
)
def test_a_low_result_behind_equipment_does_not_show_the_well(
    bench: Bench, stage: str, slug: str, text: str, unit: str | None, verdict: str
) -> None:
    spelling, _, basis = (unit or "").partition(":")
    site = Site(equipment=Equipment(after=(stage,)))
    finding = bench.judge(bench.result(slug, text, spelling or None, basis or None), site=site)
    assert finding.verdict == verdict
    assert ("in front of the equipment" in steps(finding)) is (verdict == "cant_tell")


def test_treated_by_nobody_knows_what_hides_everything_low(bench: Bench) -> None:
    finding = bench.judge(bench.result("uranium", "2", "ug/L"), taken="treated")
    assert finding.verdict == "cant_tell"
    assert "treated before it was tested" in told(finding)


def test_every_stage_says_what_it_can_hide() -> None:
    from welltold.site_keys import stage_names

    assert set(hidden_by()) == {*stage_names(), "unknown"} - {"shock_chlorination"}


# --- two results that cannot both be right


def test_two_results_that_contradict_are_named(bench: Bench) -> None:
    low = bench.result("nitrate", "2", "mg/L", "N")
    high = bench.result("nitrate", "14", "mg/L", "N")
    quiet, grave = bench.judge(low, high), bench.judge(high, low)
    assert quiet.verdict == "cant_tell"
    assert "nitrate 14" in told(quiet)
    assert (grave.verdict, grave.urgency) == ("health_concern", "now")
    assert "nitrate 2" in told(grave)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (("nitrate", "4.9", "mg/L", "N"), ("nitrate", "5.1", "mg/L", "N")),  # duplicates
        (("nitrate", "<6", "mg/L", "N"), ("nitrate", "5.5", "mg/L", "N")),  # overlap
        (("nitrate", "4", "mg/L", "N"), ("nitrate", "17.7", "mg/L", "NO3")),  # the same amount
    ],
)
def test_two_results_that_can_both_be_right_are_left_alone(
    bench: Bench, one: tuple[str, ...], other: tuple[str, ...]
) -> None:
    finding = bench.judge(bench.result(*one), bench.result(*other))
    assert "Both cannot be right" not in told(finding)


# --- near a level: 40 CFR 141.89(a)(1)(ii) and Michigan R 325.12702 table 1


@pytest.mark.parametrize(
    ("slug", "text", "unit", "words"),
    [
        ("nitrate", "10.4", "mg/L:N", "10 percent"),
        ("nitrate", "9.6", "mg/L:N", "10 percent"),
        ("nitrate", "11.2", "mg/L:N", ""),
        ("nitrate", "7", "mg/L:N", ""),
        ("arsenic", "12", "ug/L", "30 percent"),
        ("arsenic", "12 ± 1", "ug/L", ""),  # the lab's own range goes first
        ("arsenic", "12 ± 3", "ug/L", "plus or minus 3 µg/L"),
        ("uranium", "28 ± 4", "ug/L", "plus or minus 4 µg/L"),
    ],
)
def test_a_number_near_its_level_is_told_with_what_the_test_can_tell_apart(
    bench: Bench, slug: str, text: str, unit: str, words: str
) -> None:
    spelling, _, basis = unit.partition(":")
    number = text.split(maxsplit=1)[0]
    row = bench.result(slug, number, spelling, basis or None)
    from dataclasses import replace

    finding = bench.judge(replace(row, text=text))
    assert words in told(finding)
    assert bool(words) is ("other side of the level" in told(finding))


def test_the_verdict_stays_on_the_unrounded_value(bench: Bench) -> None:
    # 40 CFR 141.62(b)(7): above 10; a utility may round 10.4 to 10, this does not
    assert bench.judge(bench.result("nitrate", "10.04", "mg/L", "N")).verdict == "health_concern"
    assert bench.judge(bench.result("nitrate", "9.96", "mg/L", "N")).verdict == "watch"


# --- doubt never takes a protective step away

SLUGS = ("nitrate", "nitrite", "lead", "arsenic", "e_coli", "total_coliform", "benzene", "iron")
UNITS = {"nitrate": ("mg/L", "N"), "nitrite": ("mg/L", "N"), "e_coli": (None, None),
         "total_coliform": (None, None), "iron": ("mg/L", None)}  # fmt: skip
ROW = st.tuples(
    st.sampled_from(SLUGS),
    st.sampled_from(["0.5", "3", "12", "40", "<1", "<50", ">5", "ND", "Present", "Absent", "???"]),
    st.sets(st.sampled_from(["J", "R", "B", "H", "E", "N", "Q9", "J-", "headspace"]), max_size=3),
)
SCENES = st.fixed_dictionaries(
    {
        "taken": st.sampled_from(["first_draw", "flushed", "raw", "treated", None]),
        "shocked": st.sampled_from([None, 3, 30]),
        "after": st.sampled_from([(), ("softener",), ("reverse_osmosis",), ("uv",)]),
        "waited": st.booleans(),
        "other": st.sampled_from([None, "2", "13"]),
        "confidence": st.sampled_from([1.0, 0.4]),
    }
)
ASKS = ("verdict.do_ask_", "verdict.do_check_", "verdict.do_germs_boil", "verdict.do_test_yearly")
"""Steps that protect nobody by themselves, and those that the boil rule may take back."""
HURRY = {None: 0, "soon": 1, "now": 2}


@given(row=ROW, scene=SCENES)
@settings(max_examples=400, deadline=None)
def test_doubt_never_takes_a_protective_step_away(
    bench: Bench, row: tuple[str, str, set[str]], scene: dict[str, Any]
) -> None:
    slug, text, marks = row
    unit, basis = UNITS.get(slug, ("ug/L", None))
    plain = bench.result(slug, text, unit, basis)
    bare = bench.judge(plain)
    other = scene["other"]
    guesses = (Alternative(other, Decimal(other), "faint"),) if other and unit else ()
    from dataclasses import replace

    doubtful = replace(
        plain, qualifiers=tuple(sorted(marks)), alternatives=guesses, confidence=scene["confidence"]
    )
    site = Site(
        well=Well(shocked_days_ago=scene["shocked"]), equipment=Equipment(after=scene["after"])
    )
    dates = {"collected": "2026-11-01T08:00", "received": "2026-11-20T08:00"}
    finding = bench.judge(
        doubtful, site=site, taken=scene["taken"], **(dates if scene["waited"] else {})
    )
    assert HURRY[finding.urgency] >= HURRY[bare.urgency]
    kept = {step.code for step in finding.do}
    needed = {step.code for step in bare.do if bare.urgency is not None}
    if scene["shocked"] and "verdict.do_sample_after_shock" in kept:
        # the chlorine is in already: the second sample waits until it is gone
        needed -= {"verdict.do_new_germ_sample"}
    assert {code for code in needed if not code.startswith(ASKS)} <= kept
    assert set(bare.persons) <= set(finding.persons)
    if bare.verdict in {"health_concern", "watch"}:
        assert finding.verdict in {bare.verdict, "health_concern", "cant_tell"}


def test_the_tables_of_doubt_name_known_analytes() -> None:
    from welltold.analytes import registry

    rows = [one.of for one in sampling_doubts()]
    rows += [one.of for effects in flag_effects().values() for one in effects]
    rows += [one.of for one, _ in waiting_limits()]
    rows += list(hidden_by().values())
    named = {slug for row in rows for slug in row}
    plain = {slug for slug in named if slug != "*" and not slug.startswith("group:")}
    assert plain <= set(registry())
    groups = {slug.removeprefix("group:") for slug in named if slug.startswith("group:")}
    assert groups <= {one.group for one in registry().values()}


# --- what may be higher than printed, below, near and over its level


@pytest.mark.parametrize(
    ("slug", "text", "unit", "basis", "urgency", "careful"),
    [
        ("arsenic", "3", "ug/L", None, "soon", "verdict.do_bottled_bath_known"),
        ("arsenic", "9", "ug/L", None, "soon", "verdict.do_bottled_bath_known"),
        ("nitrate", "3", "mg/L", "N", "now", "verdict.do_no_formula"),
        ("nitrate", "9", "mg/L", "N", "now", "verdict.do_no_formula"),
        ("nitrite", "0.8", "mg/L", "N", "now", "verdict.do_no_formula"),
    ],
)
def test_a_number_over_the_range_may_be_over_the_level(
    bench: Bench, slug: str, text: str, unit: str, basis: str | None, urgency: str, careful: str
) -> None:
    # E: above the calibrated range, so from the number up; nitrate and nitrite act within days
    finding = bench.judge(bench.result(slug, text, unit, basis, qualifiers=("E",)))
    assert (finding.verdict, finding.urgency) == ("cant_tell", urgency)
    assert careful in {step.code for step in finding.do}
    assert "verdict.do_test_yearly" not in {step.code for step in finding.do}
    assert finding.high is None


def test_an_overrange_salt_asks_for_no_bottled_water(bench: Bench) -> None:
    finding = bench.judge(bench.result("sodium", "20", "mg/L", qualifiers=("E",)))
    assert (finding.verdict, finding.urgency) == ("cant_tell", None)
    assert "bottled" not in steps(finding)


@pytest.mark.parametrize(
    ("text", "verdict"), [("3", "cant_tell"), ("6", "watch"), ("12", "health_concern")]
)
def test_water_behind_equipment_never_speaks_for_the_well(
    bench: Bench, text: str, verdict: str
) -> None:
    site = Site(equipment=Equipment(after=("reverse_osmosis",)))
    finding = bench.judge(bench.result("arsenic", text, "ug/L"), site=site)
    assert finding.verdict == verdict
    assert "It does not show what is in the well." in told(finding)
    assert (finding.high is None) is (verdict != "health_concern")
    assert "or treated" not in steps(finding)


def test_what_the_family_drinks_is_told_beside_what_the_well_may_hold(bench: Bench) -> None:
    quiet = bench.judge(bench.result("nitrate", "2", "mg/L", "N"), taken="treated")
    assert "In the water of this tap itself, no concern was found." in told(quiet)
    watched = bench.judge(bench.result("nitrate", "6", "mg/L", "N"), taken="treated")
    lead = bench.judge(bench.result("lead", "<1", "ug/L"), taken="treated")
    for other in (watched, lead):  # near the level; not known for water that stood
        assert "no concern was found" not in told(other)


def test_lead_that_is_watched_asks_once_for_two_samples(bench: Bench) -> None:
    for taken in ("flushed", None):
        finding = bench.judge(bench.result("lead", "3", "ug/L"), taken=taken)
        assert (finding.verdict, finding.high) == ("watch", None)
        assert "can hold more" in told(finding)
        asked = [step.code for step in finding.do if "first_draw" in step.code]
        assert asked == []
        assert "verdict.do_lead_two_samples" in {step.code for step in finding.do}
