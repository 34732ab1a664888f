"""The water chemistry against PHREEQC 3: the worst of some hundred waters over the whole range."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from figures import Figure

sys.path.insert(0, str(Path(__file__).parents[1]))

from chemistry.waters import Array, phreeqc, spread

from welltold.chemistry import (
    carbonate_system,
    heated,
    langelier_index,
    langelier_ph,
    precipitation_potential,
    saturation,
)

COUNT = 700


def figures() -> Iterator[Figure]:
    """Yield the largest differences; the waters in which ours is refused are counted."""
    waters = spread(COUNT)
    theirs = phreeqc(waters)
    for ions, name in ((True, "all ions known"), (False, "ions from the solids")):
        water = waters.water(ions=ions)
        index, hot = saturation(water), heated(water)
        out = np.asarray(precipitation_potential(water))
        gas = np.asarray(carbonate_system(water).carbon_dioxide) / theirs.carbon_dioxide
        share = (out - theirs.potential) / (5 + 0.03 * np.abs(theirs.potential))
        refused = int(np.isnan(index).sum())
        yield Figure(f"waters of {COUNT} that are refused, {name}", refused, "")
        yield _worst(f"calcite saturation, {name}", index, theirs.saturation, 0.15)
        yield _worst(f"the same at 60 C, {name}", hot.saturation, theirs.hot_saturation, 0.15)
        yield _worst(f"carbon dioxide as a share, {name}", gas, np.ones(COUNT), 0.25)
        if ions:
            yield _worst("precipitation potential / (5 mg/L + 3 %)", share, np.zeros(COUNT), 1)
    base = waters.alkalinity * 50.0435
    ph_s = langelier_ph(waters.solids, waters.temperature, waters.calcium * 50.0435, base)
    formula = langelier_index(waters.ph, ph_s)
    yield _worst("logarithmic Langelier index in its range", formula, theirs.saturation, 0.5)


def _worst(name: str, ours: object, theirs: Array, goal: float) -> Figure:
    apart = np.abs(np.asarray(ours) - theirs)
    return Figure(f"worst: {name}", float(np.nanmax(apart)), "", goal)
