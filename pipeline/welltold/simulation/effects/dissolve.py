"""Calcite and magnesia neutralisers: what the bed dissolves, from least to most."""

from __future__ import annotations

import numpy as np

from ...chemistry import Water, precipitation_potential
from ..batch import ALKALINITY, CARBON, HARDNESS, SOLIDS, Batch, per_meq
from ..carbonate import MEQ_CACO3, ph_of
from ..refusal import StageRefused
from .run import Run

CACO3 = 100.087


def dissolve_calcite(batch: Batch, run: Run) -> None:
    """Dissolve calcite; the most is equilibrium, the least what the time in the bed allows."""
    lacking = [name for name in ("ph", ALKALINITY) if CARBON not in batch.values]
    if lacking or not batch.has("calcium"):
        raise StageRefused(run.stage, tuple(lacking) or ("calcium",))
    most = np.maximum(-np.asarray(precipitation_potential(_water(batch))), 0) / CACO3
    if not np.all(np.isfinite(most)):
        raise StageRefused(run.stage, outside="ph")
    amount = batch.dissolve * most
    batch.shift("calcium", 2 * amount)
    batch.shift_carbon(amount)
    if "carbon_dioxide" in batch.open_up:
        batch.open_up |= {"calcium", HARDNESS, ALKALINITY, SOLIDS}


def _water(batch: Batch) -> Water:
    return Water(
        ph_of(batch),
        batch.get(ALKALINITY) * MEQ_CACO3,
        **{
            ion: batch.get(ion) * per_meq(ion)
            for ion in ("calcium", "magnesium", "sodium", "potassium", "chloride", "sulfate")
        },
        temperature=batch.celsius,
    )
