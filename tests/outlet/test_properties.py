"""What must hold of every pair of bottles, whatever the numbers."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import outlet_cases as oc
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import welltold
from welltold.messages import say
from welltold.outlet.tables import point_words, signs
from welltold.reading import Result
from welltold.stage_files import stage_names
from welltold.tables import read_table

WORSE = {"working": 0, "cant_tell": 1, "wrongly_set": 2, "exhausted": 2, "wrong_tap": 2}
ONE_SIDED = (
    ("arsenic_adsorber", "arsenic", "35 ug/L", "ug/L"),
    ("lead_cartridge", "lead", "40 ug/L", "ug/L"),
    ("carbon_filter", "trichloroethylene", "12 ug/L", "ug/L"),
    ("anion_exchanger", "nitrate", "18 mg/L", "mg/L"),
    ("reverse_osmosis", "nitrate", "30 mg/L", "mg/L"),
    ("oxidizing_filter", "iron", "4 mg/L", "mg/L"),
    ("greensand_filter", "manganese", "0.4 mg/L", "mg/L"),
    ("softener", "hardness", "250 mg/L", "mg/L"),
    ("aerator", "radon", "9000 pCi/L", "pCi/L"),
)


@pytest.mark.parametrize(
    ("stage", "slug", "inlet", "unit"), ONE_SIDED, ids=[f"{row[0]}-{row[1]}" for row in ONE_SIDED]
)
@settings(max_examples=12, deadline=None)
@given(st.floats(0.0005, 1.6), st.floats(0.0005, 1.6))
def test_less_behind_a_stage_never_makes_it_worse(
    stage: str, slug: str, inlet: str, unit: str, one: float, other: float
) -> None:
    whole = Decimal(inlet.partition(" ")[0])
    low, high = sorted((one, other))
    told = [
        oc.Asked((stage,), {slug: inlet}, {slug: f"{whole * Decimal(str(share)):.6f} {unit}"})
        for share in (low, high)
    ]
    less, more = (WORSE[asked.outcomes()[stage]] for asked in told)
    assert less <= more


@settings(max_examples=15, deadline=None)
@given(st.permutations(range(3)), st.permutations(range(4)))
def test_the_order_of_the_rows_does_not_matter(later: list[int], raw: list[int]) -> None:
    asked = oc.named("acid, iron-free water through calcite and softener")
    mixed = replace(
        asked,
        raw=dict([list(asked.raw.items())[at] for at in raw] + list(asked.raw.items())[4:]),
        later=dict([list(asked.later.items())[at] for at in later]),
    )
    assert mixed.sheet().stages == asked.sheet().stages


@settings(max_examples=20, deadline=None)
@given(st.sampled_from(oc.cases()))
def test_a_doubt_never_makes_a_stage_look_better(case: oc.Case) -> None:
    asked = oc.of(case)
    doubted = asked.outcomes(review=(say("outlet.no_day"),), confidence=0.5)
    for stage, before in asked.outcomes().items():
        if before != "working":
            assert doubted[stage] != "working"
        else:
            assert doubted[stage] == "cant_tell"


@pytest.mark.parametrize("case", oc.cases(), ids=lambda case: case["name"])
def test_nothing_else_of_the_report_changes(case: oc.Case) -> None:
    asked = oc.of(case)
    told = asked.told()
    first = told.reading
    alone = welltold.interpret(first, site=oc.house(*asked.line))
    again = tuple(replace(one, outlet=None) for one in told.samples)
    assert again == alone.samples


@settings(max_examples=10, deadline=None)
@given(st.sampled_from(["50", "1.0", "3", "9.9", "10.1"]))
def test_a_low_nitrate_ends_no_step_for_an_infant(found: str) -> None:
    site = replace(oc.house("reverse_osmosis"), home=replace(oc.house().home, persons=("infant",)))
    asked = oc.Asked(
        ("reverse_osmosis",), {"nitrate": "18 mg/L"}, {"nitrate": f"{found} mg/L"}, site=site
    )
    sample = asked.told().samples[0]
    assert any(step.step.startswith("bottled") for step in sample.steps)
    assert sample.outlet is not None
    assert sample.outlet[0].health[-1].code == "outlet.keep_bottled"


def test_every_stage_with_equipment_has_signs_or_leaves_none() -> None:
    silent = {stage for stage in stage_names() if not signs(stage)}
    # a tank and a feed ahead of a filter change nothing that a tap shows by itself
    assert silent == {"retention_tank", "permanganate_feed", "shock_chlorination"}


def test_the_tables_name_stages_that_are_there_and_their_sources() -> None:
    equipment = set(stage_names()) - {"shock_chlorination"}
    looks = list(read_table("outlet_looks.csv"))
    assert {row.text("stage") for row in looks} == equipment
    assert all(say(f"outlet.look_{row.text('look')}", stage="x").text for row in looks)
    meant = {means for _, each in point_words() for means in each}
    assert meant - equipment == {"ahead", "tap", "raw"}
    ahead = {row.optional("ahead") for row in read_table("outlet_signs.csv")}
    assert ahead - equipment == {None}
    for name, column in (("looks", "source"), ("points", "source"), ("rules", "citation")):
        assert all(row.text(column) for row in read_table(f"outlet_{name}.csv")), name


@pytest.mark.parametrize("stage", [one for one in stage_names() if signs(one)])
def test_every_reason_of_the_table_has_its_sentence(stage: str) -> None:
    for row in signs(stage):
        for meaning in (row.partly, row.more):
            if meaning is not None:
                assert say(f"outlet.reason_{meaning.reason}", stage="x").text
        assert (
            row.role == "side"
            or row.way in {"within", "absent"}
            or row.partly
            or row.more
            or (row.role == "mark")
        )


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(sorted(set(stage_names()) - {"shock_chlorination"})),
    st.lists(
        st.tuples(
            st.sampled_from(["hardness", "iron", "nitrate", "sodium", "arsenic", "turbidity"]),
            st.decimals("0", "500", places=2),
        ),
        min_size=1,
        max_size=4,
    ),
)
def test_no_numbers_break_it(stage: str, numbers: list[tuple[str, Decimal]]) -> None:
    later = {
        slug: f"{value} NTU" if slug == "turbidity" else f"{value} mg/L" for slug, value in numbers
    }
    raw = {"hardness": "250 mg/L", "iron": "1 mg/L", "sodium": "12 mg/L", "nitrate": "12 mg/L"}
    one = oc.Asked((stage,), raw, later).sheet()
    assert one.compared
    assert [it.stage for it in one.stages] == [stage]


def test_the_same_unit_in_other_words_gives_the_same_outcome() -> None:
    # 15 grains is 15 x 17.118 = 257 mg/L; half a grain is 8.6
    grains = oc.Asked(("softener",), {"hardness": "15 gpg"}, {"hardness": "0.5 gpg"})
    plain = oc.Asked(("softener",), {"hardness": "257 mg/L"}, {"hardness": "8.6 mg/L"})
    assert grains.outcomes() == plain.outcomes() == {"softener": "working"}
    sign = oc.sign(grains.stage("softener"), "hardness")
    assert sign.unit == "gpg"
    assert sign.expected is not None
    assert sign.expected.high == pytest.approx(Decimal(1), abs=Decimal("0.002"))


def test_an_estimated_result_is_anything_up_to_the_limit() -> None:
    asked = oc.Asked(("arsenic_adsorber",), {"arsenic": "35 ug/L"}, {"arsenic": "9 ug/L"})
    limit: dict[str, object] = {"qualifiers": ("J",), "reporting_limit": Decimal(12)}
    stage = asked.stage("arsenic_adsorber", **limit)
    # from 0 to 12, and the level is 10
    assert stage.outcome == "cant_tell"
    assert asked.outcomes() == {"arsenic_adsorber": "working"}


def test_a_result_that_the_lab_rejected_tells_nothing() -> None:
    asked = oc.Asked(("arsenic_adsorber",), {"arsenic": "35 ug/L"}, {"arsenic": "1 ug/L"})
    assert asked.outcomes(qualifiers=("R",)) == {"arsenic_adsorber": "cant_tell"}


def test_the_total_counts_and_not_the_dissolved_part() -> None:
    asked = oc.Asked(("oxidizing_filter",), {"iron": "4 mg/L"}, {"iron": "0.1 mg/L"})
    part = asked.told().reading.samples[0].results[0]
    assert isinstance(part, Result)
    assert asked.outcomes(fraction="dissolved") == {"oxidizing_filter": "working"}
