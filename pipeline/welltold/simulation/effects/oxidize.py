"""Oxidation: dissolved iron, manganese and sulfide into what a filter holds back.

Charge decides what happens to the alkalinity. Iron with oxygen takes 1.80 mg of it (as CaCO3) for
1 mg of iron, with chlorine gas 2.70, with permanganate 1.50 (Water Treatment Plant Design, chapter
10, Table 10.7, AWWA/ASCE): that comes out of the equations here, and is checked in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...chemistry.arrays import Array
from ..batch import IRON_II, IRON_III, MANGANESE_IV, Batch
from .run import Run

IRON_PER_MEQ, MANGANESE_PER_MEQ = 27.9225, 27.469
H2S_PER_MMOL, ARSENIC_PER_MMOL, MANGANESE_PER_MMOL = 34.08, 74.92, 54.938
CHLORINE_PER_MMOL = 70.906


@dataclass(frozen=True, slots=True)
class Oxidant:
    """What one mmol of an oxidant takes, gives and leaves behind."""

    electrons: int
    per_mmol: float
    """mg of it, chlorine as Cl2."""
    anion: str | None = None
    """Ion that it turns into."""


OXIDANTS = {
    "oxygen": Oxidant(4, 31.998),
    "chlorine": Oxidant(2, CHLORINE_PER_MMOL, "chloride"),
    "peroxide": Oxidant(2, 34.015),
    "permanganate": Oxidant(3, 158.034),
}


def oxidize(batch: Batch, run: Run) -> None:
    """Oxidise a share of each of these; the oxidant is used up, what it leaves behind is added."""
    oxidant = OXIDANTS[run.row.given["oxidant"]]
    used = np.zeros_like(batch.celsius)
    for name in run.of():
        if name in batch.values:
            gone = (1 - run.left(batch)) * batch.values[name]
            used = used + _ONE[name](batch, np.where(np.isfinite(gone), gone, 0.0))
            if not np.all(np.isfinite(gone)):
                batch.put(name, run.left(batch) * batch.get(name))
            batch.mark((name,), verified=run.row.verified)
    _spend(batch, run.row.given["oxidant"], oxidant, used / oxidant.electrons)
    batch.mark(("ph", "alkalinity"), verified=True)


def electrons(batch: Batch, name: str, amount: Array) -> Array:
    """Return the mmol/L of electrons that an amount gives when it is oxidised, at the most."""
    return _ONE[name](batch.copy(), amount)


def _iron(batch: Batch, gone: Array) -> Array:
    """Fe(II) to Fe(OH)3: one electron; the hydroxide takes alkalinity."""
    batch.shift(IRON_II, -gone)
    batch.put(IRON_III, batch.get(IRON_III) + gone * IRON_PER_MEQ)
    return gone / 2


def _manganese(batch: Batch, gone: Array) -> Array:
    """Mn(II) to MnO2: two electrons."""
    batch.shift("manganese", -gone)
    batch.put(MANGANESE_IV, batch.get(MANGANESE_IV) + gone * MANGANESE_PER_MEQ)
    return gone


def _sulfide(batch: Batch, gone: Array) -> Array:
    """H2S to sulfur (two electrons) up to sulfate (eight): how far, nobody knows beforehand."""
    batch.put("hydrogen_sulfide", batch.values["hydrogen_sulfide"] - gone)
    amount = gone / H2S_PER_MMOL
    to_sulfate = batch.dissolve * amount
    batch.shift("sulfate", 2 * to_sulfate)
    return 2 * amount + 6 * to_sulfate


def _ammonia(batch: Batch, gone: Array) -> Array:
    """Ammonium to nitrogen gas, at the breakpoint: three electrons."""
    batch.shift("ammonia", -gone)
    return 3 * gone


def _arsenite(batch: Batch, gone: Array) -> Array:
    """As(III) to As(V): two electrons; charges are too small to count."""
    batch.put("arsenic_iii", batch.values["arsenic_iii"] - gone)
    batch.put("arsenic_v", batch.get("arsenic_v") + gone)
    return 2 * gone / ARSENIC_PER_MMOL


_ONE = {
    IRON_II: _iron,
    "manganese": _manganese,
    "hydrogen_sulfide": _sulfide,
    "ammonia": _ammonia,
    "arsenic_iii": _arsenite,
}


def _spend(batch: Batch, name: str, oxidant: Oxidant, used: Array) -> None:
    """Use up so many mmol/L of the oxidant."""
    if oxidant.anion:
        batch.shift(oxidant.anion, used)
    if name == "chlorine":
        batch.put("free_chlorine", batch.get("free_chlorine") - used * oxidant.per_mmol)
    if name == "permanganate":
        # dosed as KMnO4 and used to the last: potassium stays, MnO2 is filtered out
        batch.shift("potassium", used)
        batch.put(MANGANESE_IV, batch.get(MANGANESE_IV) + used * MANGANESE_PER_MMOL)
