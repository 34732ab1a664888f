"""Stages that let a share of something through."""

from __future__ import annotations

import numpy as np

from ..batch import ALKALINITY, CARBON, IONS, SOLIDS, Batch, times
from ..carbonate import carbon_dioxide
from ..stages import spread_out
from .run import Run

CO2_PER_MMOL = 44.009


def leave(batch: Batch, run: Run) -> None:
    """Leave a share of what carries no charge: particles, colour, radon, radium, chlorine."""
    for name in run.of():
        if name in batch.values:
            batch.put(name, times(batch.values[name], run.left(batch)))
    batch.mark(run.of(), verified=run.row.verified)


def strip(batch: Batch, run: Run) -> None:
    """Drive off a dissolved gas; carbon dioxide goes, the alkalinity stays, the pH rises."""
    gone = 1 - run.left(batch)
    for name in run.of():
        if name == "carbon_dioxide" and CARBON in batch.values:
            batch.shift_carbon(-gone * carbon_dioxide(batch) / CO2_PER_MMOL)
            batch.mark(("ph", "carbon_dioxide"), verified=run.row.verified)
        elif name in batch.values:
            batch.put(name, times(batch.values[name], 1 - gone))
            batch.mark((name,), verified=run.row.verified)


def reject(batch: Batch, run: Run) -> None:
    """Let the same share of every salt through; carbon dioxide and other gases pass."""
    share = run.left(batch)
    solids = batch.values.get(SOLIDS)
    gas = carbon_dioxide(batch) / CO2_PER_MMOL if CARBON in batch.values else None
    for ion in IONS:
        if ion in batch.values:
            batch.change(ion, (share - 1) * batch.values[ion])
    if ALKALINITY in batch.values:
        batch.put(ALKALINITY, share * batch.values[ALKALINITY])
    if gas is not None:
        batch.put(CARBON, gas + share * np.maximum(batch.values[CARBON] - gas, 0))
    if solids is not None:
        batch.put(SOLIDS, share * solids)
    others = ("iron_iii", "manganese_iv", "turbidity", "color", "tannin")
    for name in others:
        if name in batch.values:
            batch.put(name, times(batch.values[name], share))
    batch.mark((*IONS, *others, ALKALINITY, SOLIDS, "ph"), verified=run.row.verified)


def test_outlet(batch: Batch, run: Run) -> None:
    """Say nothing more of these: only a test of the treated water tells."""
    named = set(run.of())
    names = {slug for slug in spread_out(run.of()) if slug in named or slug not in {*IONS, "iron"}}
    (batch.untold if run.row.given.get("rises") else batch.at_most).update(names)
