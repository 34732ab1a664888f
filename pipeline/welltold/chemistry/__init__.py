"""Water chemistry for one water or for many at once; numpy is imported in here only.

Every function takes numbers or arrays. What lies outside of the range of a formula
(``data/indices.csv``) is NaN, never an extrapolation.
"""

from __future__ import annotations

from .activity import (
    activity_coefficient,
    debye_huckel_slope,
    ionic_strength_of_conductance,
    ionic_strength_of_solids,
)
from .carbonate import Carbonate, carbonate_system
from .equilibria import log_constant
from .indices import (
    aggressive_index,
    chloride_sulfate_ratio,
    langelier_index,
    langelier_ph,
    larson_index,
    ryznar_index,
    saturation_ph,
)
from .ions import (
    Ions,
    anions,
    balance_error,
    calculated_solids,
    cations,
    conductance,
    conductance_at_25,
)
from .saturation import HEATER, Heated, Lime, heated, lime, precipitation_potential, saturation
from .water import Water

__all__ = [
    "HEATER",
    "Carbonate",
    "Heated",
    "Ions",
    "Lime",
    "Water",
    "activity_coefficient",
    "aggressive_index",
    "anions",
    "balance_error",
    "calculated_solids",
    "carbonate_system",
    "cations",
    "chloride_sulfate_ratio",
    "conductance",
    "conductance_at_25",
    "debye_huckel_slope",
    "heated",
    "ionic_strength_of_conductance",
    "ionic_strength_of_solids",
    "langelier_index",
    "langelier_ph",
    "larson_index",
    "lime",
    "log_constant",
    "precipitation_potential",
    "ryznar_index",
    "saturation",
    "saturation_ph",
]
