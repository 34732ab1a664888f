"""Equilibrium constants by temperature, from ``data/equilibria.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import numpy as np

from ..tables import Row, read_table
from .activity import ZERO_C
from .arrays import Array, Given, array, plain

GAS = 1.98720e-3 * float(np.log(10.0))
"""Gas constant in kcal/(mol K), times the natural logarithm of ten."""
AT_25 = 298.15
COLUMNS = ("a", "b", "c", "d", "e")


@cache
def _coefficients() -> Mapping[str, tuple[float, ...]]:
    return {row.text("name"): _of(row) for row in read_table("equilibria.csv")}


def _of(row: Row) -> tuple[float, ...]:
    log_k, heat = row.number("log_k"), row.number("delta_h")
    if log_k is not None and heat is not None:
        slope = float(heat) / GAS
        return float(log_k) + slope / AT_25, 0.0, -slope, 0.0, 0.0
    numbers = [row.number(column) for column in COLUMNS]
    if None in numbers:
        raise row.wrong("give a to e, or log_k with delta_h")
    return tuple(float(one) for one in numbers if one is not None)


def log_constant(name: str, temperature: Given) -> Array | float:
    """Return log10 of an equilibrium constant at a temperature in Celsius; KeyError."""
    a, b, c, d, e = _coefficients()[name]
    kelvin = array(temperature) + ZERO_C
    return plain(a + b * kelvin + c / kelvin + d * np.log10(kelvin) + e / kelvin**2)


def constants(temperature: Array) -> dict[str, Array]:
    """Return every constant (not its logarithm) at these temperatures in Celsius."""
    kelvin = temperature + ZERO_C
    basis = np.stack([np.ones_like(kelvin), kelvin, 1 / kelvin, np.log10(kelvin), kelvin**-2.0])
    table = np.array(list(_coefficients().values()))
    values = np.exp((table @ basis) * float(np.log(10.0)))
    return dict(zip(_coefficients(), values, strict=True))
