"""A better pump never loses an option; more iron never makes anything smaller or rarer."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sizing.waters import Stream, hard, home

from welltold.sizing import Sized, size_stage
from welltold.sizing.beds import Flow, bed_of, choose_bed, parallel_bed
from welltold.sizing.stock import media, tanks

D = Decimal
WASHED = ("air_injection_filter", "greensand_filter", "oxidizing_filter", "softener")
FED = ("chlorine_feed", "permanganate_feed", "peroxide_feed")
IRON = st.decimals("0", "15", places=2)
GPM = st.integers(1, 30)
BATHS = st.sampled_from(["1", "1.5", "2", "3", "4"])
PEOPLE = st.integers(1, 8)


def built(stage: str, iron: Decimal, gpg: str, site: object) -> Sized:
    return size_stage(stage, ["iron"], hard(gpg, iron=str(iron)), site)  # type: ignore[arg-type]  # a home


def ways(sized: Sized) -> set[tuple[object, object, object]]:
    """What can be built: medium, tanks, and whether a storage tank goes with it."""
    options = (sized, *sized.instead)
    return {
        (one.size["medium"], one.size["tanks"], "storage_gal" in one.size)
        for one in options
        if not one.refused and "medium" in one.size
    }


@pytest.mark.parametrize(
    "stage", [*WASHED, "calcite_neutralizer", "carbon_filter", "copper_zinc_filter"]
)
@settings(max_examples=40, deadline=None)
@given(low=GPM, more=st.integers(0, 12), baths=BATHS, people=PEOPLE)
def test_a_better_pump_never_loses_the_stage(
    stage: str, low: int, more: int, baths: str, people: int
) -> None:
    weak = built(stage, D(1), "15", home(people, baths, str(low)))
    strong = built(stage, D(1), "15", home(people, baths, str(low + more)))
    if weak.fits:
        assert strong.fits
        assert not strong.refused
    assert bool(ways(strong)) >= bool(ways(weak))


@settings(max_examples=200, deadline=None)
@given(
    medium=st.sampled_from(sorted(media())),
    peak=st.decimals("1", "15", places=1),
    sustained=st.decimals("0.5", "6", places=1),
    low=st.integers(1, 30),
    more=st.integers(0, 12),
)
def test_every_bed_that_a_pump_washes_a_better_pump_washes(
    medium: str, peak: Decimal, sustained: Decimal, low: int, more: int
) -> None:
    kind = media()[medium]
    weak, strong = (Flow(peak, sustained, gpm) for gpm in (low, low + more))
    first, second = choose_bed(kind, weak), choose_bed(kind, strong)
    if first is not None and first[1]:
        assert second is not None
        assert second[1]
    if parallel_bed(kind, weak) is not None:
        assert parallel_bed(kind, strong) is not None


@pytest.mark.parametrize("stage", [*WASHED, "calcite_neutralizer", "carbon_filter"])
@settings(max_examples=60, deadline=None)
@given(iron=IRON, more=IRON, gpg=st.integers(1, 60), people=PEOPLE, baths=BATHS)
def test_more_iron_never_makes_anything_smaller(
    stage: str, iron: Decimal, more: Decimal, gpg: int, people: int, baths: str
) -> None:
    site = home(people, baths, "30")
    little = built(stage, iron, str(gpg), site)
    much = built(stage, iron + more, str(gpg), site)
    if little.refused or much.refused:
        assert much.refused
        return
    for name in ("tank_in", "media_ft3_total", "backwash_gpm"):
        assert much.size[name] >= little.size[name], name  # type: ignore[operator]  # both numbers
    assert much.settings["interval_days"] <= little.settings["interval_days"]  # type: ignore[operator]  # both numbers
    for name in ("salt_lb_per_year", "water_gal_per_year"):
        if name in little.use_per_year:
            assert much.use_per_year[name] >= little.use_per_year[name], name  # type: ignore[operator]  # both numbers


@pytest.mark.parametrize("stage", FED)
@given(iron=IRON, more=IRON)
def test_more_iron_never_asks_for_less_of_a_chemical(
    stage: str, iron: Decimal, more: Decimal
) -> None:
    little, much = (built(stage, one, "10", home()) for one in (iron, iron + more))
    assert much.settings["dose_mg_l"] >= little.settings["dose_mg_l"]  # type: ignore[operator]  # both numbers
    for name in ("feed_gpd", "solution_gal_per_year"):
        part = "settings" if name == "feed_gpd" else "use_per_year"
        assert getattr(much, part)[name] >= getattr(little, part)[name]


@given(
    nitrate=st.decimals("0", "60", places=1),
    sulfate=st.decimals("0", "500", places=0),
    more=st.decimals("0", "500", places=0),
)
def test_more_sulfate_never_makes_an_exchanger_smaller(
    nitrate: Decimal, sulfate: Decimal, more: Decimal
) -> None:
    inlets = [
        Stream({"nitrate": str(nitrate), "sulfate": str(one)}) for one in (sulfate, sulfate + more)
    ]
    little, much = (size_stage("anion_exchanger", [], inlet, home()) for inlet in inlets)
    if little.refused or much.refused:
        assert much.refused
        return
    assert much.size["media_ft3_total"] >= little.size["media_ft3_total"]  # type: ignore[operator]  # both numbers
    assert much.settings["interval_days"] <= little.settings["interval_days"]  # type: ignore[operator]  # both numbers
    first, second = (one.use_per_year["salt_lb_per_year"] for one in (little, much))
    assert second >= first  # type: ignore[operator]  # both numbers


@settings(max_examples=60, deadline=None)
@given(
    low=st.decimals("0", "60", places=1),
    wider=st.decimals("0", "40", places=1),
    iron=IRON,
)
def test_the_high_end_alone_sizes_a_softener(low: Decimal, wider: Decimal, iron: Decimal) -> None:
    """Set on the high hardness: an interval is sized like its upper end."""
    high = low + wider
    wide = Stream(
        {"hardness": (str(low * 17), str(high * 17)), "iron": ("0", str(iron)), "manganese": "0"}
    )
    exact = Stream({"hardness": str(high * 17), "iron": str(iron), "manganese": "0"})
    assert (
        size_stage("softener", [], wide, home()).settings
        == size_stage("softener", [], exact, home()).settings
    )


@given(celsius=st.decimals("0", "40", places=1), warmer=st.decimals("0", "20", places=1))
def test_warmer_water_never_asks_for_less_backwash(celsius: Decimal, warmer: Decimal) -> None:
    for medium in media().values():
        cold, warm = (
            bed_of(medium, tanks()[0], Flow(D(5), None, None, min(at, D(40)))).backwash_gpm
            for at in (celsius, celsius + warmer)
        )
        assert warm >= cold
