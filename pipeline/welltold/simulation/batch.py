"""Many waters at once, each complete in itself, on their way through one stage.

A *member* is one water that the sheet allows: its charges add up, and nothing in it is lost or made
on the way. Every quantity is an array over the same members (the last axis). What the published
interval is made of is their envelope.

Ions are held in meq/L, inorganic carbon in mmol/L, everything else in the unit of the registry.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any

import numpy as np

from ..chemistry.arrays import Array
from ..chemistry.ions import ions

ALKALINITY, CARBON = "alkalinity", "carbon"
IRON_II, IRON_III, MANGANESE_IV = "iron_ii", "iron_iii", "manganese_iv"
CATIONS = ("calcium", "magnesium", "sodium", "potassium", "ammonia", IRON_II, "manganese")
ANIONS = ("chloride", "sulfate", "nitrate", "fluoride")
IONS = CATIONS + ANIONS
HARD = ("calcium", "magnesium")
HARDNESS, SOLIDS = "hardness", "total_dissolved_solids"
OTHER_HARDNESS = "other_hardness"
"""meq/L by which a laboratory's hardness is more than that of its calcium and magnesium."""


@cache
def per_meq(ion: str) -> float:
    """Return what one meq of an ion weighs, mg in the unit and basis of the registry."""
    return ions()["iron" if ion == IRON_II else ion].per_meq


@cache
def solids_per_meq(ion: str) -> float:
    """Return the dry weight of one meq of an ion, mg."""
    row = ions()["iron" if ion == IRON_II else ion]
    return row.per_meq * row.in_solids


@dataclass(slots=True)
class Batch:
    """The members, and what may be said of each quantity; effects change it in place."""

    values: dict[str, Array]
    celsius: Array
    effects: Array
    """0 to 1 by effect and member: where in its range each lies; the first is what beds dissolve,
    the others are the removal of one stage after the other."""
    stage: int = 0
    """How many stages the water has gone into."""
    assumed: set[str] = field(default_factory=set)
    """Nobody measured it; it makes the charges add up."""
    blank: set[str] = field(default_factory=set)
    """Nobody measured it, or only a lower end is known: what is there is a lower end."""
    changed: set[str] = field(default_factory=set)
    practice: set[str] = field(default_factory=set)
    """Rests on a range that no source was read for."""
    untold: set[str] = field(default_factory=set)
    """Changed in a way that nobody may predict: the outlet has to be tested."""
    at_most: set[str] = field(default_factory=set)
    """Changed in a way that nobody may predict, but it does not rise."""
    open_up: set[str] = field(default_factory=set)
    """Rests on a pH read in the laboratory: what is there is a lower end."""
    open_down: set[str] = field(default_factory=set)
    """Rests on a pH read in the laboratory: what is there is an upper end."""

    split: set[str] = field(default_factory=set)
    """Calcium and magnesium where only their sum was measured: bounds to reckon with, not told."""
    doubt: set[str] = field(default_factory=set)
    """Read with doubt on the sheet."""
    found: Any = None
    """The settled chemistry of these values, kept until one of them changes."""
    near: Any = None
    """The settled chemistry of the values before, from which the new one is found faster."""

    @property
    def dissolve(self) -> Array:
        """0 to 1 by member: how much of what a bed could dissolve it does dissolve."""
        return np.asarray(self.effects[0])

    @property
    def remove(self) -> Array:
        """0 to 1 by member: where in its range this stage's removal lies."""
        return np.asarray(self.effects[1 + (self.stage - 1) % (len(self.effects) - 1)])

    def copy(self) -> Batch:
        """Return a batch that can be changed without this one."""
        new = replace(self, values=dict(self.values))
        for name in _MARKS:
            setattr(new, name, set(getattr(self, name)))
        return new

    def has(self, *names: str) -> bool:
        """Return whether all of these are there, measured or assumed."""
        return all(name in self.values and name not in self.blank for name in names)

    def get(self, name: str) -> Array:
        """Return a quantity of each member, in the units above; zeros where nobody measured it."""
        found = self.values.get(name)
        return np.zeros_like(self.celsius) if found is None else found

    def put(self, name: str, value: Array) -> None:
        """Set a quantity that carries no charge."""
        self._unsettle()
        self.values[name] = value
        self.changed.add(name)

    def change(self, ion: str, change: Array) -> None:
        """Add meq/L of an ion, and its weight to the dissolved solids where they are known."""
        self._unsettle()
        self.values[ion] = self.get(ion) + change
        self.changed.add(ion)
        if ion in HARD:
            self.changed.add(HARDNESS)
        self._weigh(change * solids_per_meq(ion))

    def shift(self, ion: str, change: Array) -> None:
        """Add meq/L of an ion; the alkalinity goes with the charge.

        Alkalinity is what there is more of strong cations than of strong anions.
        """
        self.change(ion, change)
        self.shift_alkalinity(change if ion in CATIONS else -change)

    def shift_alkalinity(self, change: Array) -> None:
        """Add meq/L of alkalinity, where it is known; the caller sees to the charge."""
        if ALKALINITY in self.values:
            self.put(ALKALINITY, self.values[ALKALINITY] + change)
            self._weigh(change * solids_per_meq(ALKALINITY))
        if np.any(change):
            self.lose_ph()

    def shift_carbon(self, change: Array) -> None:
        """Add mmol/L of inorganic carbon, where it is known."""
        if CARBON in self.values:
            self.put(CARBON, self.values[CARBON] + change)
        self.lose_ph()

    def lose_ph(self) -> None:
        """Note that the pH changes: without that of the raw water nobody can tell to what."""
        if CARBON not in self.values:
            self.untold |= {"ph", "carbon_dioxide"}

    def _unsettle(self) -> None:
        self.near = self.found or self.near
        self.found = None

    def _weigh(self, change: Array) -> None:
        if SOLIDS in self.values:
            # a sheet may give less solids than its own ions weigh
            self.put(SOLIDS, np.maximum(self.values[SOLIDS] + change, 0.0))

    def balance(self) -> Array:
        """Return cations less anions less alkalinity, meq/L: no stage may change it."""
        return (
            sum((self.get(ion) for ion in CATIONS), np.zeros_like(self.celsius))
            - sum((self.get(ion) for ion in ANIONS), np.zeros_like(self.celsius))
            - self.get(ALKALINITY)
        )

    def mark(self, names: Iterable[str], *, verified: bool) -> None:
        """Note on what kind of source the last change of these rests."""
        if not verified:
            self.practice |= set(names)


_MARKS = (
    "assumed",
    "blank",
    "changed",
    "practice",
    "untold",
    "at_most",
    "open_up",
    "open_down",
    "doubt",
)
