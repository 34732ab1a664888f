"""Chemicals fed into the water."""

from __future__ import annotations

import numpy as np

from ...chemistry.arrays import Array, power10
from ...chemistry.medium import settle
from ..batch import ALKALINITY, CARBON, IRON_II, Batch
from ..carbonate import molar
from ..equilibrium import Mineral, dissolved
from ..refusal import StageRefused
from .oxidize import CHLORINE_PER_MMOL, OXIDANTS, electrons
from .run import Run

DEMANDING = (IRON_II, "manganese", "hydrogen_sulfide", "ammonia", "arsenic_iii")
ROUNDS = 3
SODA = Mineral("sodium", 1)
"""Soda ash counts as calcite does: two of alkalinity and one carbon."""


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
            total = total + electrons(batch, name, batch.values[name])
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
    if not np.all(np.isfinite(dose)):
        raise StageRefused(run.stage, outside="ph")
    batch.shift("sodium", 2 * dose)
    batch.shift_carbon(dose)
    batch.open_up |= {"sodium", ALKALINITY} if "carbon_dioxide" in batch.open_up else set()
    # the feed pump is set until the pH is right
    batch.open_down.discard("ph")
    # the pH that is aimed at is practice; what it takes to get there is arithmetic
    batch.mark(("ph",), verified=run.row.verified)


def _soda_ash(batch: Batch, target: Array) -> Array:
    """Return mmol/L of Na2CO3 that bring a batch to a pH; none where it is there already."""
    dose, hydrogen = np.zeros_like(target), power10(-target)
    for _ in range(ROUNDS):
        trial = batch.copy()
        trial.shift("sodium", 2 * dose)
        medium = settle(molar(trial, target)).medium
        dose = np.maximum(dissolved(batch, SODA, medium, hydrogen), 0.0)
    return dose
