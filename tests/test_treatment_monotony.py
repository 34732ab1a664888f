"""What may never get worse when something gets better, for any well."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st
from treatment_wells import bacteria, finding, quiet

from welltold.interpretation import Finding
from welltold.reading import Sample
from welltold.site import Home, Site, Well
from welltold.treatment.conditions import Judged
from welltold.treatment.drafts import Draft
from welltold.treatment.knowledge import stages
from welltold.treatment.search import Search
from welltold.treatment.walk import Line, Walker
from welltold.treatment.wanted import wanted
from welltold.treatment.water import Water
from welltold.treatment.weights import Chosen

IRON = st.decimals("0.31", "9.5", places=2)
SOME = settings(max_examples=40, deadline=None)
FILTERS = ("air_injection_filter", "oxidizing_filter", "greensand_filter", "softener")
LARGER = ("tank_in", "media_ft3_total", "salt_lb_per_year", "sludge_lb_per_year", "least_ft3")
ASIDE = frozenset({"shock_chlorination"})


def home(pump_gpm: Decimal | None, people: int = 4, bathrooms: int = 2) -> Site:
    """Return a house whose design flow is fixed, with one pump or another."""
    return Site(
        home=Home(people=people, bathrooms=Decimal(bathrooms)), well=Well(pump_gpm=pump_gpm)
    )


def searched(findings: tuple[Finding, ...], site: Site) -> tuple[Search, tuple[Chosen, ...]]:
    water = Water(findings, Sample(), site)
    search = Search(water, {want.need: want for want in wanted(water)})
    return search, search.trains()


def walked(findings: tuple[Finding, ...], names: tuple[str, ...], site: Site) -> Line:
    needs = {"softener": "hardness"}
    drafts = [
        Draft(name, stages()[name].place, {needs.get(name, "iron"): "iron_filter"})
        for name in names
    ]
    return Walker(Water(findings, Sample(), site)).through(drafts, sized=True)


wells = st.tuples(
    IRON.map(lambda mg: finding("iron", str(mg))),
    st.decimals("130", "420", places=0).map(lambda mg: finding("hardness", str(mg))),
    st.decimals("6.0", "8.2", places=1).map(
        lambda ph: (finding if ph < Decimal("6.5") else quiet)("ph", str(ph))
    ),
    st.sampled_from((bacteria(found=False), quiet("manganese", "0.02"))),
)


@SOME
@given(wells, st.integers(2, 20), st.integers(1, 20), st.integers(1, 4))
def test_a_better_pump_never_loses_an_option(
    well: tuple[Finding, ...], gpm: int, more: int, bathrooms: int
) -> None:
    # The design flow comes from the house, so only what the pump can wash changes.
    weak, weak_trains = searched(well, home(Decimal(gpm), bathrooms=bathrooms))
    strong, strong_trains = searched(well, home(Decimal(gpm + more), bathrooms=bathrooms))
    assert strong.barred <= weak.barred
    assert bool(strong_trains) >= bool(weak_trains)
    if weak_trains:
        kept, now = weak_trains[0].weight, strong_trains[0].weight
        assert (now.health_left, now.comfort_left) <= (kept.health_left, kept.comfort_left)


@SOME
@given(wells, st.integers(2, 20), st.integers(1, 20), st.sampled_from(FILTERS))
def test_a_stage_that_a_weak_pump_can_wash_a_better_one_can_too(
    well: tuple[Finding, ...], gpm: int, more: int, name: str
) -> None:
    (weak,) = walked(well, (name,), home(Decimal(gpm)))
    (strong,) = walked(well, (name,), home(Decimal(gpm + more)))
    assert strong.can_be_built >= weak.can_be_built
    assert weak.sized
    assert strong.sized
    if not weak.sized.refused:
        assert not strong.sized.refused


@SOME
@given(IRON, IRON, st.sampled_from(FILTERS), st.integers(4, 20), st.sampled_from(("7.0", "7.6")))
def test_more_iron_never_makes_a_tank_the_salt_or_the_frequency_smaller(
    one: Decimal, other: Decimal, name: str, gpm: int, ph: str
) -> None:
    def built(iron: Decimal) -> tuple[dict[str, Decimal], Decimal | None]:
        well = (finding("iron", str(iron)), finding("hardness", "250"), quiet("ph", ph))
        (passage,) = walked(well, (name,), home(Decimal(gpm)))
        sized = passage.sized
        assert sized
        figures = {**sized.size, **sized.use_per_year}
        days = sized.settings.get("interval_days")
        known = {key: figures[key] for key in LARGER if isinstance(figures.get(key), Decimal)}
        return known, days if isinstance(days, Decimal) else None  # type: ignore[return-value]  # filtered above

    (less, rare), (more, often) = built(min(one, other)), built(max(one, other))
    assume(less.keys() == more.keys())
    for key, value in less.items():
        assert more[key] >= value, key
    if rare is not None and often is not None and less.get("tank_in") == more.get("tank_in"):
        assert often <= rare


def asked(line: Line) -> dict[tuple[str, str], Judged]:
    return {
        (passage.draft.stage, judged.shown.asks): judged
        for passage in line
        for judged in passage.judged
    }


@SOME
@given(wells, st.permutations(FILTERS), st.integers(1, 3), st.integers(0, 3))
def test_adding_a_stage_never_hides_a_condition(
    well: tuple[Finding, ...], names: list[str], count: int, at: int
) -> None:
    names = names[: count + 1]
    extra = names.pop()
    longer = [*names[:at], extra, *names[at:]]
    site = home(Decimal(8))
    before, after = (asked(walked(well, tuple(line), site)) for line in (names, longer))
    assert before.keys() <= after.keys()
    # Nothing that fails or is open turns into "holds" by a stage without a source for it.
    for key, judged in before.items():
        if judged.shown.holds is not True and after[key].shown.holds is True:
            assert "behind" in after[key].shown.has or "ahead" in after[key].shown.has


@SOME
@given(wells, st.integers(2, 20))
def test_a_reading_in_doubt_never_keeps_what_a_sure_one_refuses(
    well: tuple[Finding, ...], gpm: int
) -> None:
    doubtful = tuple(replace(one, confidence=0.5) for one in well)
    sure, built = searched(well, home(Decimal(gpm)))
    _, trains = searched(doubtful, home(Decimal(gpm)))
    refused = set(sure.dropped) - {stage for one in built for stage in one.kinds}
    kinds = {stage for one in trains for stage in one.kinds}
    assert not refused & kinds - ASIDE
