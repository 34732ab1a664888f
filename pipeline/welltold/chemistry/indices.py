"""Indices of scaling and corrosion. They explain; a metal that was measured decides.

Formulas, sources and ranges: ``data/indices.csv``. Outside of its range an index is NaN.
"""

from __future__ import annotations

import numpy as np

from .arrays import Array, Given, array, plain
from .equilibria import log_constant
from .ranges import inside
from .water import CACO3, MOLAR

CHLORIDE, SULFATE, BICARBONATE = 35.453, 48.03, 50.0435
"""mg for one meq: Cl, SO4, and alkalinity as CaCO3."""


def langelier_ph(
    solids: Given, temperature: Given, calcium_hardness: Given, alkalinity: Given
) -> Array | float:
    """Return pHs, the pH at which the logarithmic formula sees the water in balance.

    ``solids`` in mg/L, ``temperature`` in Celsius, the other two in mg/L as CaCO3 (calcium as the
    ion times 2.497). As printed by P. Roberge after Langelier 1936.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        salts = (np.log10(array(solids)) - 1) / 10
        warmth = -13.12 * np.log10(array(temperature) + 273) + 34.55
        calcium = np.log10(array(calcium_hardness)) - 0.4
        whole = 9.3 + salts + warmth - calcium - np.log10(array(alkalinity))
    known = inside("langelier_index", solids=solids, temperature=temperature, alkalinity=alkalinity)
    return plain(np.where(np.isfinite(whole), whole, np.nan) * known)


def saturation_ph(temperature: Given, calcium: Given, alkalinity: Given) -> Array | float:
    """Return pHs from the constants alone: pK2 - pKsp - log10 [Ca] - log10 [alkalinity].

    Celsius; calcium in mg/L as Ca, alkalinity in mg/L as CaCO3. The form of the textbooks
    (Schock 1984) for concentrations, in which the activity coefficients of Ca and CO3 cancel; it
    knows no pairs and reads 0.1 to 0.3 below `welltold.chemistry.saturation`.
    """
    known = inside("carbonate", temperature=temperature, alkalinity=alkalinity)
    with np.errstate(divide="ignore"):
        whole = (
            array(log_constant("calcite", temperature))
            - array(log_constant("hco3", temperature))
            - np.log10(array(calcium) / (MOLAR["calcium"] * 1000))
            - np.log10(array(alkalinity) / (CACO3 / 2 * 1000))
        )
    return plain(np.where(np.isfinite(whole), whole, np.nan) * known)


def langelier_index(ph: Given, saturation_ph: Given) -> Array | float:
    """Return pH - pHs: over 0 calcite comes out, under 0 it dissolves; sure to some 0.3."""
    return plain((array(ph) - array(saturation_ph)) * inside("langelier_index", ph=ph))


def ryznar_index(ph: Given, saturation_ph: Given) -> Array | float:
    """Return 2 pHs - pH (Ryznar 1944)."""
    return plain((2 * array(saturation_ph) - array(ph)) * inside("ryznar_index", ph=ph))


def aggressive_index(ph: Given, alkalinity: Given, calcium_hardness: Given) -> Array | float:
    """Return pH + log10(alkalinity times calcium hardness), both in mg/L as CaCO3 (AWWA C400)."""
    with np.errstate(divide="ignore", invalid="ignore"):
        logarithm = np.log10(array(alkalinity) * array(calcium_hardness))
    whole = array(ph) + np.where(np.isfinite(logarithm), logarithm, np.nan)
    return plain(whole * inside("aggressive_index", ph=ph, alkalinity=alkalinity))


def larson_index(chloride: Given, sulfate: Given, alkalinity: Given) -> Array | float:
    """Return (Cl + SO4) / (HCO3 + CO3) in equivalents; for iron and steel only.

    mg/L of the ions, alkalinity in mg/L as CaCO3 (Larson and Skold 1958).
    """
    salts = array(chloride) / CHLORIDE + array(sulfate) / SULFATE
    known = inside("larson_index", alkalinity=alkalinity)
    return plain(salts / (array(alkalinity) / BICARBONATE * known))


def chloride_sulfate_ratio(chloride: Given, sulfate: Given) -> Array | float:
    """Return Cl / SO4, mg/L over mg/L (USGS SIR 2016-5092)."""
    known = inside("chloride_sulfate_mass_ratio", sulfate=sulfate)
    return plain(array(chloride) / (array(sulfate) * known))
