"""What a lab's mark, the way of sampling, dates and equipment leave open."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.interpretation import Finding
from welltold.reading import Alternative, Reading, Sample, Source, Unread, Where
from welltold.site import Equipment, Site, Well
from welltold.verdicts.doubt_tables import (
    flag_effects,
    hidden_by,
    known_marks,
    sampling_doubts,
    waiting_limits,
)

if TYPE_CHECKING:
    from .conftest import Bench


def told(finding: Finding) -> str:
    return " ".join(message.text for message in finding.why)


def steps(finding: Finding) -> str:
    return " ".join(message.text for message in finding.do)


# --- the lab's marks: EPA National Functional Guidelines (2020), lists of data qualifiers


@pytest.mark.parametrize(
    ("mark", "verdict", "most", "words"),
    [
        ("J", "health_concern", 0.8, "as an estimate (J)"),
        ("EST", "health_concern", 0.8, "as an estimate (EST)"),
        ("~", "health_concern", 0.8, "as an estimate (~)"),
        ("I", "health_concern", 0.8, "as an estimate (I)"),
        ("JN", "health_concern", 0.6, "not sure what it found"),
        ("M", "health_concern", 0.8, "checks was off"),
        ("J+", "health_concern", 0.8, "may be too high"),
        ("J-", "health_concern", 0.8, "may be too low"),
        ("B", "health_concern", 0.7, "clean blank"),
        ("V", "health_concern", 0.7, "clean blank"),
        ("N", "health_concern", 0.6, "not sure what it found"),
        ("NJ", "health_concern", 0.6, "not sure what it found"),
        ("H", "health_concern", 0.8, "done late"),
        ("E", "health_concern", 1.0, "may be more"),  # over its range: at least as much
        ("Q", "health_concern", 0.8, "checks was off"),
        ("R", "cant_tell", 0.1, "should not be used"),
        ("D", "health_concern", 1.0, ""),  # diluted: nothing changes
    ],
)
def test_a_mark_on_a_result_over_its_level(
    bench: Bench, mark: str, verdict: str, most: float, words: str
) -> None:
    finding = bench.judge(bench.result("arsenic", "23", "ug/L", qualifiers=(mark,)))
    assert (finding.verdict, finding.urgency) == (verdict, "soon")
    assert finding.confidence == most
    assert words in told(finding)
    assert "bottled" in steps(finding)


@pytest.mark.parametrize(
    ("slug", "text", "unit", "mark", "verdict"),
    [
        ("arsenic", "2", "ug/L", "J", "no_concern_found"),
        ("arsenic", "2", "ug/L", "R", "cant_tell"),
        ("arsenic", "2", "ug/L", "B", "no_concern_found"),
        ("arsenic", "2", "ug/L", "E", "cant_tell"),  # above the calibrated range: a lower bound
        ("iron", "0.1", "mg/L", "E", "cant_tell"),
        ("nitrate", "3", "mg/L:N", "H", "no_concern_found"),
        ("e_coli", "Absent", None, "H", "cant_tell"),  # 30 hours: 40 CFR 141.21(f)(3)
        ("e_coli", "Present", None, "H", "health_concern"),
        ("benzene", "<0.5", "ug/L", "H", "cant_tell"),  # gases leave the bottle
        ("arsenic", "20", "ug/L", "U", "cant_tell"),  # U: the number is a limit
        ("arsenic", "2", "ug/L", "UJ", "no_concern_found"),
    ],
)
def test_a_mark_on_a_low_result(
    bench: Bench, slug: str, text: str, unit: str | None, mark: str, verdict: str
) -> None:
    spelling, _, basis = (unit or "").partition(":")
    row = bench.result(slug, text, spelling or None, basis or None, qualifiers=(mark,))
    assert bench.judge(row).verdict == verdict


def test_an_unknown_mark_is_named_and_asked_about(bench: Bench) -> None:
    finding = bench.judge(bench.result("arsenic", "2", "ug/L", qualifiers=("Q9",)))
    assert '"Q9"' in told(finding)
    assert "Ask the lab what its mark" in steps(finding)


def test_a_rejected_result_keeps_the_step_for_today(bench: Bench) -> None:
    finding = bench.judge(bench.result("nitrate", "14", "mg/L", "N", qualifiers=("R",)))
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "formula" in steps(finding)


def test_the_marks_of_the_table_are_marks_that_are_read() -> None:
    assert set(flag_effects()) - {"~"} <= known_marks()


# --- lead and copper: EPA homeowner instructions of 2024 (six hours of standing, first bottle)


@pytest.mark.parametrize("taken", ["flushed", "raw", "treated", None])
@pytest.mark.parametrize("row", [("lead", "<1", "ug/L"), ("copper", "0.1", "mg/L")])
def test_low_lead_and_copper_need_a_first_draw(
    bench: Bench, row: tuple[str, ...], taken: str | None
) -> None:
    finding = bench.judge(bench.result(*row), taken=taken)
    assert (finding.verdict, finding.urgency, finding.high) == ("cant_tell", None, None)
    assert "first water of the morning" in steps(finding)
    assert bench.judge(bench.result(*row), taken="first_draw").verdict == "no_concern_found"


@pytest.mark.parametrize("taken", ["first_draw", "flushed", "raw", "treated", None])
@pytest.mark.parametrize("mark", [(), ("J",), ("B",), ("H",)])
def test_lead_that_was_found_is_at_least_watched(
    bench: Bench, taken: str | None, mark: tuple[str, ...]
) -> None:
    # EPA and CDC: no amount of lead is known to do no harm
    finding = bench.judge(bench.result("lead", "0.4", "ug/L", qualifiers=mark), taken=taken)
    assert finding.verdict == "watch"
    assert "child" in finding.persons


def test_lead_over_its_level_stays_over_in_any_draw(bench: Bench) -> None:
    finding = bench.judge(bench.result("lead", "18", "ug/L"), taken="flushed")
    assert (finding.verdict, finding.urgency) == ("health_concern", "soon")
    assert "had run before" in told(finding)


# --- germs: chlorine and disinfection hide them


@pytest.mark.parametrize(
    ("days", "verdict"), [(0, "cant_tell"), (14, "cant_tell"), (15, "no_concern_found")]
)
def test_no_germs_soon_after_the_well_was_disinfected(
    bench: Bench, days: int, verdict: str
) -> None:
    # leaflets on shock chlorination: test again one to two weeks after
    site = Site(well=Well(shocked_days_ago=days))
    finding = bench.judge(bench.result("total_coliform", "Absent"), site=site)
    assert finding.verdict == verdict
    assert ("no chlorine is left" in steps(finding)) is (verdict == "cant_tell")
    assert bench.judge(bench.result("e_coli", "Present"), site=site).urgency == "now"


@pytest.mark.parametrize(
    ("chlorine", "verdict"),
    [
        ("0.3", "cant_tell"),
        ("Present", "cant_tell"),
        ("0.0", "no_concern_found"),
        ("<0.05", "no_concern_found"),
    ],
)
def test_no_germs_beside_chlorine(bench: Bench, chlorine: str, verdict: str) -> None:
    beside = bench.result("free_chlorine", chlorine, "mg/L")
    finding = bench.judge(bench.result("total_coliform", "Absent"), beside)
    assert finding.verdict == verdict


def test_a_flood_asks_for_a_step_today(bench: Bench) -> None:
    # US EPA private wells page: test at once after a flood
    site = Site(well=Well(flooded=True))
    finding = bench.judge(bench.result("e_coli", "Absent"), site=site)
    assert (finding.verdict, finding.urgency) == ("cant_tell", "now")
    assert "bottled" in steps(finding)


# --- gases, metals, dissolved parts


def test_a_gas_that_was_mailed_is_a_lower_bound(bench: Bench) -> None:
    # 40 CFR 136.3 table II: zinc acetate and sodium hydroxide
    low = bench.result("hydrogen_sulfide", "<0.05", "mg/L")
    assert bench.judge(low).verdict == "cant_tell"
    kept = bench.result("hydrogen_sulfide", "<0.05", "mg/L", qualifiers=("zinc acetate",))
    assert bench.judge(kept).verdict == "no_concern_found"
    at_tap = bench.result("hydrogen_sulfide", "<0.05", "mg/L", method="Field kit")
    assert bench.judge(at_tap).verdict == "no_concern_found"
    assert bench.judge(bench.result("hydrogen_sulfide", "2", "mg/L")).verdict == "nuisance_only"


@pytest.mark.parametrize(
    ("remark", "verdict"),
    [("headspace", "cant_tell"), ("no headspace", "no_concern_found"), ("", "no_concern_found")],
)
def test_air_in_the_bottle_lets_solvents_go(bench: Bench, remark: str, verdict: str) -> None:
    # 40 CFR 141.24(f): full vials, no bubbles
    row = bench.result("benzene", "<0.5", "ug/L", qualifiers=(remark,) if remark else ())
    assert bench.judge(row).verdict == verdict


def test_a_remark_on_the_sheet_counts_for_every_line(bench: Bench) -> None:
    note = Unread("VOC vials received with headspace", Where("value", page=1), _message())
    sheet = Reading(
        Source("a.pdf", "0" * 64, "pdf", 1),
        samples=(Sample(results=(bench.result("benzene", "<0.5", "ug/L"),)),),
        unread=(note,),
    )
    found = bench.interpret(sheet).samples[0].findings
    assert next(f.verdict for f in found if f.analyte == "benzene") == "cant_tell"


def _message() -> Any:
    from welltold.messages import say

    return say("verdict.look", text="?")


def test_iron_without_acid_is_a_lower_bound(bench: Bench) -> None:
    low = bench.result("iron", "0.2", "mg/L", qualifiers=("unpreserved",))
    finding = bench.judge(low)
    assert (finding.verdict, finding.urgency, str(finding.low), finding.high) == (
        "cant_tell",
        None,
        "0.2",
        None,
    )
    high = bench.result("iron", "2", "mg/L", qualifiers=("unpreserved",))
    assert bench.judge(high).verdict == "nuisance_only"


def test_a_dissolved_part_alone_is_a_lower_bound(bench: Bench) -> None:
    part = bench.result("arsenic", "4", "ug/L", fraction="dissolved")
    whole = bench.result("arsenic", "4.5", "ug/L", fraction="total")
    assert bench.judge(part).verdict == "cant_tell"
    assert bench.judge(part, whole).verdict == "no_concern_found"
    over = bench.result("arsenic", "12", "ug/L", fraction="dissolved")
    assert bench.judge(over).verdict == "health_concern"


def test_the_higher_of_dissolved_and_whole_decides(bench: Bench) -> None:
    part = bench.result("arsenic", "14", "ug/L", fraction="dissolved")
    whole = bench.result("arsenic", "4", "ug/L", fraction="total")
    assert bench.judge(part, whole).verdict == "health_concern"
    quiet = bench.judge(whole, part)
    assert quiet.verdict == "cant_tell"
    assert "dissolved part" in told(quiet)


# --- dates: US EPA answer on 40 CFR 141.21(f)(3), Standard Methods 7500-Rn


@pytest.mark.parametrize(
    ("slug", "text", "unit", "collected", "received", "verdict"),
    [
        ("e_coli", "Absent", None, "2026-11-10T08:00", "2026-11-11T14:00", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10T08:00", "2026-11-11T15:00", "cant_tell"),
        ("e_coli", "Present", None, "2026-11-10T08:00", "2026-11-13T15:00", "health_concern"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-12", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-13", "cant_tell"),
        ("radon", "200", "pCi/L", "2026-11-10", "2026-11-14", "no_concern_found"),
        ("radon", "200", "pCi/L", "2026-11-10", "2026-11-16", "cant_tell"),
        ("mercury", "<0.2", "ug/L", "2026-10-01", "2026-11-20", "cant_tell"),
        ("benzene", "<0.5", "ug/L", "2026-11-01", "2026-11-18", "cant_tell"),
        ("e_coli", "Absent", None, "2026-11-10", "soon", "no_concern_found"),
        ("e_coli", "Absent", None, "2026-11-10", "2026-11-09", "no_concern_found"),
    ],
)
def test_a_bottle_that_waited_too_long(
    bench: Bench,
    slug: str,
    text: str,
    unit: str | None,
    collected: str,
    received: str,
    verdict: str,
) -> None:
    row = bench.result(slug, text, unit)
    assert bench.judge(row, collected=collected, received=received).verdict == verdict


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
