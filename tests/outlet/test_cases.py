"""The worked cases: outcomes that a person reached by hand before the code was there."""

from __future__ import annotations

from decimal import Decimal

import outlet_cases as oc
import pytest

from welltold.behind import OutletSpan

D = Decimal


def test_there_are_enough_cases_and_each_has_its_arithmetic() -> None:
    assert len(oc.cases()) >= 25
    assert all(case["hand"] for case in oc.cases())
    assert len({case["name"] for case in oc.cases()}) == len(oc.cases())


def test_every_outcome_is_among_them() -> None:
    told = {outcome for case in oc.cases() for outcome in case["says"].values()}
    assert told == {"working", "exhausted", "wrongly_set", "wrong_tap", "cant_tell"}


@pytest.mark.parametrize("case", oc.cases(), ids=lambda case: case["name"])
def test_the_outcome_is_the_one_worked_out_by_hand(case: oc.Case) -> None:
    assert oc.of(case).outcomes() == case["says"]


@pytest.mark.parametrize("case", oc.cases(), ids=lambda case: case["name"])
def test_a_reason_and_a_next_look_go_with_every_outcome(case: oc.Case) -> None:
    for stage in oc.of(case).sheet().stages:
        assert stage.why
        assert bool(stage.look) == (stage.outcome != "working")


def test_the_figures_stand_beside_the_outcome() -> None:
    stage = oc.named("a softener at work").stage("softener")
    hardness, sodium = oc.sign(stage, "hardness"), oc.sign(stage, "sodium")
    assert hardness.inlet == OutletSpan(D(250), D(250))
    # one grain a gallon is 17.1 mg/L (NSF/ANSI 330)
    assert hardness.expected == OutletSpan(D(0), D("17.1"))
    assert hardness.found == OutletSpan(D(9), D(9))
    assert hardness.text == "9 mg/L"
    # 12 + (250 - 17.1) x 0.4594 = 119 to 12 + 250 x 0.4594 = 127; the sheet's ions widen the top
    assert sodium.expected is not None
    assert sodium.expected.low == pytest.approx(D(119), abs=D("0.5"))
    assert sodium.expected.high is not None
    assert D(126) < sodium.expected.high < D(131)
    assert {hardness.state, sodium.state} == {"as_predicted"}


def test_brine_dumping_and_blend_are_told_apart() -> None:
    reasons = {
        "half of the hardness passes, with half of the sodium": "reason_blend",
        "sodium as predicted, but all of the hardness": "reason_brine",
        "soft water with far more sodium than it was hard": "reason_brine",
        "nitrate above what goes in": "reason_dumping",
        "permanganate fed too strongly": "reason_permanganate",
        "an iron filter that gives off what it held": "reason_sheds",
        "the drinking-water faucet in place of the softened line": "reason_thinned",
        "water that does not look like that of this well": "reason_other_well",
    }
    for name, reason in reasons.items():
        codes = {why.code for one in oc.named(name).sheet().stages for why in one.why}
        assert f"outlet.{reason}" in codes, name


def test_no_prediction_is_shown_for_a_health_matter_without_a_verified_source() -> None:
    stage = oc.named("nitrate exchange at work").stage("anion_exchanger")
    assert oc.sign(stage, "nitrate").expected is None


def test_the_level_decides_for_health_and_the_words_are_what_the_test_found() -> None:
    high = oc.named("arsenic much lower, but above the level").sheet().health
    assert [one.code for one in high] == ["outlet.found_above"]
    assert "the outlet test found 15 ug/L" in high[0].text
    low = oc.named("arsenic below the level behind its filter").sheet().health
    assert [one.code for one in low] == ["outlet.found_not_above"]
    germs = oc.named("a lamp behind which nothing grew").sheet()
    assert [one.code for one in germs.health] == ["outlet.germs_not_found"]
    assert "outlet.germs_one_day" in {one.code for one in germs.stages[0].why}
