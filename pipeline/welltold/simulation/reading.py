"""How a quantity of the registry is read off a batch."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import numpy as np

from ..chemistry.arrays import Array
from .batch import (
    ALKALINITY,
    CARBON,
    HARD,
    HARDNESS,
    IONS,
    IRON_II,
    IRON_III,
    MANGANESE_IV,
    OTHER_HARDNESS,
    Batch,
    per_meq,
)
from .carbonate import MEQ_CACO3, carbon_dioxide, ph_of
from .raw import OTHERS

PARTS: Mapping[str, tuple[str, ...]] = {
    HARDNESS: HARD,
    "iron": (IRON_II, IRON_III),
    "manganese": ("manganese", MANGANESE_IV),
    "ph": (ALKALINITY, CARBON),
    "carbon_dioxide": (ALKALINITY, CARBON),
}
"""What a quantity is made of, where it is not one."""
FOLLOWS: Mapping[str, tuple[str, ...]] = {
    "bicarbonate": (ALKALINITY, CARBON),
    "carbonate": (ALKALINITY, CARBON),
    "calcium_hardness": ("calcium",),
    "magnesium_hardness": ("magnesium",),
    "carbonate_hardness": (*HARD, ALKALINITY),
    "noncarbonate_hardness": (*HARD, ALKALINITY),
    "specific_conductance": (*IONS, ALKALINITY),
    "total_solids": (*IONS, ALKALINITY, IRON_III),
    "nitrate_nitrite": ("nitrate",),
    "sulfide": ("hydrogen_sulfide",),
    "apparent_color": ("color", IRON_III),
    "true_color": ("color",),
    "chlorine": ("free_chlorine",),
    "gross_alpha": ("radium_226", "radium_226_228", "uranium"),
}
"""What is not tracked itself: its raw figure no longer holds once one of these has changed."""


def parts_of(fact: str) -> tuple[str, ...]:
    """Return the tracked quantities that a fact is made of."""
    return PARTS.get(fact, (fact,))


def known_in(batch: Batch, fact: str) -> bool:
    """Return whether a batch can say how much of it there is."""
    if fact not in FACTS:
        return False
    parts = PARTS.get(fact, (fact,))
    if fact in {"iron", "manganese"}:
        return any(part in batch.values for part in parts)
    return all(part in batch.values for part in parts)


def _ion(name: str) -> Callable[[Batch], Array]:
    return lambda batch: batch.get(name) * per_meq(name)


def _plain(name: str) -> Callable[[Batch], Array]:
    return lambda batch: batch.get(name)


FACTS: Mapping[str, Callable[[Batch], Array]] = {
    **{ion: _ion(ion) for ion in IONS},
    **{name: _plain(name) for name in OTHERS},
    # below 0 it is acid that a laboratory prints as no alkalinity
    ALKALINITY: lambda batch: np.maximum(batch.get(ALKALINITY), 0.0) * MEQ_CACO3,
    HARDNESS: lambda batch: (
        (batch.get("calcium") + batch.get("magnesium") + batch.get(OTHER_HARDNESS)) * MEQ_CACO3
    ),
    "iron": lambda batch: batch.get(IRON_II) * per_meq(IRON_II) + batch.get(IRON_III),
    "manganese": lambda batch: (
        batch.get("manganese") * per_meq("manganese") + batch.get(MANGANESE_IV)
    ),
    "ph": ph_of,
    "carbon_dioxide": carbon_dioxide,
}
"""By slug: the quantity in the unit and basis of the registry."""
