"""The water on its way through a train: what is known of it in front of the next stage."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Literal

import numpy as np

from ..analytes import registry
from ..chemistry.arrays import Array
from ..conversion import convert
from ..errors import UnitMismatchError
from ..interpretation import Quantity
from ..treatment.water import Amount, Water
from .batch import ALKALINITY, HARDNESS, IONS, SOLIDS, Batch
from .raw import OTHERS
from .reading import FACTS, FOLLOWS, known_in, parts_of

SHOWN = (
    "ph",
    ALKALINITY,
    "carbon_dioxide",
    HARDNESS,
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "chloride",
    "sulfate",
    "nitrate",
    "fluoride",
    "iron",
    "manganese",
    *OTHERS,
)
DIGITS = 6
"""Significant digits of an end; more come from the arithmetic, not from a lab."""


How = Literal["raw", "verified", "practice", "assumed", "at_most", "unknown"]
"""raw: as on the sheet, no stage has changed it. verified, practice: worked out, and on what kind
of source. assumed: it makes the charges add up. at_most: treated, nobody may say how well; it does
not rise. unknown: it may be anything; test the outlet."""


@dataclass(frozen=True, slots=True)
class Stream:
    """The water in front of a stage (or behind the last one)."""

    raw: Water
    batch: Batch = field(compare=False)
    through: tuple[str, ...] = ()
    """The stages that it has gone through."""
    drawn: bool = False
    """Whether the members are draws, and not the corners of what the sheet leaves possible."""
    _known: dict[str, tuple[Decimal, Decimal | None] | None] = field(
        default_factory=dict, compare=False, repr=False
    )

    @property
    def temperature_c(self) -> Decimal | None:
        """The temperature of the water in Celsius; None where nobody measured it."""
        low, high = float(self.batch.celsius.min()), float(self.batch.celsius.max())
        return Decimal(str(round(low, 3))) if low == high else None

    def amount(self, fact: str, unit: str, basis: str | None = None) -> Amount | None:
        """Return how much there is here, or None if nobody knows; as `Water.amount`.

        ``sure`` is False where it rests on a range that no source was read for, on a pH of the
        laboratory, or on a reading in doubt.
        """
        if fact == "iron_and_manganese":
            iron, manganese = (self.amount(slug, unit) for slug in ("iron", "manganese"))
            return iron.plus(manganese) if iron and manganese else None
        if fact == "sulfide" and "hydrogen_sulfide" in self.batch.changed:
            return self.amount("hydrogen_sulfide", unit, basis or "S")
        how = self.how(fact)
        if how in {"unknown", "assumed"}:
            return None
        before = self.raw.amount(fact, unit, basis)
        if how == "at_most":
            return before and Amount(Decimal(0), before.high, sure=False)
        if how == "raw" and before is not None and not (self.drawn and known_in(self.batch, fact)):
            return before
        return self._own(fact, unit, basis, sure=not self._doubtful(fact))

    def _doubtful(self, fact: str) -> bool:
        """Return whether an amount that was worked out is no more than likely."""
        batch, parts = self.batch, {fact, *parts_of(fact)}
        marked = batch.practice | batch.open_up | batch.open_down | batch.blank | batch.doubt
        # what the acids and the salts do hangs on all of them
        together = {"ph", "carbon_dioxide", HARDNESS, SOLIDS, ALKALINITY, *IONS}
        return bool(parts & marked or (parts & together and batch.doubt & together))

    def how(self, fact: str) -> How:
        """Return what is known of a fact here: see `How`."""
        batch, parts = self.batch, {fact, *parts_of(fact), *FOLLOWS.get(fact, ())}
        if fact in batch.untold or (fact in FOLLOWS and parts & batch.changed):
            return "unknown"
        if fact in batch.at_most:
            return "at_most"
        if fact in batch.assumed:
            return "assumed"
        if not parts & batch.changed:
            return "raw"
        return "practice" if parts & batch.practice else "verified"

    def span(self, fact: str) -> tuple[Array, Array] | None:
        """Return the lowest and the highest member, in the unit of the registry."""
        values = self.values(fact)
        return None if values is None else (values.min(axis=-1), values.max(axis=-1))

    def values(self, fact: str) -> Array | None:
        """Return a quantity by member, in the unit of the registry; None if it is not tracked.

        NaN where it lies outside of the region of the carbonate chemistry.
        """
        return FACTS[fact](self.batch) if known_in(self.batch, fact) else None

    def quantities(self) -> Mapping[str, Quantity]:
        """Return what may be said of the water here, by slug.

        Not there: what nobody measured, and a health matter whose change no verified source gives.
        """
        told = {slug: self._quantity(slug) for slug in SHOWN}
        return {slug: one for slug, one in told.items() if one is not None}

    def _quantity(self, slug: str) -> Quantity | None:
        own, batch = registry()[slug], self.batch
        hidden = batch.untold | batch.at_most | (batch.blank - batch.assumed)
        hidden |= batch.split & {slug}
        parts = {slug, *parts_of(slug)}
        if parts & hidden or (own.health and parts & batch.practice):
            return None
        amount = None if slug in batch.assumed else self.amount(slug, own.unit, own.basis)
        read = self.how(slug) == "raw" and self.raw.amount(slug, own.unit, own.basis) is not None
        ends = (amount.low, amount.high) if amount else self._ends(slug)
        if ends is None:
            return None
        low, high = _shown_ph(*ends) if slug == "ph" else _shown(*ends)
        if not read:
            low = None if slug in batch.open_down else low
            high = None if slug in batch.open_up else high
        assumed = True if parts & batch.assumed else None
        return Quantity(low if low == high else None, low, high, own.unit, own.basis, assumed)

    def _own(self, fact: str, unit: str, basis: str | None, *, sure: bool) -> Amount | None:
        ends, own = self._ends(fact), registry().get(fact)
        if ends is None or own is None:
            return None
        try:
            low, high = (
                None
                if end is None
                else convert(end, fact, own.unit, own.basis, unit, basis or own.basis)
                for end in ends
            )
        except UnitMismatchError:
            return None
        least_only = {fact, *parts_of(fact)} & self.batch.blank
        return Amount(low or Decimal(0), None if least_only else high, sure=sure)

    def _ends(self, fact: str) -> tuple[Decimal, Decimal | None] | None:
        if fact not in self._known:
            span = self.span(fact)
            # the chemistry is good for hundredths of a pH unit, not for what stands behind them
            digits = 3 if fact == "ph" else 15
            ends = None if span is None else (round(float(end), digits) for end in span)
            self._known[fact] = None if ends is None else _decimals(*ends)
        return self._known[fact]


def _decimals(low: float, high: float) -> tuple[Decimal, Decimal | None] | None:
    if np.isnan(low) or np.isnan(high):
        return None
    return (
        _outwards(Decimal(low), DIGITS, ROUND_FLOOR),
        _outwards(Decimal(high), DIGITS, ROUND_CEILING),
    )


def _shown(low: Decimal, high: Decimal | None) -> tuple[Decimal | None, Decimal | None]:
    """Round for a reader: a number to four digits, a range to three, outwards."""
    if high is not None and abs(high - low) <= abs(high) * Decimal("1e-5"):
        return (_rounded((low + high) / 2, 4, ROUND_HALF_EVEN),) * 2
    top = None if high is None else _outwards(high, 3, ROUND_CEILING)
    return _outwards(low, 3, ROUND_FLOOR), top


def _shown_ph(low: Decimal, high: Decimal | None) -> tuple[Decimal | None, Decimal | None]:
    """Round a range of pH outwards to tenths; a fiftieth over is no reason for a tenth more."""
    if high is None or high == low:
        return _shown(low, high)
    slack, tenth = Decimal("0.02"), Decimal("0.1")
    return (
        (low + slack).quantize(tenth, rounding=ROUND_FLOOR),
        (high - slack).quantize(tenth, rounding=ROUND_CEILING),
    )


def _outwards(value: Decimal, digits: int, way: str) -> Decimal:
    """Round one way; the last digits of the arithmetic do not count as a rest."""
    return _rounded(_rounded(value, digits + 3, ROUND_HALF_EVEN), digits, way)


def _rounded(value: Decimal, digits: int, way: str) -> Decimal:
    """Round to so many digits, without needless zeros behind the point."""
    if not value:
        return Decimal(0)
    least = Decimal(1).scaleb(max(value.adjusted(), -2) - digits + 1)
    short = value.quantize(least, rounding=way)
    whole = short.quantize(Decimal(1))
    return whole if short == whole else short.normalize()
