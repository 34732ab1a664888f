"""How much calcite, and how much magnesia, a water takes until it is full of it.

Both bring two of alkalinity for one of metal; calcite brings a carbon too. So the amount that has
gone into solution follows from the pH, and the pH is what is looked for.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..chemistry.activity import ZERO_C
from ..chemistry.arrays import Array, Truth, power10
from ..chemistry.medium import Medium, Settled, settle
from .batch import ALKALINITY, CARBON, Batch
from .carbonate import FEW, SEARCH, molar, settled

BRUCITE_LOG_K, BRUCITE_HEAT = 16.84, -27.1
"""Mg(OH)2 + 2 H -> Mg + 2 H2O at 25 C, and its heat in kcal/mol: PHREEQC 3, wateq4f.dat (Ball and
Nordstrom 1991, USGS OFR 91-183). Magnesia takes up water and turns into brucite."""
GAS_KCAL = 1.98720e-3 * float(np.log(10.0))
ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Mineral:
    """What dissolves."""

    metal: str
    carbon: int
    """Carbon for one of metal."""


CALCITE, MAGNESIA = Mineral("calcium", 1), Mineral("magnesium", 0)


def add(batch: Batch, mineral: Mineral, amount: Array) -> None:
    """Dissolve mmol/L of it: the metal brings the alkalinity with it."""
    batch.shift(mineral.metal, 2 * amount)
    if mineral.carbon:
        batch.shift_carbon(mineral.carbon * amount)


@dataclass(frozen=True, slots=True)
class Full:
    """A water that takes no more of a mineral."""

    amount: Array
    """mmol/L that have dissolved, 0 where the water was full already; NaN where it leaves the
    region of the chemistry on the way."""
    ph: Array
    medium: Medium


def until_full(batch: Batch, mineral: Mineral) -> Full:
    """Return what dissolves until the water is full of a mineral."""
    ph, now = settled(batch)
    amount, share = np.zeros_like(ph), _free_magnesium(batch, now)
    for turn in range(ROUNDS):

        def too_high(hydrogen: Array, now: Settled = now, share: Array = share) -> Truth:
            gone = dissolved(batch, mineral, now.medium, hydrogen)
            if mineral is CALCITE:
                return _over_calcite(batch, now.medium, hydrogen, gone)
            return _over_brucite(batch, now.medium, hydrogen, gone * share)

        ph, before = SEARCH.near(too_high, ph, turn), amount
        amount = dissolved(batch, mineral, now.medium, power10(-ph))
        if turn and not np.any(np.abs(amount - before) > 1e-3):
            break
        trial = batch.copy()
        add(trial, mineral, np.maximum(amount, 0.0))
        now = settle(molar(trial, ph), now, FEW)
        share = _free_magnesium(trial, now)
    full = amount <= 0
    return Full(np.maximum(amount, 0.0), np.where(full, settled(batch)[0], ph), now.medium)


def dissolved(batch: Batch, mineral: Mineral, medium: Medium, hydrogen: Array) -> Array:
    """Return the mmol/L that have dissolved when {H} is reached."""
    per, whole, _ = medium.factors(hydrogen)
    share = per / whole
    lacking = batch.values[CARBON] * share + 1000 * medium.of_water(hydrogen)
    return np.asarray((lacking - batch.values[ALKALINITY]) / (2 - mineral.carbon * share))


def _free_magnesium(batch: Batch, now: Settled) -> Array:
    total = batch.get("magnesium") / 2000
    with np.errstate(invalid="ignore", divide="ignore"):
        return np.where(total > 0, now.free["magnesium"] / total, 1.0)


def _over_calcite(batch: Batch, medium: Medium, hydrogen: Array, amount: Array) -> Truth:
    _, whole, ratio = medium.factors(hydrogen)
    carbonate = (batch.values[CARBON] + amount) / whole * ratio
    free = (batch.get("calcium") / 2 + amount) * medium.free_calcium
    return np.asarray(free * carbonate > medium.solubility * 1e6)


def _over_brucite(batch: Batch, medium: Medium, hydrogen: Array, amount: Array) -> Truth:
    kelvin = batch.celsius + ZERO_C
    log_k = BRUCITE_LOG_K + BRUCITE_HEAT / GAS_KCAL * (1 / 298.15 - 1 / kelvin)
    active = (batch.get("magnesium") / 2 + amount) / 1000 / medium.proton**4
    return np.asarray(active > power10(log_k) * hydrogen**2)
