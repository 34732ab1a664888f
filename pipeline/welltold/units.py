"""Units: the face of the room that knows what a printed unit means and how to convert it.

``unit_spellings`` holds the exact spellings, ``unit_labels`` finds a unit in a label or a line,
``conversion`` turns values; ``factor_table`` makes the table of factors, never while reading.
"""

from __future__ import annotations

from .conversion import convert, normalize, uranium_activity, uranium_mass
from .unit_labels import trailing_unit, units_in
from .unit_spellings import Unit, basis_of, unit

__all__ = [
    "Unit",
    "basis_of",
    "convert",
    "normalize",
    "trailing_unit",
    "unit",
    "units_in",
    "uranium_activity",
    "uranium_mass",
]
