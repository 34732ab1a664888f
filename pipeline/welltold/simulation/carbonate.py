"""The carbonate system of a batch: pH from alkalinity and carbon, and back."""

from __future__ import annotations

import numpy as np

from ..chemistry.activity import PER_TDS
from ..chemistry.arrays import Array, Truth, power10
from ..chemistry.medium import Medium, Molar, Settled, settle
from ..chemistry.ranges import inside
from .batch import ALKALINITY, CARBON, Batch

CHARGE = {"calcium": 2, "magnesium": 2, "sodium": 1, "potassium": 1, "chloride": 1, "sulfate": 2}
WIDTHS = (4.0, 0.5, 0.1)
HALVINGS = 13
"""Halving 0.2 so often leaves 0.00003 of a pH unit."""
ROUNDS = 6
FEW = 3
MEQ_CACO3 = 50.0435


def molar(batch: Batch, ph: Array) -> Molar:
    """Return a batch at a pH as the chemistry asks for it; NaN outside of its range."""
    alkalinity = batch.get(ALKALINITY)
    known = inside("carbonate", ph=ph, alkalinity=alkalinity * MEQ_CACO3, temperature=batch.celsius)
    # nitrate and fluoride make no pairs: they count for the ionic strength as chloride does
    single = batch.get("nitrate") + batch.get("fluoride")
    totals = {ion: np.maximum(batch.get(ion), 0) / charge for ion, charge in CHARGE.items()}
    totals["chloride"] = totals["chloride"] + single
    return Molar(
        ph * known,
        alkalinity / 1000,
        {ion: total / 1000 for ion, total in totals.items()},
        batch.celsius,
        batch.get("solids") * PER_TDS if "solids" in batch.values else np.full_like(ph, np.nan),
    )


def carbon_of(batch: Batch, ph: Array) -> Array:
    """Return the inorganic carbon in mmol/L that goes with a pH; NaN outside of the range."""
    return settle(molar(batch, ph)).carbon * 1000


def settled(batch: Batch) -> tuple[Array, Settled]:
    """Return pH and the settled water of a batch whose alkalinity and carbon are known."""
    carbon = batch.values[CARBON] / 1000
    ph = np.full_like(carbon, 7.0)
    now: Settled | None = None
    for turn in range(ROUNDS):
        water = molar(batch, ph)
        now = settle(water, now, FEW if now else 60)
        before = ph
        ph = _ph(now.medium, water.alkalinity, carbon, ph, turn)
        if not np.any(np.abs(ph - before) > 2e-4):
            break
    water = molar(batch, ph)
    return ph + 0 * water.ph, settle(water, now, FEW)


def ph_of(batch: Batch) -> Array:
    """Return the pH of a batch whose alkalinity and carbon are known; NaN outside of the range."""
    return settled(batch)[0]


def carbon_dioxide(batch: Batch) -> Array:
    """Return the dissolved carbon dioxide in mg/L."""
    now = settled(batch)[1]
    return np.asarray(now.bicarbonate * now.hydrogen / now.medium.k1 * 44009.0)


def _ph(medium: Medium, alkalinity: Array, carbon: Array, around: Array, turn: int) -> Array:
    width = WIDTHS[min(turn, len(WIDTHS) - 1)]
    low, high = around - width, around + width
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        over = _too_high(medium, power10(-middle), alkalinity, carbon)
        high, low = np.where(over, middle, high), np.where(over, low, middle)
    return np.asarray((low + high) / 2)


def _too_high(medium: Medium, hydrogen: Array, alkalinity: Array, carbon: Array) -> Truth:
    per, whole, _ = medium.factors(hydrogen)
    return np.asarray(carbon * per / whole + medium.of_water(hydrogen) > alkalinity)
