"""Sums over the ions: equivalents, their balance, dry solids, conductance.

An ion is counted in the unit and basis of ``data/analytes.csv`` (nitrate in mg/L as N, alkalinity
in mg/L as CaCO3). Weights and conductances: ``data/ions.csv``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..tables import read_table
from .activity import activity_coefficient
from .arrays import Array, Given, array, plain

PER_DEGREE = 0.0191
"""Conductance grows by so much of itself for one degree; Standard Methods 2510 B."""

Ions = Mapping[str, Given]
"""mg/L by slug."""


@dataclass(frozen=True, slots=True)
class Ion:
    """One row of ``data/ions.csv``."""

    slug: str
    side: str
    per_meq: float
    in_solids: float
    conductance: float
    charge: int
    needed: bool


@cache
def ions() -> Mapping[str, Ion]:
    """Return the ions by slug."""
    both, answers = frozenset({"cation", "anion"}), frozenset({"yes", "no"})
    return {
        row.text("slug"): Ion(
            row.text("slug"),
            row.choice("side", both),
            float(row.text("mg_per_meq")),
            float(row.text("in_solids")),
            float(row.text("conductance")),
            int(row.text("charge")),
            row.choice("needed", answers) == "yes",
        )
        for row in read_table("ions.csv")
    }


def equivalents(slug: str, amount: Given) -> Array | float:
    """Return meq/L of an ion; KeyError for what is not in ``data/ions.csv``."""
    return plain(array(amount) / ions()[slug].per_meq)


def cations(given: Ions) -> Array | float:
    """Return the sum of the cations in meq/L."""
    return _side(given, "cation")


def anions(given: Ions) -> Array | float:
    """Return the sum of the anions in meq/L."""
    return _side(given, "anion")


def balance_error(positive: Given, negative: Given) -> Array | float:
    """Return 100 (C - A) / (C + A) in %: above 0 there are too many cations.

    Both in meq/L; NaN without any ion. Other programmes divide by the mean and get twice as much.
    """
    more, less = array(positive), array(negative)
    with np.errstate(invalid="ignore"):
        return plain(100 * (more - less) / (more + less))


def calculated_solids(given: Ions, silica: Given = 0.0) -> Array | float:
    """Return the dissolved solids in mg/L that the ions and silica (as SiO2) leave when dried."""
    dry = (array(amount) * ions()[slug].in_solids for slug, amount in given.items())
    return plain(array(sum(dry, array(silica))))


def conductance(given: Ions) -> Array | float:
    """Return the conductance in uS/cm at 25 C that the ions make.

    Sum of the conductances at no salt, times the square of the activity coefficient of a single
    charge (Standard Methods 2510 A, from memory; compared with PHREEQC 3 in the tests).
    """
    strength, whole = array(0.0), array(0.0)
    for slug, amount in given.items():
        ion = ions()[slug]
        meq = array(amount) / ion.per_meq
        strength = strength + meq * ion.charge / 2000
        whole = whole + meq * ion.conductance
    return plain(whole * array(activity_coefficient(1, strength, 25.0)) ** 2)


def conductance_at_25(measured: Given, temperature: Given) -> Array | float:
    """Return the conductance at 25 C from one measured at another temperature (Celsius).

    Only for readings that no meter has corrected yet; labs print the corrected one.
    """
    return plain(array(measured) / (1 + PER_DEGREE * (array(temperature) - 25)))


def _side(given: Ions, side: str) -> Array | float:
    own = (equivalents(slug, one) for slug, one in given.items() if ions()[slug].side == side)
    return plain(array(sum((array(one) for one in own), array(0.0))))
