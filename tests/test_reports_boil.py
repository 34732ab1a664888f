"""One kitchen, one instruction: the boil rule and everything that is printed under it."""

from __future__ import annotations

import itertools
import re
from decimal import Decimal
from typing import get_args

import pytest
import report_making as making
from hypothesis import given
from hypothesis import strategies as st

from welltold.analytes import analyte, registry
from welltold.boil import (
    GERMS,
    NITROGEN,
    BoilFacts,
    Known,
    KnownOrNear,
    boil_advice,
    boil_facts,
    observations,
)
from welltold.interpretation import Finding
from welltold.tables import read_table
from welltold.thresholds import sure
from welltold_reports import render_text

KNOWN, NITROGENS = get_args(Known), get_args(KnownOrNear)
ALL = [
    BoilFacts(*values) for values in itertools.product(KNOWN, NITROGENS, NITROGENS, KNOWN, KNOWN)
]
LETS_BOIL = re.compile(r"(?<!not )(?<!never )(?<!to )\bboil\b", re.IGNORECASE)
"""The word as an instruction: not after "do not", not as "boiling"."""


def test_every_combination_is_covered() -> None:
    assert len(ALL) == 3 * 4 * 4 * 3 * 3


@pytest.mark.parametrize("facts", ALL, ids=str)
def test_boiling_is_allowed_only_where_nothing_stays_in_the_water(facts: BoilFacts) -> None:
    """The rule of CDC and Minnesota pages taken together, stricter than either."""
    advice = boil_advice(facts)
    high = "high" in {facts.nitrate, facts.nitrite, facts.stays, facts.fuel_smell}
    everybody = (
        facts.germs == "high" and facts.nitrate == "low" and facts.nitrite == "low" and not high
    )
    assert (advice == "boil") is everybody
    assert (advice == "never") is high
    if not high:
        assert (advice == "silent") is (facts.germs != "high")
    if advice.startswith("babies"):
        assert {"unknown", "near"} & {facts.nitrate, facts.nitrite}


def test_nitrate_known_and_nitrite_not_counts_as_not_known() -> None:
    assert boil_advice(BoilFacts("high", "low", "unknown", "low", "low")) == "babies_unknown"


def test_nitrate_near_its_level_keeps_babies_on_bottled_water() -> None:
    assert boil_advice(BoilFacts("high", "near", "low", "low", "low")) == "babies_near"
    assert boil_advice(BoilFacts("high", "low", "near", "low", "low")) == "babies_near"


def _finding(slug: str, verdict: str, **more: object) -> Finding:
    return Finding(slug, slug, "1", verdict, **more)  # type: ignore[arg-type]  # test data


GERM = _finding("e_coli", "health_concern", present=True)
NITRITE = _finding("nitrite", "no_concern_found")


@pytest.mark.parametrize(
    ("findings", "advice"),
    [
        ([GERM], "babies_unknown"),
        ([GERM, _finding("nitrate", "no_concern_found")], "babies_unknown"),
        ([GERM, NITRITE, _finding("nitrate", "no_concern_found")], "boil"),
        (
            [GERM, NITRITE, _finding("nitrate", "no_concern_found", confidence=0.5)],
            "babies_unknown",
        ),
        ([GERM, NITRITE, _finding("nitrate", "cant_tell")], "babies_unknown"),
        ([GERM, NITRITE, _finding("nitrate", "not_tested")], "babies_unknown"),
        ([GERM, NITRITE, _finding("nitrate", "watch")], "babies_near"),
        (
            [GERM, _finding("nitrite", "watch"), _finding("nitrate", "no_concern_found")],
            "babies_near",
        ),
        ([GERM, NITRITE, _finding("nitrate", "health_concern")], "never"),
        ([GERM, _finding("nitrate_nitrite", "health_concern")], "never"),
        (
            [
                GERM,
                NITRITE,
                _finding("nitrate", "no_concern_found"),
                _finding("lead", "health_concern"),
            ],
            "never",
        ),
        (
            [
                GERM,
                NITRITE,
                _finding("nitrate", "no_concern_found"),
                _finding("iron", "nuisance_only"),
            ],
            "boil",
        ),
        (
            [
                GERM,
                NITRITE,
                _finding("nitrate", "no_concern_found"),
                _finding("legionella", "health_concern"),
            ],
            "never",
        ),
        ([_finding("e_coli", "no_concern_found")], "silent"),
        ([], "silent"),
    ],
)
def test_findings_lead_to_the_advice(findings: list[Finding], advice: str) -> None:
    assert boil_advice(boil_facts(findings)) == advice


