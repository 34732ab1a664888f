"""Numbers and arrays alike; what is refused is NaN; nothing depends on the neighbours."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from chemistry.waters import spread
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.chemistry import (
    Water,
    aggressive_index,
    carbonate_system,
    chloride_sulfate_ratio,
    heated,
    langelier_index,
    langelier_ph,
    larson_index,
    precipitation_potential,
    saturation,
)

PLAIN = Water(7.4, 280.0, 90.0, 28.0, temperature=12.0, solids=400.0)


def test_a_number_in_a_number_out() -> None:
    for value in (saturation(PLAIN), precipitation_potential(PLAIN), heated(PLAIN).ph):
        assert type(value) is float
    assert type(aggressive_index(7, 100, 100)) is float


def test_shapes_are_kept_and_broadcast() -> None:
    grid = dataclasses.replace(
        PLAIN, ph=np.array([[6.5], [7.0], [7.5]]), calcium=np.array([20.0, 90.0])
    )
    found = np.asarray(saturation(grid))
    assert found.shape == (3, 2)
    assert found[2, 1] == pytest.approx(saturation(dataclasses.replace(PLAIN, ph=7.5)), abs=1e-9)


def test_many_at_once_are_what_each_is_alone() -> None:
    waters = spread(40, seed=3).water(ions=True)
    columns = [np.asarray(getattr(waters, f.name)) for f in dataclasses.fields(Water)]
    alone = [
        Water(*(float(column if column.ndim == 0 else column[i]) for column in columns))
        for i in range(40)
    ]
    for work in (saturation, precipitation_potential, lambda one: heated(one).saturation):
        together = np.asarray(work(waters))
        single = np.array([work(one) for one in alone])
        assert together == pytest.approx(single, abs=0.05, rel=1e-3, nan_ok=True)


@pytest.mark.parametrize(
    "change",
    [
        {"ph": 4.4},
        {"ph": 9.6},
        {"alkalinity": 1.9},
        {"alkalinity": 601.0},
        {"temperature": -0.1},
        {"temperature": 60.1},
        {"solids": 3001.0},
        {"ph": float("nan")},
        {"alkalinity": float("nan")},
        {"alkalinity": 2.0, "ph": 9.5, "temperature": 40.0},
    ],
)
def test_outside_of_the_range_nothing_is_told(change: dict[str, float]) -> None:
    water = dataclasses.replace(PLAIN, **change)
    assert np.isnan(saturation(water))
    assert np.isnan(precipitation_potential(water))
    assert np.isnan(carbonate_system(water).carbon_dioxide)
    assert np.isnan(heated(water).saturation)


def test_refused_neighbours_change_nothing() -> None:
    mixed = dataclasses.replace(PLAIN, ph=np.array([7.4, 12.0, float("nan"), 7.0]))
    found = np.asarray(saturation(mixed))
    assert found[0] == pytest.approx(saturation(PLAIN), abs=1e-9)
    assert np.isnan(found).tolist() == [False, True, True, False]


@pytest.mark.parametrize(
    "value",
    [
        langelier_ph(1501, 12, 100, 100),
        langelier_ph(300, 12, 0, 100),
        langelier_ph(300, 12, 100, 1),
        langelier_index(8.6, 8.0),
        aggressive_index(7, 0, 100),
        aggressive_index(4.4, 100, 100),
        larson_index(10, 10, 0),
        larson_index(10, 10, 1),
        chloride_sulfate_ratio(10, 0),
    ],
)
def test_indices_outside_of_their_range(value: float) -> None:
    assert np.isnan(value)


@settings(max_examples=60)
@given(
    st.floats(5.0, 8.4),  # above it, in warm water, hydroxide may take the alkalinity up
    st.floats(40, 390),
    st.floats(2, 300),
    st.floats(3, 55),
    st.floats(0.05, 0.5),
)
def test_more_of_what_makes_scale_never_lowers_the_saturation(
    ph: float, alkalinity: float, calcium: float, celsius: float, more: float
) -> None:
    base = Water(ph, alkalinity, calcium, temperature=celsius, solids=800.0)
    before = saturation(base)
    for change in (
        {"ph": ph + more},
        {"alkalinity": alkalinity * (1 + more)},
        {"calcium": calcium * (1 + more)},
        {"temperature": celsius + 10 * more},
    ):
        assert saturation(dataclasses.replace(base, **change)) > before


@settings(max_examples=40)
@given(st.floats(5.5, 9.0), st.floats(10, 500), st.floats(5, 300), st.floats(3, 55))
def test_what_comes_out_has_the_sign_of_the_saturation(
    ph: float, alkalinity: float, calcium: float, celsius: float
) -> None:
    water = Water(ph, alkalinity, calcium, temperature=celsius, solids=800.0)
    index, out = float(saturation(water)), float(precipitation_potential(water))
    if abs(index) > 0.01:
        assert np.sign(index) == np.sign(out)
    assert out < min(calcium * 2.4973, 1e9), "no more than the calcium that is there"
