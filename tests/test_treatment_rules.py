"""What holds for every well: properties of the treatment room, and that each check can fail."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st
from treatment_wells import UNITS, bacteria, finding, plan, trains

from welltold.analytes import analyte
from welltold.interpretation import Finding, Verdict
from welltold.jsonform import to_jsonable
from welltold.reading import Sample
from welltold.site import Equipment, Home, Site, Tap, Well, Wishes
from welltold.site_keys import OBSERVATIONS, PERSONS, stage_names
from welltold.treatment import Plan, knowledge
from welltold.treatment.conditions import asks
from welltold.treatment.order import position

VERDICTS: tuple[Verdict, ...] = (
    "health_concern",
    "watch",
    "nuisance_only",
    "no_concern_found",
    "cant_tell",
    "not_tested",
)
ASKING = frozenset({"health_concern", "nuisance_only"})
NUMBERS = st.decimals("0", "400", places=3, allow_nan=False)

findings = st.builds(
    lambda slug, value, verdict, operator, confidence: replace(
        finding(slug, str(value), verdict, operator=operator), confidence=confidence
    ),
    st.sampled_from(sorted(UNITS)),
    NUMBERS,
    st.sampled_from(VERDICTS),
    st.sampled_from(("=", "<", ">")),
    st.sampled_from((0.5, 0.95, 1.0)),
)
germs = st.builds(bacteria, st.sampled_from(("total_coliform", "e_coli")), found=st.booleans())
wells = st.lists(st.one_of(findings, germs), max_size=9).map(tuple)
sites = st.builds(
    Site,
    home=st.builds(
        Home,
        waste=st.sampled_from((None, "septic", "sewer")),
        persons=st.lists(st.sampled_from(PERSONS), unique=True, max_size=3).map(tuple),
    ),
    well=st.builds(
        Well,
        pump_gpm=st.none() | st.decimals("0.1", "30", places=1),
        flooded=st.none() | st.booleans(),
    ),
    tap=st.builds(Tap, st.lists(st.sampled_from(OBSERVATIONS), unique=True, max_size=3).map(tuple)),
    equipment=st.builds(
        Equipment, in_place=st.lists(st.sampled_from(stage_names()), max_size=2).map(tuple)
    ),
    wishes=st.builds(
        Wishes,
        scope=st.sampled_from((None, "whole_house", "drinking_water")),
        no_salt=st.none() | st.booleans(),
        no_chemicals=st.none() | st.booleans(),
    ),
)
whole = settings(max_examples=80, deadline=None)


def told(well: tuple[Finding, ...], site: Site) -> Plan:
    return plan(*well, site=site)


def asks_nothing(one: Finding) -> bool:
    """Whether a finding asks for nothing of anybody: one to watch may, for some or for stains."""
    row = knowledge.needs().get(one.analyte or "")
    stains = any(level.kind == "secondary" for level in one.levels)
    watched = one.verdict == "watch" and (stains or (row is not None and bool(row.watched)))
    return one.verdict not in ASKING and not watched


@whole
@given(wells.map(lambda well: tuple(filter(asks_nothing, well))), sites)
def test_without_a_health_concern_or_a_nuisance_there_is_no_need_and_no_train(
    well: tuple[Finding, ...], site: Site
) -> None:
    got = told(well, site)
    assert got.needs == got.trains == got.refused == ()


@whole
@given(wells, sites)
def test_every_stage_is_there_for_something_that_was_found_or_that_a_stage_needs(
    well: tuple[Finding, ...], site: Site
) -> None:
    got = told(well, site)
    wanted = {slug for need in got.needs for slug in need.analytes}
    for train in got.trains:
        assert train.stages
        for stage in train.stages:
            assert stage.for_
            assert set(stage.for_) <= wanted
            assert stage.because


@whole
@given(wells, sites)
def test_every_concern_is_treated_left_or_named(well: tuple[Finding, ...], site: Site) -> None:
    got = told(well, site)
    needed = {slug for need in got.needs for slug in need.analytes}
    for one in well:
        if one.verdict in ASKING and one.analyte != "hardness":
            assert one.analyte in needed
    asked = {slug for n in got.needs if n.for_ != "equipment" for slug in n.analytes}
    for train in got.trains:
        served = {slug for stage in train.stages for slug in stage.for_}
        assert asked <= served | set(train.left)
        assert not served & set(train.left)


@whole
@given(wells, sites)
def test_stages_stand_in_their_order_and_once(well: tuple[Finding, ...], site: Site) -> None:
    for names in trains(told(well, site)):
        # The carbon behind a chlorine feed may stand ahead of its usual place, to spare the resin.
        fed = "chlorine_feed" in names
        places = [position(name) for name in names if not fed or name != "carbon_filter"]
        assert places == sorted(places)
        assert len(set(names)) == len(names)


@whole
@given(wells, sites)
def test_a_condition_that_refuses_a_stage_never_fails_where_the_stage_stands(
    well: tuple[Finding, ...], site: Site
) -> None:
    refusing = {
        name: {
            asks(row)
            for row in knowledge.conditions(name)
            if row.beyond == "refuse" or (row.beyond == "ahead" and row.fact != "coliform")
        }
        for name in stage_names()
    }
    for train in told(well, site).trains:
        for stage in train.stages:
            for condition in stage.conditions:
                failing = condition.holds is False
                assert not failing or condition.asks not in refusing[stage.stage], condition
                assert condition.citation
                assert condition.asks
                assert condition.has


@whole
@given(wells, sites)
def test_wishes_are_honoured(well: tuple[Finding, ...], site: Site) -> None:
    for train in told(well, site).trains:
        rows = [knowledge.stages()[stage.stage] for stage in train.stages]
        assert not (site.wishes.no_salt and any(row.salt for row in rows))
        assert not (site.wishes.no_chemicals and any(row.chemical for row in rows))
        if site.wishes.scope == "drinking_water":
            places = {s.place for s in train.stages if s.stage != "shock_chlorination"}
            assert places <= {"point_of_use"}


@whole
@given(wells, sites)
def test_what_is_refused_has_a_reason_and_is_not_proposed(
    well: tuple[Finding, ...], site: Site
) -> None:
    got = told(well, site)
    proposed = {stage.stage for train in got.trains for stage in train.stages}
    for no in got.refused:
        assert no.why
        assert no.stage not in proposed


@whole
@given(wells, sites)
def test_trains_are_few_and_differ_in_a_stage(well: tuple[Finding, ...], site: Site) -> None:
    sets = [frozenset(names) for names in trains(told(well, site))]
    assert len(sets) == len(set(sets)) <= 3


@whole
@given(wells, sites)
def test_bacteria_never_lead_to_a_lamp_first(well: tuple[Finding, ...], site: Site) -> None:
    got = told((*well, bacteria()), site)
    for names in trains(got):
        assert names[0] == "shock_chlorination"
    assert not got.trains or "uv" not in trains(got)[0]


@whole
@given(wells, sites)
def test_the_same_well_gives_the_same_plan_in_any_order_of_the_sheet(
    well: tuple[Finding, ...], site: Site
) -> None:
    assert trains(told(well, site)) == trains(told(well[::-1], site))


@whole
@given(wells, sites)
def test_a_plan_can_be_published_and_repeats_nothing(well: tuple[Finding, ...], site: Site) -> None:
    got = told(well, site)
    assert to_jsonable(got)
    assert len({step.step for step in got.steps}) == len(got.steps)
    retests = [(again.analyte, again.when) for again in got.retest]
    assert len(set(retests)) == len(retests)
    assert all(analyte(slug) for slug, _ in retests)


@whole
@given(wells, sites)
def test_behind_equipment_there_is_never_a_train(well: tuple[Finding, ...], site: Site) -> None:
    got = plan(*well, site=site, sample=Sample(taken="treated"))
    assert got.trains == got.refused == ()
    assert "raw_sample" in {step.step for step in got.steps}


@settings(max_examples=60, deadline=None)
@given(st.decimals("0.31", "30", places=2), st.decimals("0.31", "30", places=2))
def test_more_iron_never_brings_the_softener_back(one: Decimal, other: Decimal) -> None:
    less, more = sorted((one, other))

    def alone(iron: Decimal) -> bool:
        well = plan(finding("iron", str(iron)), finding("hardness", "250"), finding("ph", "7.2"))
        return bool(well.trains) and trains(well)[0] == ["softener"]

    assert alone(less) or not alone(more)
