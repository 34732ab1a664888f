"""Saturation with calcite at the tap and in the heater, and what it would take to reach it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .arrays import Array, Truth, power10
from .halving import PhSearch
from .medium import Medium, Molar, Settled, settle
from .water import CACO3, Water, over_water

HEATER = 60.0
"""Celsius, the setting that a tank heater usually has."""
SEARCH = PhSearch(widths=(5.0, 0.5, 0.1), halvings=11)
"""Halving 0.2 so often leaves 0.0001 of a pH unit."""
ROUNDS = 20
ON_THE_WAY = 3
"""Rounds in which pairs are found anew before the next pH is looked for."""
START_PER_DEGREE = 0.03
"""No pH falls faster than by so much for one degree: a first guess that leaves some bicarbonate."""
STRENGTH_PER_CALCITE = 3.0
"""mol/L of ionic strength that go with one mol/L of Ca and two of HCO3."""


@dataclass(frozen=True, slots=True)
class Heated:
    """A water after heating in a closed tank."""

    ph: Array | float
    saturation: Array | float
    """log10 of the ion product over the solubility of calcite."""


def saturation(water: Water) -> Array | float:
    """Return log10 of the ion product over the solubility of calcite, at the water's temperature.

    NaN outside of the range in ``data/indices.csv``. Ksp of Plummer and Busenberg 1982.
    """
    return over_water(lambda one: (_index(settle(one), one.totals["calcium"]),), water)[0]


def heated(water: Water, temperature: float = HEATER) -> Heated:
    """Return pH and saturation after heating: alkalinity and carbon stay, nothing comes out."""
    return Heated(*over_water(lambda one: _heated(one, settle(one), temperature), water))


def precipitation_potential(water: Water) -> Array | float:
    """Return the mg/L of CaCO3 that would come out of solution (+) or go into it (-).

    Until calcite is at saturation, in a closed system. The reverse of the sign that counts the
    change of alkalinity. NaN outside of the range in ``data/indices.csv``.
    """
    return over_water(lambda one: (_potential(one, settle(one)) * CACO3 * 1000,), water)[0]


@dataclass(frozen=True, slots=True)
class Lime:
    """What a water does with lime; each number as the function of its name gives it."""

    saturation: Array | float
    heated: Array | float
    potential: Array | float


def lime(water: Water) -> Lime:
    """Return saturation at the tap and in the heater, and the precipitation potential, at once."""
    return Lime(*over_water(_lime, water))


def _lime(water: Molar) -> tuple[Array, ...]:
    now = settle(water)
    index = _index(now, water.totals["calcium"])
    return index, _heated(water, now, HEATER)[1], _potential(water, now) * CACO3 * 1000


def _index(now: Settled, calcium: Array) -> Array:
    free = calcium * now.medium.free_calcium
    carbonate = now.bicarbonate * now.medium.k2 / now.hydrogen
    with np.errstate(divide="ignore"):  # no calcium at all: infinitely far from saturation
        return np.asarray(np.log10(free * carbonate / now.medium.solubility))


def _heated(water: Molar, start: Settled, temperature: float) -> tuple[Array, ...]:
    carbon, calcium = start.carbon, water.totals["calcium"]
    hot = np.full_like(water.ph, temperature)
    ph = water.ph - START_PER_DEGREE * np.maximum(hot - water.temperature, 0)
    now = settle(replace(water, ph=ph, temperature=hot), start)
    for turn in range(ROUNDS):

        def too_high(hydrogen: Array, medium: Medium = now.medium) -> Truth:
            alkalinity, per_carbon, _ = medium.factors(hydrogen)
            reached = carbon * alkalinity / per_carbon + medium.of_water(hydrogen)
            return np.asarray(reached > water.alkalinity)

        before, ph = ph, SEARCH.near(too_high, ph, turn)
        now = settle(replace(water, ph=ph, temperature=hot), now, ON_THE_WAY)
        if not np.any(np.abs(ph - before) > 5e-4):
            break
    return ph, _index(settle(replace(water, ph=ph, temperature=hot), now), calcium)


def _potential(water: Molar, now: Settled) -> Array:
    """Return mol/L of calcite to come out; pairs are found anew for the water without it."""
    carbon, calcium, ph = now.carbon, water.totals["calcium"], water.ph
    out = np.zeros_like(water.ph)
    for turn in range(ROUNDS):

        def too_high(hydrogen: Array, medium: Medium = now.medium) -> Truth:
            gone = _removed(medium, hydrogen, water.alkalinity, carbon)
            return _over(medium, hydrogen, gone, water, carbon)

        ph = SEARCH.near(too_high, ph, turn)
        before, out = out, _removed(now.medium, power10(-ph), water.alkalinity, carbon)
        if not np.any(np.abs(out - before) > 3e-7 + 1e-3 * np.abs(out)):
            break
        left = Molar(
            ph,
            np.maximum(water.alkalinity - 2 * out, 0),
            {**water.totals, "calcium": np.maximum(calcium - out, 0)},
            water.temperature,
            np.maximum(water.strength - STRENGTH_PER_CALCITE * out, 1e-6),
        )
        now = settle(left, now, ON_THE_WAY)
    return out


def _removed(medium: Medium, hydrogen: Array, alkalinity: Array, carbon: Array) -> Array:
    """Return the calcite that must have come out when this pH is reached, mol/L.

    Two balances: alkalinity loses two for each CaCO3, carbon one.
    """
    per, whole, _ = medium.factors(hydrogen)
    share = per / whole
    return (alkalinity - medium.of_water(hydrogen) - carbon * share) / (2 - share)


def _over(medium: Medium, hydrogen: Array, out: Array, water: Molar, carbon: Array) -> Truth:
    """Return where the water at this pH, its calcite out, is still over saturation."""
    calcium = water.totals["calcium"]
    _, whole, ratio = medium.factors(hydrogen)
    carbonate = (carbon - out) / whole * ratio
    free = (calcium - out) * medium.free_calcium
    possible = (out < calcium) & (out < carbon)
    return np.asarray(possible & (free * carbonate > medium.solubility))
