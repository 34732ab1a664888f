"""Carbon dioxide, bicarbonate and carbonate from pH, alkalinity, temperature and salts."""

from __future__ import annotations

from dataclasses import dataclass

from .arrays import Array
from .medium import Molar, settle
from .water import Water, over_water

CO2, HCO3, CO3, CARBON = 44.009, 61.016, 60.008, 12.011
"""g/mol."""


@dataclass(frozen=True, slots=True)
class Carbonate:
    """The carbonate system of a water, in mg/L of each; pairs counted with their anion."""

    carbon_dioxide: Array | float
    """As CO2, dissolved."""
    bicarbonate: Array | float
    carbonate: Array | float
    inorganic_carbon: Array | float
    """All of it, as C."""
    ionic_strength: Array | float
    """mol/L."""


def carbonate_system(water: Water) -> Carbonate:
    """Return what the carbonate in a water is; NaN outside of the range in ``data/indices.csv``.

    Constants of Plummer and Busenberg 1982, activities after Davies 1962.
    """
    return Carbonate(*over_water(_system, water))


def _system(water: Molar) -> tuple[Array, ...]:
    now = settle(water)
    medium = now.medium
    gas = now.bicarbonate * now.hydrogen / medium.k1
    whole = now.bicarbonate * (1 + medium.bicarbonate_pairs)
    double = now.bicarbonate * medium.k2 / now.hydrogen * (1 + medium.carbonate_pairs)
    carbon = gas + whole + double
    return (
        gas * CO2 * 1000,
        whole * HCO3 * 1000,
        double * CO3 * 1000,
        carbon * CARBON * 1000,
        now.strength,
    )
