"""Whatever the water: charges stay balanced, nothing is lost, intervals hold what lies inside."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from simulation.waters import finding, water

from welltold.simulation import StageRefused, Stream, after, raw_stream
from welltold.simulation.batch import Batch
from welltold.stage_files import stage_names
from welltold.treatment.water import Amount, Water

STAGES = stage_names()
NUMBERS = {
    "ph": (5.2, 8.6),
    "alkalinity": (8, 350),
    "calcium": (1, 120),
    "magnesium": (0.5, 50),
    "sodium": (1, 150),
    "potassium": (0.2, 10),
    "chloride": (1, 250),
    "sulfate": (1, 250),
    "nitrate": (0.1, 25),
    "iron": (0.05, 12),
    "manganese": (0.01, 2),
    "hydrogen_sulfide": (0.05, 4),
    "total_dissolved_solids": (40, 1200),
    "turbidity": (0.1, 10),
    "radium_226_228": (0.1, 20),
    "ammonia": (0.05, 2),
}
values = st.fixed_dictionaries(
    {},
    optional={
        slug: st.floats(low, high).map(lambda value: f"{value:.4g}")
        for slug, (low, high) in NUMBERS.items()
    },
)
trains = st.lists(st.sampled_from(STAGES), max_size=5)
temperatures = st.one_of(st.none(), st.integers(4, 25).map(str))


def through(stream: Stream, stages: list[str]) -> Stream:
    """Return the water behind all stages that take it."""
    for stage in stages:
        try:
            stream = after(stage, stream)
        except StageRefused:
            continue
    return stream


@settings(max_examples=50)
@given(values, trains, temperatures)
def test_charges_stay_balanced_through_every_train(
    told: dict[str, str], stages: list[str], celsius: str | None
) -> None:
    raw = raw_stream(water(celsius, **told))
    assume("alkalinity" in raw.batch.values)
    gone = through(raw, [stage for stage in stages if stage not in SALT_LEAVES])
    assert gone.batch.balance() == pytest.approx(raw.batch.balance(), abs=1e-6)


SALT_LEAVES = ("reverse_osmosis", "distiller")
"""They take salts away, charge by charge: the sheet's own error shrinks with them."""


@settings(max_examples=50)
@given(values, st.sampled_from(SALT_LEAVES))
def test_a_membrane_takes_cations_and_anions_alike(told: dict[str, str], stage: str) -> None:
    raw = raw_stream(water("12", **told))
    assume("alkalinity" in raw.batch.values)
    gone = after(stage, raw)
    share = gone.batch.get("alkalinity") / raw.batch.get("alkalinity")
    assert gone.batch.balance() == pytest.approx(raw.batch.balance() * share, abs=1e-6)


def total_iron(batch: Batch) -> np.ndarray:
    return np.asarray(batch.get("iron_ii") * 27.9225 + batch.get("iron_iii"))


@settings(max_examples=50)
@given(values, st.sampled_from(["chlorine_feed", "peroxide_feed", "permanganate_feed", "aerator"]))
def test_a_feed_turns_iron_into_rust_and_loses_none(told: dict[str, str], stage: str) -> None:
    raw = raw_stream(water("12", **told))
    gone = after(stage, raw)
    assert total_iron(gone.batch) == pytest.approx(total_iron(raw.batch), abs=1e-9)
    assert np.all(gone.batch.get("iron_ii") <= raw.batch.get("iron_ii") + 1e-12)


@settings(max_examples=50)
@given(values, trains, temperatures)
def test_nothing_falls_below_nothing(
    told: dict[str, str], stages: list[str], celsius: str | None
) -> None:
    stream = through(raw_stream(water(celsius, **told)), stages)
    for name, value in stream.batch.values.items():
        if name not in {"alkalinity", "carbon"}:
            assert np.nanmin(value) >= -1e-9, name
    for slug, one in stream.quantities().items():
        assert one.low is None or one.low >= 0, slug
        assert one.low is None or one.high is None or one.low <= one.high, slug


