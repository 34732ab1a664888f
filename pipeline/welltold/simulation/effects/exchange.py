"""Ion exchange: one ion for another, equivalent for equivalent."""

from __future__ import annotations

import numpy as np

from ...chemistry.arrays import Array
from ..batch import ALKALINITY, CARBON, HARD, HARDNESS, IRON_II, OTHER_HARDNESS, Batch, per_meq
from ..carbonate import MEQ_CACO3, settled
from ..refusal import StageRefused
from .run import Run

RELEASED = {"sodium_chloride": "sodium", "potassium_chloride": "potassium"}
"""By the ``salt`` of the size: the ion that a softener gives off."""


def exchange_cations(batch: Batch, run: Run) -> None:
    """Take calcium and magnesium down to a hardness, and other cations to a share of theirs.

    Sodium (or potassium, with potassium chloride) takes their place, so charge and alkalinity stay.
    """
    if not batch.has(*HARD):
        raise StageRefused(run.stage, (HARDNESS,))
    low, high = run.range("hardness")
    target = (high + (low - high) * batch.remove) / MEQ_CACO3
    hardness = batch.get("calcium") + batch.get("magnesium") + batch.get(OTHER_HARDNESS)
    share = np.minimum(1.0, target / np.maximum(hardness, 1e-9))
    batch.values[OTHER_HARDNESS] = share * batch.get(OTHER_HARDNESS)
    taken = np.zeros_like(hardness)
    for ion in HARD:
        gone = (1 - share) * batch.values[ion]
        batch.change(ion, -gone)
        taken = taken + gone
    taken = taken + _also(batch, run)
    released = RELEASED[run.size.get("salt", "sodium_chloride")]
    batch.change(released, taken)
    if HARDNESS in batch.open_up:
        batch.open_up -= {*HARD, HARDNESS}
        batch.open_up.add(released)
    batch.mark((*HARD, HARDNESS), verified=run.row.verified)


def _also(batch: Batch, run: Run) -> Array:
    """Take dissolved iron and manganese too; a bed fouled with rust takes less."""
    taken = np.zeros_like(batch.celsius)
    for ion in (IRON_II, "manganese"):
        if ion in batch.values:
            amount = batch.values[ion] * per_meq(ion)
            gone = (1 - run.left(batch, "metals_left", amount)) * batch.values[ion]
            batch.change(ion, -gone)
            batch.practice.add(ion)
            taken = taken + gone
    return taken


def exchange_anions(batch: Batch, run: Run) -> None:
    """Take anions to a share of theirs and give off chloride for them.

    A fresh bed takes bicarbonate too: the alkalinity lies between nothing of it left and all.
    """
    left = run.left(batch)
    taken = np.zeros_like(left)
    for ion in run.of():
        if ion in batch.values:
            gone = (1 - left) * batch.values[ion]
            batch.change(ion, -gone)
            taken = taken + gone
    if ALKALINITY in batch.values:
        # low alkalinity goes with strong removal: a bed just regenerated does both
        gone = (1 - run.left(batch, "alkalinity_left")) * batch.values[ALKALINITY]
        if CARBON in batch.values:
            water = settled(batch)[1]
            bound = (1 + water.medium.bicarbonate_pairs) * water.bicarbonate * 1000
            gone = np.fmin(gone, bound)  # no bound where the chemistry is not told
            batch.shift_carbon(-gone)
        batch.shift_alkalinity(-gone)
        taken = taken + gone
    batch.change("chloride", taken)
    batch.lose_ph()
    if not batch.has(*run.of(), ALKALINITY):
        batch.open_up.add("chloride")  # an anion that nobody measured gives chloride too
    batch.mark((*run.of(), "chloride", ALKALINITY, "ph"), verified=run.row.verified)
