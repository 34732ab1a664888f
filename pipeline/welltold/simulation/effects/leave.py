"""Stages that let a share of something through."""

from __future__ import annotations

import numpy as np

from ...chemistry.arrays import Array
from ..batch import ALKALINITY, CARBON, IONS, OTHER_HARDNESS, SOLIDS, Batch
from ..carbonate import carbon_dioxide
from ..stages import spread_out
from .run import Run

CO2_PER_MMOL, CHLORINE_PER_MMOL = 44.009, 70.906
AIR = 0.6
"""mg/L of carbon dioxide in water that is full of air, 420 ppm at 25 C (Henry's law, 0.034 mol/L
for one atmosphere)."""
PPM_PER_PSI = 100.0
"""Dissolved solids (mg/L) that press back with one psi; common practice, no source."""
NEITHER = (OTHER_HARDNESS, "iron_iii", "manganese_iv", "turbidity", "color", "tannin")
"""Held back by a membrane or a boiler without being salts."""


def leave(batch: Batch, run: Run) -> None:
    """Leave a share of what carries no charge: particles, colour, radium, chlorine."""
    for name in run.of():
        if name in batch.values:
            before = batch.values[name]
            batch.put(name, before * (run.left(batch, amount=before)))
            if name == "free_chlorine":
                # carbon turns it into chloride
                batch.shift("chloride", (before - batch.values[name]) / CHLORINE_PER_MMOL)
    batch.mark(run.of(), verified=run.row.verified)


def strip(batch: Batch, run: Run) -> None:
    """Drive off a dissolved gas; carbon dioxide goes, the alkalinity stays, the pH rises."""
    gone = 1 - run.left(batch)
    for name in run.of():
        if name == "carbon_dioxide" and CARBON not in batch.values:
            batch.lose_ph()
        elif name == "carbon_dioxide":
            gas = carbon_dioxide(batch)
            batch.shift_carbon(-np.clip(gone * gas, 0.0, np.maximum(gas - AIR, 0.0)) / CO2_PER_MMOL)
            batch.mark(("ph", "carbon_dioxide"), verified=run.row.verified)
        elif name in batch.values:
            batch.put(name, batch.values[name] * (1 - gone))
            batch.mark((name,), verified=run.row.verified)


def reject(batch: Batch, run: Run) -> None:
    """Let the same share of every salt through; carbon dioxide and other gases pass."""
    share = np.minimum(run.left(batch) * _passage(batch, run), 1.0)
    solids = batch.values.get(SOLIDS)
    gas = carbon_dioxide(batch) / CO2_PER_MMOL if CARBON in batch.values else None
    batch.lose_ph()
    for ion in IONS:
        if ion in batch.values:
            batch.change(ion, (share - 1) * batch.values[ion])
    if ALKALINITY in batch.values:
        batch.put(ALKALINITY, share * batch.values[ALKALINITY])
    if gas is not None:
        batch.put(CARBON, gas + share * np.maximum(batch.values[CARBON] - gas, 0))
    if solids is not None:
        batch.put(SOLIDS, share * solids)
    for name in NEITHER:
        if name in batch.values:
            batch.put(name, batch.values[name] * (share))
    batch.mark((*IONS, *NEITHER, ALKALINITY, SOLIDS, "ph"), verified=run.row.verified)


def _passage(batch: Batch, run: Run) -> Array:
    """Return how much more salt passes than in the test of the membrane.

    Salt goes through at its own pace, warmer water faster (6 % for one degree); more pressure
    brings more water to thin it.
    """
    given = run.row.given
    if "per_degree" not in given:
        return np.ones_like(batch.celsius)
    warm = (1 + float(given["per_degree"])) ** (batch.celsius - float(given["test_c"]))
    feed = run.number("feed_psi")
    if feed is None:
        cut_in = run.site.well.pressure_psi
        feed = float(given["test_psi"]) if cut_in is None else float(cut_in[0])
    against = batch.get(SOLIDS) / PPM_PER_PSI
    test = float(given["test_psi"]) - float(given["test_mg_l"]) / PPM_PER_PSI
    return np.asarray(warm * test / np.maximum(feed - against, 1.0))


def test_outlet(batch: Batch, run: Run) -> None:
    """Say nothing more of these: only a test of the treated water tells."""
    named = set(run.of())
    names = {slug for slug in spread_out(run.of()) if slug in named or slug not in {*IONS, "iron"}}
    (batch.untold if run.row.given.get("rises") else batch.at_most).update(names)
