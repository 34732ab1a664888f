"""What a lab's mark, the way of sampling, dates and equipment leave open."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from welltold.verdicts.doubt_tables import (
    estimated_marks,
    flag_effects,
    known_marks,
)

if TYPE_CHECKING:
    from .conftest import Bench
from verdicts.doubt_words import steps, told

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


def test_the_marks_by_which_a_lab_tells_that_it_estimated() -> None:
    """EPA National Functional Guidelines (2020): J, biased high or low, and with a tentative name.

    State lists: I between the two limits. N alone doubts the name, UJ a limit, E the range.
    """
    assert estimated_marks() == {"J", "J+", "J-", "NJ", "JN", "EST", "~", "I"}
