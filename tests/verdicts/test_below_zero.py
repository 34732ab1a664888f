"""Numbers below zero: a limit that is none, a count less than its background, a mistake."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from welltold.interpretation import Finding

if TYPE_CHECKING:
    from .conftest import Bench


def codes(finding: Finding) -> set[str]:
    return {message.code for message in finding.why}


@pytest.mark.parametrize("limit", ["-0.5", "0"])
@pytest.mark.parametrize(
    ("slug", "unit", "basis", "urgency"),
    [
        ("nitrate", "mg/L", "N", "soon"),
        ("lead", "ug/L", None, None),
        ("arsenic", "ug/L", None, None),
    ],
)
def test_a_limit_that_is_not_above_zero_is_no_limit(
    bench: Bench, slug: str, unit: str, basis: str | None, urgency: str | None, limit: str
) -> None:
    # a censored value is an interval up to its limit; without a limit nobody can tell
    found = bench.judge(bench.result(slug, "ND", unit, basis, reporting_limit=Decimal(limit)))
    assert (found.verdict, found.urgency, found.high) == ("cant_tell", urgency, None)
    assert "verdict.not_found_no_limit" in codes(found)


def test_less_than_nothing_is_not_nothing(bench: Bench) -> None:
    found = bench.judge(bench.result("lead", "<0", "ug/L"))
    assert found.verdict == "cant_tell"
    kept = bench.judge(bench.result("lead", "<0", "ug/L", reporting_limit=Decimal(1)))
    assert (kept.verdict, kept.high) == ("no_concern_found", Decimal("0.001"))


@pytest.mark.parametrize("slug", ["gross_alpha", "tritium"])
def test_a_count_below_its_background_means_that_none_was_found(bench: Bench, slug: str) -> None:
    # radiochemistry tells net counts; below zero is as ordinary as above when there is none
    found = bench.judge(bench.result(slug, "-1.2", "pCi/L"))
    assert (found.verdict, found.low, found.high) == ("no_concern_found", 0, 0)
    assert "verdict.below_background" in codes(found)
    assert found.confidence == 1.0


def test_a_sum_counts_a_negative_part_as_none(bench: Bench) -> None:
    # 40 CFR 141.66(b): radium-226 and radium-228 together, 5 pCi/L
    view = bench.view(
        bench.result("radium_226", "-3", "pCi/L"), bench.result("radium_228", "6", "pCi/L")
    )
    total = next(f for f in view.findings if f.analyte == "radium_226_228")
    assert (total.verdict, total.low, total.high) == ("health_concern", 6, 6)
    assert not [check for check in view.checks or () if check.outcome == "doubt"]


@pytest.mark.parametrize("text", ["-1", "<-1"])
def test_germs_below_zero_are_neither_found_nor_absent(bench: Bench, text: str) -> None:
    for slug, urgency in (("e_coli", "now"), ("total_coliform", None)):
        found = bench.judge(bench.result(slug, text, "CFU/100mL"))
        assert (found.verdict, found.urgency) == ("cant_tell", urgency)
        assert "verdict.below_zero" in codes(found)
