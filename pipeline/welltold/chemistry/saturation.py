"""Saturation with calcite at the tap and in the heater, and what it would take to reach it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .arrays import Array, Truth, power10
from .medium import Medium, Settled, settle
from .water import CACO3, Molar, Water, over_water

HEATER = 60.0
"""Celsius, the setting that a tank heater usually has."""
LOWEST, HIGHEST = 3.0, 12.0
"""Between these pH values an answer is looked for."""
HALVINGS = 26
"""Halving a range of 9 so often leaves 1e-7 of a pH unit."""
ROUNDS = 20
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
    return over_water(lambda one: (_index(one.settled(), one.totals["calcium"]),), water)[0]


def heated(water: Water, temperature: float = HEATER) -> Heated:
    """Return pH and saturation after heating: alkalinity and carbon stay, nothing comes out."""
    return Heated(*over_water(lambda one: _heated(one, temperature), water))


def precipitation_potential(water: Water) -> Array | float:
    """Return the mg/L of CaCO3 that would come out of solution (+) or go into it (-).

    Until calcite is at saturation, in a closed system. The reverse of the sign that counts the
    change of alkalinity. NaN outside of the range in ``data/indices.csv``.
    """
    return over_water(lambda one: (_potential(one) * CACO3 * 1000,), water)[0]


def _index(now: Settled, calcium: Array) -> Array:
    free = calcium * now.medium.free_calcium
    carbonate = now.bicarbonate * now.medium.k2 / now.hydrogen
    with np.errstate(divide="ignore"):  # no calcium at all: infinitely far from saturation
        return np.asarray(np.log10(free * carbonate / now.medium.solubility))


def _heated(water: Molar, temperature: float) -> tuple[Array, ...]:
    carbon = water.settled().carbon
    hot = np.full_like(water.ph, temperature)
    ph = water.ph - START_PER_DEGREE * np.maximum(hot - water.temperature, 0)
    for _ in range(ROUNDS):
        before, medium = ph, settle(ph, water.alkalinity, water.totals, hot, water.strength).medium

        def too_high(hydrogen: Array, medium: Medium = medium) -> Truth:
            alkalinity, per_carbon, _ = medium.factors(hydrogen)
            reached = carbon * alkalinity / per_carbon + medium.of_water(hydrogen)
            return np.asarray(reached > water.alkalinity)

        ph = _search(too_high, water.ph)
        if not np.any(np.abs(ph - before) > 1e-5):
            break
    now = settle(ph, water.alkalinity, water.totals, hot, water.strength)
    return ph, _index(now, water.totals["calcium"])


def _potential(water: Molar) -> Array:
    """Return mol/L of calcite to come out; pairs are found anew for the water without it."""
    start = water.settled()
    carbon, calcium, now = start.carbon, water.totals["calcium"], start
    out = np.zeros_like(water.ph)
    for _ in range(ROUNDS):
        before = out

        def too_high(hydrogen: Array, medium: Medium = now.medium) -> Truth:
            gone = _removed(medium, hydrogen, water.alkalinity, carbon)
            return _over(medium, hydrogen, gone, water, carbon)

        ph = _search(too_high, water.ph)
        out = _removed(now.medium, power10(-ph), water.alkalinity, carbon)
        if not np.any(np.abs(out - before) > 1e-8 + 1e-4 * np.abs(out)):
            break
        left = {**water.totals, "calcium": np.maximum(calcium - out, 0)}
        strength = np.maximum(water.strength - STRENGTH_PER_CALCITE * out, 1e-6)
        alkalinity = np.maximum(water.alkalinity - 2 * out, 0)
        now = settle(ph, alkalinity, left, water.temperature, strength)
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


def _search(too_high: Callable[[Array], Truth], like: Array) -> Array:
    """Return the pH at which ``too_high``, asked with {H}, turns true; NaN stays NaN."""
    low, high = np.full_like(like, LOWEST), np.full_like(like, HIGHEST)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        over = too_high(power10(-middle))
        high, low = np.where(over, middle, high), np.where(over, low, middle)
    return (low + high) / 2 + like * 0
