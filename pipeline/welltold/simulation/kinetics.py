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

from dataclasses import dataclass, fields

import numpy as np

from ..chemistry.activity import ZERO_C
from ..chemistry.arrays import Array, power10
from ..chemistry.medium import Medium
from .batch import CARBON, Batch
from .carbonate import settled
from .equilibrium import CALCITE, Full, dissolved

POROSITY = 0.45
"""Share of a bed of crushed stone that is water; common practice, no source."""
PROTON_CM2_S = 9.31e-5
"""Diffusion of hydrogen ions at 25 C; PHREEQC 3, phreeqc.dat."""
TO_GO = np.concatenate([np.linspace(1.0, 0.2, 11), np.geomspace(0.14, 0.005, 8)])[:, None]
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


def dissolved_in(batch: Batch, full: Full, bed: Bed) -> Array:
    """Return the mmol/L of calcite that dissolve on the way through a bed.

    ``full``: the same water when it takes no more.
    """
    start, now = settled(batch)
    ph = full.ph + TO_GO * (start - full.ph)
    # what the ions do to each other changes little on the way: in proportion to what has dissolved
    share = np.clip((1 - TO_GO) * np.ones_like(start), 0.0, 1.0)
    gone = share * full.amount
    for _ in range(2):
        medium = _between(now.medium, full.medium, share)
        gone = dissolved(batch, CALCITE, medium, power10(-ph))
        gone = np.maximum.accumulate(np.clip(gone, 0.0, full.amount), axis=0)
        share = gone / np.maximum(full.amount, 1e-9)
    rate = _rate(batch, ph, gone, medium, bed)
    # 1 / rate bends upwards, so straight lines between the points give too long a time
    slow = 1 / np.maximum(rate * bed.surface, 1e-12)
    steps = np.diff(gone, axis=0) / 1000 * (slow[1:] + slow[:-1]) / 2
    times = np.concatenate([np.zeros_like(steps[:1]), np.cumsum(np.maximum(steps, 0), axis=0)])
    return _at(bed.seconds, times, gone)


def _between(one: Medium, other: Medium, share: Array) -> Medium:
    ends = ((getattr(one, part.name), getattr(other, part.name)) for part in fields(Medium))
    return Medium(*(first + share * (last - first) for first, last in ends))


def _rate(batch: Batch, ph: Array, gone: Array, medium: Medium, bed: Bed) -> Array:
    """Return mmol of calcite a square centimetre a second, by point of the way and member."""
    kelvin, hydrogen = batch.celsius + ZERO_C, power10(-ph)
    _, whole, ratio = medium.factors(hydrogen)
    bicarbonate = (batch.values[CARBON] + gone) / 1000 / whole
    gas = bicarbonate * hydrogen / medium.k1
    calcium = (batch.get("calcium") / 2 + gone) / 1000 * medium.free_calcium
    product = calcium * bicarbonate * ratio / medium.solubility
    at_surface = power10(0.198 - 444.0 / kelvin)
    through_film = 1.09 / POROSITY * (bed.speed_cm_s / bed.grain_cm**2) ** (1 / 3)
    through_film = through_film * _diffusion(kelvin) ** (2 / 3)
    by_acid = 1 / (1 / at_surface + 1 / through_film)
    by_gas = power10(2.84 - 2177.0 / kelvin)
    warm = batch.celsius > 25
    by_water = power10(np.where(warm, -1.1 - 1737.0 / kelvin, -5.86 - 317.0 / kelvin))
    forward = by_acid * hydrogen + by_gas * gas + by_water
    return np.asarray(forward * (1 - np.minimum(product, 1.0) ** (2 / 3)))


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
