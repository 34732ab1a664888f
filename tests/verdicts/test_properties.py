"""What must hold for every number, whatever the analyte."""

from __future__ import annotations

import random
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.interpretation import Finding
from welltold.levels import Level, load_levels

if TYPE_CHECKING:
    from .conftest import Bench

LEVELS = load_levels(("us_federal",), date(2026, 11, 25)).by_slug
MASSES = {"mg/L": 0, "ug/L": 3, "ng/L": 6}
HARM = {"no_concern_found": 0, "nuisance_only": 1, "watch": 2, "health_concern": 3}
ONE_SIDED = sorted(
    slug
    for slug, rows in LEVELS.items()
    if any(lv.role in {"health", "watch", "nuisance"} and lv.op == "max" for lv in rows)
    and not any(lv.op in {"range", "min"} for lv in rows)
    and slug != "gross_alpha"  # without a uranium result it is an interval from 0
)


def scale_of(slug: str) -> Level:
    """Return the level whose unit the test writes in."""
    return next(lv for lv in LEVELS[slug] if lv.op == "max" and lv.value and lv.role != "none")


slugs = st.sampled_from(ONE_SIDED)
factors = st.decimals("0.01", "20", places=3, allow_nan=False, allow_infinity=False)


def number(value: Decimal) -> str:
    return f"{value:f}"


def judge(bench: Bench, slug: str, text: str, unit: str, basis: str | None) -> Finding:
    return bench.judge(bench.result(slug, text, unit, basis, method="field test"))


@pytest.mark.usefixtures("_no_treatment")
@given(slug=slugs, factor=factors, target=st.sampled_from(sorted(MASSES)))
@settings(max_examples=300, deadline=None)
def test_another_unit_never_changes_the_verdict(
    bench: Bench, slug: str, factor: Decimal, target: str
) -> None:
    level = scale_of(slug)
    if level.unit not in MASSES or level.value is None:
        return
    value = level.value * factor
    moved = value.scaleb(MASSES[target] - MASSES[level.unit])
    one = judge(bench, slug, number(value), level.unit, level.basis)
    other = judge(bench, slug, number(moved), target, level.basis)
    assert (one.verdict, one.urgency) == (other.verdict, other.urgency)


@given(slug=slugs, factor=factors, more=factors)
@settings(max_examples=300, deadline=None)
def test_more_is_never_milder(bench: Bench, slug: str, factor: Decimal, more: Decimal) -> None:
    level = scale_of(slug)
    assert level.value is not None
    less = judge(bench, slug, number(level.value * factor), level.unit, level.basis)
    most = judge(bench, slug, number(level.value * (factor + more)), level.unit, level.basis)
    assert HARM[most.verdict] >= HARM[less.verdict]
    assert (less.urgency == "now") <= (most.urgency == "now")


@given(slug=slugs, factor=factors)
@settings(max_examples=300, deadline=None)
def test_not_found_is_never_worse_than_its_limit(bench: Bench, slug: str, factor: Decimal) -> None:
    level = scale_of(slug)
    assert level.value is not None
    text = number(level.value * factor)
    at_limit = judge(bench, slug, text, level.unit, level.basis)
    censored = judge(bench, slug, f"<{text}", level.unit, level.basis)
    if censored.verdict == "cant_tell":
        assert at_limit.verdict != "no_concern_found"
    else:
        assert HARM[censored.verdict] <= HARM[at_limit.verdict]
        assert censored.verdict in {"no_concern_found", "nuisance_only"}


@given(slug=slugs, factor=factors)
@settings(max_examples=300, deadline=None)
def test_more_than_a_number_is_at_least_as_grave(bench: Bench, slug: str, factor: Decimal) -> None:
    level = scale_of(slug)
    assert level.value is not None
    text = number(level.value * factor)
    at_limit = judge(bench, slug, text, level.unit, level.basis)
    above = judge(bench, slug, f">{text}", level.unit, level.basis)
    assert above.verdict != "no_concern_found"
    if above.verdict != "cant_tell" and at_limit.verdict != "cant_tell":
        assert HARM[above.verdict] >= HARM[at_limit.verdict]


ROWS = st.lists(
    st.tuples(
        st.sampled_from(["nitrate", "nitrite", "lead", "iron", "arsenic", "e_coli", "radium_226",
                         "radium_228", "uranium", "gross_alpha", "pfna", "pfhxs", "hfpo_da"]),
        st.sampled_from(["<1", "0.005", "0.5", "3", "12", "40", "ND", "Present", ">20"]),
        st.sampled_from(["mg/L", "ug/L", "ng/L", "pCi/L"]),
    ),
    max_size=7,
)  # fmt: skip


@given(rows=ROWS, seed=st.integers(0, 99))
@settings(max_examples=200, deadline=None)
def test_the_order_of_the_rows_changes_no_finding(
    bench: Bench, rows: list[tuple[str, str, str]], seed: int
) -> None:
    mixed = list(rows)
    random.Random(seed).shuffle(mixed)  # noqa: S311 - not for secrets
    one = bench.view(*(bench.result(*row) for row in rows)).findings
    other = bench.view(*(bench.result(*row) for row in mixed)).findings

    def told(findings: tuple[Finding, ...]) -> list[tuple[object, ...]]:
        return sorted(
            (
                f.analyte or "",
                f.text,
                f.verdict,
                f.urgency or "",
                str(f.low),
                str(f.high),
                [m.text for m in f.do],
            )
            for f in findings
        )

    assert told(one) == told(other)


@given(rows=ROWS)
@settings(max_examples=200, deadline=None)
def test_findings_are_told_from_the_gravest_to_the_least(
    bench: Bench, rows: list[tuple[str, str, str]]
) -> None:
    found = bench.view(*(bench.result(*row) for row in rows)).findings
    told = [(f.verdict, f.urgency) for f in found]
    ranks = [
        ("health_concern", "now"),
        ("health_concern", "soon"),
        ("cant_tell", "now"),
        ("cant_tell", "soon"),
        ("watch", None),
        ("cant_tell", None),
        ("nuisance_only", None),
        ("no_concern_found", None),
        ("not_tested", None),
    ]
    assert [ranks.index(one) for one in told] == sorted(ranks.index(one) for one in told)
    for finding in found:
        assert finding.why
        assert finding.verdict not in {"health_concern", "watch"} or finding.do
        assert finding.urgency is None or finding.persons


@given(
    value=st.decimals("0.1", "200", places=2, allow_nan=False, allow_infinity=False),
    slug=st.sampled_from(["nitrate", "nitrite"]),
)
@settings(max_examples=200, deadline=None)
def test_an_open_basis_never_drops_a_step_for_today(
    bench: Bench, value: Decimal, slug: str
) -> None:
    open_basis = judge(bench, slug, number(value), "mg/L", None)
    as_n = judge(bench, slug, number(value), "mg/L", "N")
    other = judge(bench, slug, number(value), "mg/L", "NO3" if slug == "nitrate" else "NO2")
    if "now" in {as_n.urgency, other.urgency}:
        assert open_basis.urgency == "now"
        assert any("formula" in step.text for step in open_basis.do)
    if (as_n.verdict, as_n.urgency) == (other.verdict, other.urgency):
        assert (open_basis.verdict, open_basis.urgency) == (as_n.verdict, as_n.urgency)
    else:
        assert open_basis.verdict == "cant_tell"
