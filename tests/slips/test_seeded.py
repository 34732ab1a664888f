"""Seeded slips are found, and sheets without one are left in peace; the bench has the figures."""

from __future__ import annotations

import time

import pytest
from slips.measured import HOME, bounds, doubts, false_accusations, outcomes
from slips.seeded import KINDS_OF_SLIP, Waters, slipped

from welltold.slips import suspects


def test_the_true_slip_comes_first_in_most_sheets_that_it_trips() -> None:
    tripped = [one for one in outcomes(Waters(731), 120) if one.doubts]
    assert len(tripped) > 60
    assert {one.kind for one in tripped} == set(KINDS_OF_SLIP)
    first = sum(one.named == 1 for one in tripped) / len(tripped)
    # the aim is 0.80; a sample of this size may lie some 0.08 beside it
    assert first >= 0.72
    wrong = sum(one.others > 0 and one.named != 1 for one in tripped) / len(tripped)
    assert wrong <= 0.10


@pytest.mark.parametrize("short", [False, True])
def test_sheets_with_nothing_but_noise_are_hardly_ever_accused(short: bool) -> None:
    accused, doubted, count = false_accusations(Waters(732), 100, short=short)
    assert doubted > 0, "noise trips checks, so that there is something to withstand"
    assert accused <= 2
    assert count == 100


def test_the_search_stays_inside_its_time() -> None:
    waters = Waters(733)
    made = (slipped(sheet, "decimal", waters.chance) for sheet in waters.sheets(12))
    doubted = [one.sample for one in made if one and doubts(one.sample) - doubts(one.truth)]
    several = []
    for sample in doubted * 2:
        start = time.process_time()
        suspects(sample, HOME)
        several.append(time.process_time() - start)
    # 50 ms is the aim; a loaded machine is given twice that
    assert min(several) <= 0.1


def test_bounds_of_a_share() -> None:
    # Wilson's interval for 8 of 10: 0.490 to 0.943 (Brown, Cai, DasGupta 2001, formula 4)
    assert bounds(8, 10) == pytest.approx((0.490, 0.943), abs=0.001)
    assert bounds(0, 100) == pytest.approx((0.0, 0.037), abs=0.001)
