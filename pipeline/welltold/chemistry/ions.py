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
from .activity import log_activity_coefficient
from .arrays import Array, Given, array, plain, power10
from .equilibria import log_constant

SLOWED = 0.6
"""Power of the activity coefficient by which ions hinder each other."""
PAIRING_ROUNDS = 12
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

    Each ion's conductance at no salt times its activity coefficient to the power of 0.6 over the
    root of its charge (Appelo 2010, Drinking Water Eng. Sci. 3:135, from memory; compared with
    PHREEQC 3 and with measured salts in the tests). Pairs of calcium and magnesium with sulfate
    carry no current and are taken out.
    """
    meq = {slug: array(amount) / ions()[slug].per_meq for slug, amount in given.items()}
    meq = _free(meq, _single(meq))
    single, whole = _single(meq), array(0.0)
    for slug, one in meq.items():
        ion = ions()[slug]
        slowed = power10(single * ion.charge**2 * SLOWED / ion.charge**0.5)
        whole = whole + one * ion.conductance * slowed
    return plain(whole)


def _single(meq: Mapping[str, Array]) -> Array:
    """Return log10 of the activity coefficient of a single charge among these ions."""
    strength = sum((one * ions()[slug].charge / 2000 for slug, one in meq.items()), array(0.0))
    return array(log_activity_coefficient(strength, 25.0))


def _free(meq: Mapping[str, Array], single: Array) -> dict[str, Array]:
    """Return the ions without the neutral pairs of calcium and magnesium with sulfate."""
    free = dict(meq)
    if "sulfate" not in meq:
        return free
    metals = [metal for metal in ("calcium", "magnesium") if metal in meq]
    pull = {
        metal: power10(8 * single + float(log_constant(f"{metal}_sulfate", 25.0))) / 2000
        for metal in metals
    }
    for _ in range(PAIRING_ROUNDS):
        for metal in metals:
            free[metal] = meq[metal] / (1 + pull[metal] * free["sulfate"])
        held = sum((pull[metal] * free[metal] for metal in metals), array(0.0))
        free["sulfate"] = meq["sulfate"] / (1 + held)
    return free


def conductance_at_25(measured: Given, temperature: Given) -> Array | float:
    """Return the conductance at 25 C from one measured at another temperature (Celsius).

    Only for readings that no meter has corrected yet; labs print the corrected one.
    """
    return plain(array(measured) / (1 + PER_DEGREE * (array(temperature) - 25)))


def _side(given: Ions, side: str) -> Array | float:
    own = (equivalents(slug, one) for slug, one in given.items() if ions()[slug].side == side)
    return plain(array(sum((array(one) for one in own), array(0.0))))
