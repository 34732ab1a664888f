"""Oxidation: dissolved iron, manganese and sulfide into what a filter holds back.

Charge decides what happens to the alkalinity. Iron with oxygen takes 1.80 mg of it (as CaCO3) for
1 mg of iron, with chlorine gas 2.70, with permanganate 1.50 (Water Treatment Plant Design, chapter
10, Table 10.7, AWWA/ASCE): that comes out of the equations here, and is checked in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ...chemistry.arrays import Array
from ..batch import IONS, IRON_II, IRON_III, MANGANESE_IV, Batch, per_meq
from .run import Run

H2S_PER_MMOL, ARSENIC_PER_MMOL, MANGANESE_PER_MMOL = 34.08, 74.92, 54.938
CHLORINE_PER_MMOL = 70.906


@dataclass(frozen=True, slots=True)
class Oxidant:
    """How much one mmol of an oxidant takes up."""

    electrons: int
    per_mmol: float
    """mg of it, chlorine as Cl2."""


OXIDANTS = {
    "oxygen": Oxidant(4, 31.998),
    "chlorine": Oxidant(2, CHLORINE_PER_MMOL),
    "peroxide": Oxidant(2, 34.015),
    "permanganate": Oxidant(3, 158.034),
}


def oxidize(batch: Batch, run: Run) -> None:
    """Oxidise a share of each of these; the oxidant is used up, what it leaves behind is added."""
    name = run.row.given["oxidant"]
    left = {of: run.left(batch, amount=_in_mg(batch, of)) for of in run.of() if of in batch.values}
    used = np.zeros_like(batch.celsius)
    for of, share in left.items():
        used = used + _ONE[of](batch, (1 - share) * batch.values[of])
    _spend(batch, name, used / OXIDANTS[name].electrons)
    batch.mark((*left, IRON_III, MANGANESE_IV), verified=run.row.verified)
    if left:
        batch.untold.add("turbidity")


def _in_mg(batch: Batch, name: str) -> Array:
    return batch.values[name] * (per_meq(name) if name in IONS else 1.0)


def electrons(batch: Batch, name: str, amount: Array) -> Array:
    """Return the mmol/L of electrons that an amount gives when it is oxidised, at the most."""
    return _ONE[name](batch.copy(), amount)


def _iron(batch: Batch, gone: Array) -> Array:
    """Fe(II) to Fe(OH)3: one electron; the hydroxide takes alkalinity."""
    batch.shift(IRON_II, -gone)
    batch.put(IRON_III, batch.get(IRON_III) + gone * per_meq(IRON_II))
    return gone / 2


def _manganese(batch: Batch, gone: Array) -> Array:
    """Mn(II) to MnO2: two electrons."""
    batch.shift("manganese", -gone)
    batch.put(MANGANESE_IV, batch.get(MANGANESE_IV) + gone * per_meq("manganese"))
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
    if "arsenic_v" not in batch.values:
        batch.blank.add("arsenic_v")
    batch.put("arsenic_v", batch.get("arsenic_v") + gone)
    return 2 * gone / ARSENIC_PER_MMOL


_ONE = {
    IRON_II: _iron,
    "manganese": _manganese,
    "hydrogen_sulfide": _sulfide,
    "ammonia": _ammonia,
    "arsenic_iii": _arsenite,
}


def _spend(batch: Batch, name: str, used: Array) -> None:
    """Use up so many mmol/L of the oxidant."""
    if name == "chlorine":
        batch.shift("chloride", used)
        batch.put("free_chlorine", batch.get("free_chlorine") - used * CHLORINE_PER_MMOL)
    if name == "permanganate":
        # dosed as KMnO4 and used to the last: potassium stays, MnO2 is filtered out
        batch.shift("potassium", used)
        batch.put(MANGANESE_IV, batch.get(MANGANESE_IV) + used * MANGANESE_PER_MMOL)
