"""Ionic strength and activity coefficients."""

from __future__ import annotations

import numpy as np

from .arrays import Array, Given, array, plain, power10

ZERO_C = 273.15
PER_TDS = 2.5e-5
"""mol/L of ionic strength for 1 mg/L of dissolved solids; Langelier 1936."""
PER_CONDUCTANCE = 1.6e-5
"""mol/L of ionic strength for 1 uS/cm at 25 C; Russell 1976."""


def ionic_strength_of_solids(solids: Given) -> Array | float:
    """Return mol/L from total dissolved solids in mg/L (Langelier 1936); for up to some 1,000."""
    return plain(array(solids) * PER_TDS)


def ionic_strength_of_conductance(conductance: Given) -> Array | float:
    """Return mol/L from conductance in uS/cm at 25 C (Russell 1976)."""
    return plain(array(conductance) * PER_CONDUCTANCE)


def debye_huckel_slope(temperature: Given) -> Array | float:
    """Return A in the law of Debye and Hueckel, for a temperature in Celsius from 0 to 100.

    Dielectric constant of water: Malmberg and Maryott 1956.
    """
    celsius = array(temperature)
    dielectric = 87.740 + celsius * (-0.40008 + celsius * (9.398e-4 - 1.410e-6 * celsius))
    return plain(1.82e6 * (dielectric * (celsius + ZERO_C)) ** -1.5)


def log_activity_coefficient(strength: Given, temperature: Given) -> Array | float:
    """Return log10 of the activity coefficient of a single charge, after Davies 1962.

    ``strength`` in mol/L (up to some 0.5), ``temperature`` in Celsius. Times the square of the
    charge for other ions.
    """
    root = np.sqrt(array(strength))
    law = root / (1 + root) - 0.3 * array(strength)
    return plain(array(-array(debye_huckel_slope(temperature)) * law))


def activity_coefficient(charge: int, strength: Given, temperature: Given) -> Array | float:
    """Return the activity coefficient of an ion of this charge, after Davies 1962."""
    return plain(power10(array(log_activity_coefficient(strength, temperature)) * charge**2))
