"""How much calcite dissolves in the time that the water has in the bed.

Rate: Plummer, Wigley and Parkhurst 1978, Am. J. Sci. 278:179, in the form of PHREEQC 3
(phreeqc.dat): (k1 {H} + k2 {CO2} + k3) (1 - 10^(2/3 SI)), mmol a square centimetre a second.
In a bed hydrogen ions must first come through the film of water around each grain, so their share
is that of both ways in series: Wilson and Geankoplis 1966, Ind. Eng. Chem. Fundam. 5:9 (from
memory, unverified; it only makes the low end lower).

Grains count as spheres of the largest size, all water takes the same time, and what is worked out
between two points of the way is rounded down: all of it makes the low end lower, never higher.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..chemistry.activity import ZERO_C
from ..chemistry.arrays import Array, power10
from ..chemistry.medium import Settled, settle
from .batch import Batch
from .carbonate import FEW, molar, settled
from .equilibrium import CALCITE, add, dissolved

POROSITY = 0.45
"""Share of a bed of crushed stone that is water; common practice, no source."""
PROTON_CM2_S = 9.31e-5
"""Diffusion of hydrogen ions at 25 C; PHREEQC 3, phreeqc.dat."""
TO_GO = np.concatenate([np.linspace(1.0, 0.2, 11), np.geomspace(0.14, 0.005, 8)])
"""Shares of the way (in pH) to saturation at which the rate is worked out."""


@dataclass(frozen=True, slots=True)
class Bed:
    """A bed at work."""

    depth_cm: float
    speed_cm_s: float
    """Of the water in the empty tank."""
    grain_cm: float

    @property
    def seconds(self) -> float:
        """How long the water is between the grains."""
        return POROSITY * self.depth_cm / self.speed_cm_s

    @property
    def surface(self) -> float:
        """Square centimetres of grains for one cubic centimetre of water."""
        return 6 * (1 - POROSITY) / (self.grain_cm * POROSITY)


def dissolved_in(batch: Batch, most: Array, bed: Bed) -> Array:
    """Return the mmol/L of calcite that dissolve on the way through a bed, at most ``most``.

    ``most`` is what dissolves until the water is full.
    """
    ph, gone, now = _way(batch, most)
    rate = _rate(ph, now, np.tile(batch.celsius, TO_GO.size), bed).reshape(gone.shape)
    # 1 / rate bends upwards, so straight lines between the points give too long a time
    slow = 1 / np.maximum(rate * bed.surface, 1e-12)
    steps = np.diff(gone, axis=0) / 1000 * (slow[1:] + slow[:-1]) / 2
    times = np.concatenate([np.zeros_like(steps[:1]), np.cumsum(np.maximum(steps, 0), axis=0)])
    return _at(bed.seconds, times, gone)


def _way(batch: Batch, most: Array) -> tuple[Array, Array, Settled]:
    """Return pH (flat), what has dissolved (by point and member), and the waters on the way."""
    start = settled(batch)[0]
    full = batch.copy()
    add(full, CALCITE, most)
    end = settled(full)[0]
    ph = (end + TO_GO[:, None] * (start - end)).reshape(-1)
    points = _repeated(batch, TO_GO.size)
    amount = np.tile(most, TO_GO.size) * np.repeat(1 - TO_GO, most.size)
    now = _with(points, amount, ph)
    for _ in range(2):
        amount = dissolved(points, CALCITE, now.medium, power10(-ph))
        amount = np.clip(amount, 0.0, np.tile(most, TO_GO.size))
        now = _with(points, amount, ph, now)
    return ph, np.maximum.accumulate(amount.reshape(TO_GO.size, -1), axis=0), now


def _with(batch: Batch, amount: Array, ph: Array, start: Settled | None = None) -> Settled:
    trial = batch.copy()
    add(trial, CALCITE, amount)
    return settle(molar(trial, ph), start, FEW)


def _repeated(batch: Batch, count: int) -> Batch:
    new = batch.copy()
    new.found = None
    new.values = {name: np.tile(value, count) for name, value in batch.values.items()}
    new.celsius = np.tile(batch.celsius, count)
    return new


def _rate(ph: Array, now: Settled, celsius: Array, bed: Bed) -> Array:
    """Return mmol of calcite a square centimetre a second; ``now``: the water at this pH."""
    kelvin, medium = celsius + ZERO_C, now.medium
    hydrogen = power10(-ph)
    gas = now.bicarbonate * hydrogen / medium.k1
    carbonate = now.bicarbonate * medium.k2 / hydrogen
    ratio = now.free["calcium"] * carbonate / medium.solubility
    at_surface = power10(0.198 - 444.0 / kelvin)
    through_film = 1.09 / POROSITY * (bed.speed_cm_s / bed.grain_cm**2) ** (1 / 3)
    through_film = through_film * _diffusion(kelvin) ** (2 / 3)
    by_acid = 1 / (1 / at_surface + 1 / through_film)
    by_gas = power10(2.84 - 2177.0 / kelvin)
    warm = celsius > 25
    by_water = power10(np.where(warm, -1.1 - 1737.0 / kelvin, -5.86 - 317.0 / kelvin))
    forward = by_acid * hydrogen + by_gas * gas + by_water
    return np.asarray(forward * (1 - np.minimum(ratio, 1.0) ** (2 / 3)))


def _diffusion(kelvin: Array) -> Array:
    """Return how fast hydrogen ions spread, by temperature over viscosity (Stokes and Einstein)."""
    return np.asarray(PROTON_CM2_S * kelvin / 298.15 * _thickness(298.15) / _thickness(kelvin))


def _thickness(kelvin: Array | float) -> Array:
    """Return the viscosity of water in Pa s; Vogel's law, within 2.5 % from 0 to 100 C."""
    return np.asarray(2.414e-5 * power10(np.asarray(247.8 / (np.asarray(kelvin) - 140.0))))


def _at(seconds: float, times: Array, gone: Array) -> Array:
    """Return by member what has dissolved after so many seconds."""
    reached = np.sum(times <= seconds, axis=0) - 1
    last = np.minimum(reached, len(times) - 2)
    member = np.arange(times.shape[1])
    before, after = times[last, member], times[last + 1, member]
    share = np.clip((seconds - before) / np.maximum(after - before, 1e-12), 0.0, 1.0)
    low, high = gone[last, member], gone[last + 1, member]
    return np.asarray(low + share * (high - low))
