"""Chemicals fed into the water."""

from __future__ import annotations

import numpy as np

from ...chemistry.arrays import Array
from ..batch import ALKALINITY, CARBON, IRON_II, Batch
from ..carbonate import carbon_of, ph_of
from ..refusal import StageRefused
from .oxidize import CHLORINE_PER_MMOL, OXIDANTS, electrons
from .run import Run

DEMANDING = (IRON_II, "manganese", "hydrogen_sulfide", "ammonia", "arsenic_iii")
HALVINGS = 16


def dose_chlorine(batch: Batch, run: Run) -> None:
    """Add the chlorine that the water asks for, and a residual; as bleach it brings sodium."""
    low, high = run.range("residual")
    residual = low + (high - low) * batch.remove
    dose = demand(batch, "chlorine") + residual
    batch.put("free_chlorine", batch.get("free_chlorine") + dose)
    if run.size.get("chlorine_as", "bleach") == "bleach":
        batch.shift("sodium", dose / CHLORINE_PER_MMOL)
    else:
        batch.shift("chloride", dose / CHLORINE_PER_MMOL)
    batch.mark(("free_chlorine",), verified=False)


def demand(batch: Batch, oxidant: str) -> Array:
    """Return the mg/L of an oxidant that iron, manganese, sulfide, ammonia and arsenic use up."""
    kind = OXIDANTS[oxidant]
    total = np.zeros_like(batch.celsius)
    for name in DEMANDING:
        if name in batch.values and (name != "ammonia" or oxidant == "chlorine"):
            amount = batch.values[name]
            total = total + electrons(batch, name, np.where(np.isfinite(amount), amount, 0.0))
    return total / kind.electrons * kind.per_mmol


def dose_soda_ash(batch: Batch, run: Run) -> None:
    """Add soda ash until the pH is reached: two sodium, two alkalinity and one carbon each."""
    if ALKALINITY not in batch.values or CARBON not in batch.values:
        raise StageRefused(run.stage, ("ph", ALKALINITY))
    low, high = run.range("ph")
    told = run.number("ph_target")
    target = (
        low + (high - low) * batch.dissolve if told is None else np.full_like(batch.remove, told)
    )
    dose = _soda_ash(batch, target)
    batch.shift("sodium", 2 * dose)
    batch.shift_carbon(dose)
    batch.mark((), verified=run.row.verified)


def _soda_ash(batch: Batch, target: Array) -> Array:
    """Return mmol/L of Na2CO3 that bring a batch to a pH; none where it is there already."""
    low, high = np.zeros_like(target), np.maximum(batch.values[CARBON], 0.01)
    for _ in range(HALVINGS):
        dose = (low + high) / 2
        trial = batch.copy()
        trial.shift("sodium", 2 * dose)
        needed = carbon_of(trial, target)
        # with more carbon than goes with the target pH the water is still too acid
        acid = trial.values[CARBON] + dose > needed
        low, high = np.where(acid, dose, low), np.where(acid, high, dose)
    reached = ph_of(batch) >= target
    return np.where(reached, 0.0, (low + high) / 2)
