"""What one water does to its carbonate: activity coefficients, constants, and who is paired."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from .activity import log_activity_coefficient
from .arrays import Array, array, power10
from .equilibria import constants

ROUNDS = 60
CLOSE = 1e-7
CHARGE = {"calcium": 2, "magnesium": 2, "sodium": 1, "potassium": 1, "chloride": 1, "sulfate": 2}
"""Sizes of the charges of the ions whose totals are given."""
PAIRS = (
    ("calcium", "bicarbonate"),
    ("calcium", "carbonate"),
    ("calcium", "sulfate"),
    ("magnesium", "bicarbonate"),
    ("magnesium", "carbonate"),
    ("magnesium", "sulfate"),
    ("magnesium", "hydroxide"),
    ("sodium", "bicarbonate"),
    ("sodium", "carbonate"),
    ("sodium", "sulfate"),
    ("potassium", "sulfate"),
)
ANION = {"bicarbonate": 1, "carbonate": 2, "sulfate": 2, "hydroxide": 1}
Ions = dict[str, Array]


@dataclass(slots=True)
class Medium:
    """Constants between concentrations in one water, its pairs held as they are.

    Concentrations in mol/L; hydrogen ion as activity.
    """

    k1: Array
    """{H} [HCO3] / [CO2]."""
    k2: Array
    """{H} [CO3] / [HCO3]."""
    hydroxide: Array
    """[OH] {H}, with the hydroxide in pairs."""
    proton: Array
    """[H] / {H}."""
    bicarbonate_pairs: Array
    """Paired bicarbonate for one free."""
    carbonate_pairs: Array
    """Paired carbonate for one free."""
    free_calcium: Array
    """The free share of all calcium."""
    solubility: Array
    """[Ca] [CO3], both free, at saturation with calcite."""

    def factors(self, hydrogen: Array) -> tuple[Array, Array, Array]:
        """Return alkalinity, inorganic carbon and free CO3 that go with one free HCO3."""
        carbonate = self.k2 / hydrogen
        bound = 1 + self.bicarbonate_pairs
        whole = carbonate * (1 + self.carbonate_pairs)
        return bound + 2 * whole, hydrogen / self.k1 + bound + whole, carbonate

    def of_water(self, hydrogen: Array) -> Array:
        """Return the alkalinity of water itself: [OH] - [H] in eq/L."""
        return self.hydroxide / hydrogen - hydrogen * self.proton


@dataclass(slots=True)
class Molar:
    """One block of waters in mol/L, alkalinity in eq/L, temperature in Celsius."""

    ph: Array
    """NaN where the carbonate chemistry is refused, and so is all that follows from it."""
    alkalinity: Array
    totals: Ions
    temperature: Array
    strength: Array
    """Ionic strength; NaN: to be worked out from the ions."""


@dataclass(slots=True)
class Settled:
    """A water whose ions have found their pairs."""

    medium: Medium
    hydrogen: Array
    """Activity."""
    bicarbonate: Array
    """Free, mol/L."""
    strength: Array
    """Ionic strength, mol/L."""
    free: Ions
    """Every free ion, mol/L."""

    @property
    def carbon(self) -> Array:
        """All inorganic carbon, mol/L."""
        return self.bicarbonate * self.medium.factors(self.hydrogen)[1]


def settle(water: Molar, start: Settled | None = None, rounds: int = ROUNDS) -> Settled:
    """Return the water with its pairs: each round's result goes into the next one.

    ``start``: a water much like it, from which few ``rounds`` are enough on the way.
    """
    known, hydrogen = constants(water.temperature), power10(-water.ph)
    given = ~np.isnan(water.strength)
    free, first = (dict(start.free), start.strength) if start else _unpaired(water)
    now = np.where(given, water.strength, first)
    for _ in range(rounds):
        before = free["bicarbonate"]
        single = power10(array(log_activity_coefficient(now, water.temperature)))
        pairs = _pair_constants(known, single)
        free["hydroxide"] = known["water"] / hydrogen / single
        medium = _medium(known, single, pairs, free)
        per_alkalinity, _, ratio = medium.factors(hydrogen)
        rest = water.alkalinity - medium.of_water(hydrogen)
        # less alkalinity than the hydroxide at this pH has: there is no such water
        free["bicarbonate"] = np.where(rest > 0, rest, np.nan) / per_alkalinity
        free["carbonate"] = free["bicarbonate"] * ratio
        for ion, total in water.totals.items():
            free[ion] = total / (1 + _bound(ion, pairs, free))
        now = np.where(given, water.strength, _strength(free, pairs, hydrogen / single))
        if not np.any(np.abs(free["bicarbonate"] - before) > CLOSE * before):
            break
    medium = _medium(known, single, pairs, free)
    return Settled(medium, hydrogen, free["bicarbonate"], now, free)


def _unpaired(water: Molar) -> tuple[Ions, Array]:
    """Return all ions free, and the ionic strength that they would make."""
    none = np.zeros_like(water.ph)
    free = {**water.totals, "bicarbonate": water.alkalinity, "carbonate": none, "hydroxide": none}
    return free, _strength(free, {}, none)


def _pair_constants(known: Mapping[str, Array], single: Array) -> dict[tuple[str, str], Array]:
    """Return [pair] / ([cation] [anion]); ``single``: activity coefficient of a single charge."""
    powers = {2: single**2}
    powers[4] = powers[2] ** 2
    powers[8] = powers[4] ** 2
    return {
        (cation, anion): known[f"{cation}_{anion}"] * powers[2 * CHARGE[cation] * ANION[anion]]
        for cation, anion in PAIRS
    }


def _bound(ion: str, pairs: Mapping[tuple[str, str], Array], free: Ions) -> Array | float:
    """Return how much of an ion is paired for one that is free."""
    return sum(
        (
            constant * free[one if other == ion else other]
            for (one, other), constant in pairs.items()
            if ion in (one, other)
        ),
        0.0,
    )


def _medium(
    known: Mapping[str, Array],
    single: Array,
    pairs: Mapping[tuple[str, str], Array],
    free: Ions,
) -> Medium:
    double = single**4
    return Medium(
        known["co2"] / single,
        known["hco3"] * single / double,
        known["water"] / single * (1 + array(_bound("hydroxide", pairs, free))),
        1 / single,
        array(_bound("bicarbonate", pairs, free)),
        array(_bound("carbonate", pairs, free)),
        1 / (1 + array(_bound("calcium", pairs, free))),
        known["calcite"] / double**2,
    )


def _strength(free: Ions, pairs: Mapping[tuple[str, str], Array], protons: Array) -> Array:
    """Return the ionic strength of all free and paired ions, mol/L."""
    charges = {**CHARGE, **ANION}
    total = sum((charge**2 * free[ion] for ion, charge in charges.items()), 0.0)
    for (cation, anion), constant in pairs.items():
        charge = CHARGE[cation] - ANION[anion]
        if charge:
            total = total + charge**2 * constant * free[cation] * free[anion]
    return array(0.5 * (total + protons))
