"""A water, or many waters, as the carbonate chemistry asks for it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields, replace

import numpy as np

from .activity import PER_TDS
from .arrays import Array, Given, in_blocks, plain
from .medium import Molar
from .ranges import inside

MOLAR = {
    "calcium": 40.078,
    "magnesium": 24.305,
    "sodium": 22.990,
    "potassium": 39.098,
    "chloride": 35.453,
    "sulfate": 96.06,
}
"""g/mol."""
CACO3 = 100.087
"""g/mol; one equivalent of alkalinity as CaCO3 weighs half of it."""


@dataclass(frozen=True, slots=True)
class Water:
    """One water (numbers) or many (arrays of one shape); mg/L of the ion itself unless said."""

    ph: Given
    alkalinity: Given
    """As CaCO3."""
    calcium: Given = 0.0
    magnesium: Given = 0.0
    sodium: Given = 0.0
    potassium: Given = 0.0
    chloride: Given = 0.0
    sulfate: Given = 0.0
    temperature: Given = 25.0
    """Celsius."""
    solids: Given = float("nan")
    """Total dissolved solids. When given, the ionic strength comes from it (Langelier 1936);
    otherwise from the ions, which must then all be there."""

    def at(self, temperature: Given) -> Water:
        """Return the same numbers at another temperature, pH included."""
        return replace(self, temperature=temperature)


def over_water(
    work: Callable[[Molar], tuple[Array, ...]], water: Water
) -> tuple[Array | float, ...]:
    """Return what ``work`` makes of a water, in the shape in which the water was given."""
    columns = [getattr(water, field.name) for field in fields(Water)]
    return tuple(plain(one) for one in in_blocks(lambda *given: work(_molar(*given)), *columns))


def _molar(ph: Array, alkalinity: Array, *rest: Array) -> Molar:
    *ions, temperature, solids = rest
    known = inside("carbonate", ph=ph, alkalinity=alkalinity, temperature=temperature)
    known = known * np.where(np.isnan(solids), 1.0, inside("carbonate", solids=solids))
    return Molar(
        ph * known,
        alkalinity / (CACO3 / 2 * 1000),
        {name: ion / (MOLAR[name] * 1000) for name, ion in zip(MOLAR, ions, strict=True)},
        temperature,
        solids * PER_TDS,
    )
