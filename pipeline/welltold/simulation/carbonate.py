"""The carbonate system of a batch: pH from alkalinity and carbon, and back."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ..chemistry.activity import PER_TDS
from ..chemistry.arrays import Array, Truth
from ..chemistry.halving import PhSearch
from ..chemistry.medium import Medium, Molar, Settled, settle
from .batch import ALKALINITY, CARBON, Batch

CHARGE = {"calcium": 2, "magnesium": 2, "sodium": 1, "potassium": 1, "chloride": 1, "sulfate": 2}
REGION = {"ph": (4.5, 10.8), "alkalinity": (2.0, 600.0), "temperature": (0.0, 40.0)}
"""Where the chemistry was compared with PHREEQC 3 (tests/simulation); nothing is told outside.
Alkalinity in mg/L as CaCO3, temperature in Celsius."""
LEAST, MOST = 4.0, 11.2
"""pH between which a water's own is looked for."""
SEARCH = PhSearch(widths=((MOST - LEAST) / 2, 0.3, 0.05), halvings=12)
"""Halving 0.1 so often leaves 0.00003 of a pH unit."""
ROUNDS, FEW = 6, 2
MEQ_CACO3 = 50.0435


def molar(batch: Batch, ph: Array) -> Molar:
    """Return a batch at a pH as the chemistry asks for it; NaN outside of the region."""
    alkalinity = batch.get(ALKALINITY)
    known = inside(ph=ph, alkalinity=alkalinity * MEQ_CACO3, temperature=batch.celsius)
    # nitrate and fluoride make no pairs: they count for the ionic strength as chloride does
    single = batch.get("nitrate") + batch.get("fluoride")
    totals = {ion: np.maximum(batch.get(ion), 0) / charge for ion, charge in CHARGE.items()}
    totals["chloride"] = totals["chloride"] + single
    return Molar(
        ph * known,
        alkalinity / 1000,
        {ion: total / 1000 for ion, total in totals.items()},
        batch.celsius,
        batch.get("ionic_solids") * PER_TDS
        if "ionic_solids" in batch.values
        else np.full_like(ph, np.nan),
    )


def inside(**values: Array) -> Array:
    """Return 1 where every value lies in the region, NaN elsewhere: multiply to refuse."""
    ok = np.ones_like(values["ph"], dtype=bool)
    for name, value in values.items():
        low, high = REGION[name]
        ok &= (value >= low) & (value <= high)
    return np.where(ok, 1.0, np.nan)


def set_carbon(batch: Batch, ph: Array) -> None:
    """Give a batch the inorganic carbon that goes with a pH; NaN outside of the region."""
    water = molar(batch, ph)
    now = settle(water)
    batch.values[CARBON] = now.carbon * 1000
    batch.found = water.ph, now


def settled(batch: Batch) -> tuple[Array, Settled]:
    """Return pH and the settled water of a batch whose alkalinity and carbon are known."""
    found: tuple[Array, Settled] | None = batch.found
    if found is None:
        found = batch.found = _settled(batch)
    return found


def ph_of(batch: Batch) -> Array:
    """Return the pH of a batch whose alkalinity and carbon are known; NaN outside of the region."""
    return settled(batch)[0]


def carbon_dioxide(batch: Batch) -> Array:
    """Return the dissolved carbon dioxide in mg/L."""
    now = settled(batch)[1]
    return np.asarray(now.bicarbonate * now.hydrogen / now.medium.k1 * 44009.0)


def _settled(batch: Batch) -> tuple[Array, Settled]:
    near: tuple[Array, Settled] | None = batch.near
    ph = np.full_like(batch.celsius, (LEAST + MOST) / 2)
    now = near[1] if near else settle(molar(batch, ph), None, FEW)
    for turn in range(ROUNDS):
        before, ph = ph, SEARCH.near(_too_alkaline(batch, now.medium), ph, turn)
        water = molar(batch, ph)
        now = settle(water, now, FEW)
        if turn and not np.any(np.abs(ph - before) > 2.5e-3):
            break
    return water.ph, now


def _too_alkaline(batch: Batch, medium: Medium) -> Callable[[Array], Truth]:
    carbon, alkalinity = batch.values[CARBON] / 1000, batch.values[ALKALINITY] / 1000

    def too_high(hydrogen: Array) -> Truth:
        per, whole, _ = medium.factors(hydrogen)
        return np.asarray(carbon * per / whole + medium.of_water(hydrogen) > alkalinity)

    return too_high
