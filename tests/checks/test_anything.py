"""Whatever a sheet prints, the checks and the indices answer, and say why."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.analytes import registry
from welltold.checks import check_sample
from welltold.chemistry.told import indices_of
from welltold.interpretation import Check, Finding
from welltold.jsonform import dump_json
from welltold.reading import Result, Sample
from welltold.site import Site

MAIN = [
    "ph", "alkalinity", "hardness", "calcium", "magnesium", "sodium", "potassium", "chloride",
    "sulfate", "nitrate", "nitrite", "nitrate_nitrite", "iron", "total_dissolved_solids",
    "specific_conductance", "bicarbonate", "carbonate", "temperature", "e_coli", "total_coliform",
    "lead", "silica",
]  # fmt: skip
slugs = st.one_of(st.sampled_from(MAIN), st.sampled_from(sorted(registry())), st.none())
numbers = st.one_of(
    st.none(),
    st.sampled_from([Decimal(0), Decimal("-3"), Decimal("1E+9"), Decimal("1E-9"), Decimal(15)]),
    st.decimals(0, 5000, places=2),
)
units = st.sampled_from(
    [None, "mg/L", "ug/L", "SU", "uS/cm", "gpg", "furlongs", "-", "%", "degF", "P/A"]
)
states = st.sampled_from(
    ["value", "below", "above", "present", "absent", "trace", "too_many", "blank", "unreadable"]
)
dates = st.sampled_from(
    [None, "", "2026-05-10", "2026-05-10T09:30", "10/5/26", "2026-13-40", "soon"]
)


@st.composite
def results(draw: Any) -> Result:
    state = draw(states)
    return Result(
        draw(slugs),
        draw(st.sampled_from(["Name", "field pH", "Temperature on receipt"])),
        "text",
        state,
        operator={"below": "<", "above": ">"}.get(state, "="),
        value=draw(numbers),
        present={"present": True, "absent": False}.get(state),
        unit=draw(units),
        basis=draw(st.sampled_from([None, "N", "CaCO3", "NO3"])),
        fraction=draw(st.sampled_from([None, "total", "dissolved"])),
        qualifiers=draw(st.sampled_from([(), ("H",), ("R",), ("J", "B")])),
        reporting_limit=draw(numbers),
        analyzed=draw(dates),
    )


samples = st.builds(
    Sample,
    collected=dates,
    received=dates,
    taken=st.sampled_from([None, "treated", "first_draw"]),
    results=st.lists(results(), max_size=14).map(tuple),
)


def checked(sample: Sample) -> tuple[Check, ...]:
    findings = tuple(Finding(r.analyte, r.label, r.text, "cant_tell") for r in sample.results)
    return check_sample(sample, findings, Site())


@settings(max_examples=300, deadline=None)
@given(samples)
def test_every_answer_has_its_reason(sample: Sample) -> None:
    made = checked(sample)
    names = [check.check for check in made]
    assert len(names) == len(set(names))
    for check in made:
        assert check.why
        assert (check.value is None) or check.outcome != "not_possible"
        assert "{" not in " ".join(message.text for message in check.why)
        if check.outcome == "doubt":
            assert check.why[-1].code.startswith("check.settle_")
    for index in indices_of(sample, Site()):
        assert index.why
        assert index.citation
        assert index.value is None or index.value.is_finite()
    dump_json(made)


@settings(max_examples=100, deadline=None)
@given(samples, st.randoms(use_true_random=False))
def test_the_order_of_the_rows_is_no_matter(sample: Sample, chance: Any) -> None:
    rows = list(sample.results)
    chance.shuffle(rows)
    before = {check.check: check.outcome for check in checked(sample)}
    after = {check.check: check.outcome for check in checked(replace(sample, results=tuple(rows)))}
    assert before == after