def test_total_nitrate_and_nitrite_below_one_answers_for_both() -> None:
    """The sum of both below nitrite's own level, 1 mg/L as N (40 CFR 141.62(b)(8))."""
    low = _finding(
        "nitrate_nitrite", "no_concern_found", value=Decimal("0.9"), unit="mg/L", basis="N"
    )
    more = _finding(
        "nitrate_nitrite", "no_concern_found", value=Decimal("1.1"), unit="mg/L", basis="N"
    )
    assert boil_advice(boil_facts([GERM, low])) == "boil"
    assert boil_advice(boil_facts([GERM, more])) == "babies_unknown"


def test_a_smell_of_fuel_at_the_tap_stops_boiling() -> None:
    site = {"tap": {"observations": ["fuel_or_solvent_smell"]}}
    findings = [GERM, NITRITE, _finding("nitrate", "no_concern_found")]
    assert boil_advice(boil_facts(findings, observations(site))) == "never"
    assert observations({}) == ()


def test_the_list_of_germs_names_known_germs_and_its_sources() -> None:
    rows = list(read_table("germs.csv"))
    assert {analyte(row.text("germ")).group for row in rows} == {"microbial"}
    assert all(row.text("citation") for row in rows)
    assert len({row.text("germ") for row in rows}) == len(rows)
    stays = {row.text("germ") for row in rows} - GERMS
    assert "legionella" in stays
    dangerous = {slug for slug, one in registry().items() if one.group == "microbial"}
    assert dangerous >= GERMS


def test_a_number_of_our_own_names_its_source() -> None:
    rows = list(read_table("thresholds.csv"))
    published = {
        "membrane_psi": "NSF/ANSI 58",
        "radon_treat": "Maine",
        "corrosive_ph": "Penn State",
    }
    for row in rows:
        assert published.get(row.text("name"), "no source") in row.text("citation")
    assert {row.text("name"): row.number("value") for row in rows} == {
        "sure_reading": Decimal("0.9"),
        "iron_mostly_dissolved": Decimal("0.9"),
        "iron_dissolved_over": Decimal("1.2"),
        "arsenic_iii_little": Decimal("0.1"),
        "arsenic_iii_low": Decimal(5),
        "iron_mostly_rust": Decimal("0.5"),
        "membrane_psi": Decimal(40),
        "radon_treat": Decimal(10000),
        "corrosive_ph": Decimal(7),
    }
    assert (sure(0.9), sure(0.89)) == (True, False)


verdicts = st.sampled_from(
    ["health_concern", "watch", "nuisance_only", "no_concern_found", "cant_tell", "not_tested"]
)
slugs = st.sampled_from([*sorted(GERMS), *sorted(NITROGEN), "lead", "arsenic", "iron", "uranium"])


@given(
    st.lists(
        st.builds(_finding, slugs, verdicts, urgency=st.sampled_from(["now", "soon", None])),
        max_size=7,
    )
)
def test_no_report_lets_anybody_boil_against_the_rule(findings: list[Finding]) -> None:
    sheet = making.Sheet()
    sheet.findings = findings
    view = making.view_of(making.sample(sheet))
    text = " ".join(render_text(view).split())
    advice = boil_advice(boil_facts(findings))
    if advice in {"never", "silent"}:
        assert not LETS_BOIL.search(text), text
    if advice == "never" and any(
        f.verdict == "health_concern" and f.analyte in GERMS for f in findings
    ):
        assert "Do not boil this water." in text
    if advice.startswith("babies"):
        assert "Do not boil well water for them." in text