@settings(max_examples=50)
@given(
    values,
    st.lists(st.sampled_from(STAGES), min_size=1, max_size=4),
    st.floats(1.05, 3),
    st.sampled_from(["iron", "manganese", "hydrogen_sulfide", "radium_226_228", "hardness"]),
)
def test_more_in_never_gives_less_out(
    told: dict[str, str], stages: list[str], more: float, slug: str
) -> None:
    told = {key: value for key, value in told.items() if key != slug}
    if slug == "hardness":
        told.pop("calcium", None)
        told.pop("magnesium", None)
    few, many = (
        through(raw_stream(water("12", **told, **{slug: f"{amount:.6g}"})), stages)
        for amount in (1.5, 1.5 * more)
    )
    assume(few.through == many.through)
    less, greater = few.span(slug), many.span(slug)
    assert less is not None
    assert greater is not None
    assert np.all(greater[1] >= less[1] * (1 - 1e-6))


def shaken(told: dict[str, str], share: float) -> Water:
    """Return the water with each result as a range of so much to each side."""
    findings = tuple(
        finding(
            slug,
            value,
            low=Decimal(value) * Decimal(str(round(1 - width, 4))),
            high=Decimal(value) * Decimal(str(round(1 + width, 4))),
        )
        for slug, value in told.items()
        for width in [share / 20 if slug == "ph" else share]
    )
    return water("12", more=findings)


@settings(max_examples=50)
@given(values, st.lists(st.sampled_from(STAGES), max_size=3), st.integers(0, 10**6))
def test_what_lies_inside_of_the_ranges_stays_inside(
    told: dict[str, str], stages: list[str], seed: int
) -> None:
    """The corners' envelope holds random waters from the inside: an interval never lies."""
    assume(told)
    loose = shaken(told, 0.1)
    try:
        corners, inside = raw_stream(loose), raw_stream(loose, draws=20, seed=seed)
        for stage in stages:
            corners, inside = after(stage, corners), after(stage, inside)
    except StageRefused:
        assume(False)
    for slug in ("hardness", "iron", "alkalinity", "sodium", "chloride", "ph", "carbon_dioxide"):
        outer, inner = corners.span(slug), inside.span(slug)
        if outer is None or inner is None or not np.isfinite([*outer, *inner]).all():
            continue
        slack = 0.02 if slug == "ph" else 1e-6 + 0.02 * float(outer[1])
        assert outer[0] - slack <= inner[0], slug
        assert inner[1] <= outer[1] + slack, slug


@settings(max_examples=50)
@given(values, trains)
def test_what_was_not_told_stays_not_told(told: dict[str, str], stages: list[str]) -> None:
    stream = through(raw_stream(water("12", **told)), stages)
    for slug in ("arsenic", "uranium", "lead", "fluoride"):
        assert stream.amount(slug, "mg/L") is None
        assert slug not in stream.quantities()


@settings(max_examples=50)
@given(values, trains)
def test_an_assumed_ion_is_marked_and_never_an_amount(
    told: dict[str, str], stages: list[str]
) -> None:
    stream = through(raw_stream(water("12", **told)), stages)
    for slug, one in stream.quantities().items():
        assert slug in told or one.assumed or slug in DERIVED, slug
        if one.assumed:
            assert slug in {"sodium", "chloride"}
            assert slug not in told
            assert stream.amount(slug, "mg/L") is None


DERIVED = {"carbon_dioxide", "hardness", "free_chlorine", "calcium", "magnesium", "manganese"}


def test_a_wider_sheet_never_gives_a_narrower_answer() -> None:
    told = {"ph": "6.2", "alkalinity": "25", "calcium": "8", "magnesium": "2"}
    widths = []
    for share in (0.01, 0.05, 0.2):
        stream = through(raw_stream(shaken(told, share)), ["calcite_neutralizer", "softener"])
        span = stream.span("sodium")
        assert span is not None
        widths.append(float(span[1] - span[0]))
    assert widths == sorted(widths)


def test_a_water_with_an_open_top_stays_open() -> None:
    top = finding("iron", "5", operator=">")
    stream = after("sediment_filter", raw_stream(water("12", more=(top,))))
    iron = stream.amount("iron", "mg/L")
    assert iron is not None
    assert iron.high is None
    assert isinstance(iron, Amount)
    assert not iron.sure
