"""The dealer's own shelf: what is for sale, as a CSV file says that ``template shelf`` explains."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ..messages import Message


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on the shelf; None: its row leaves the cell open."""

    line: int
    name: str
    """The dealer's own name or number for it."""
    stage: str
    medium: str | None = None
    tank_in: Decimal | None = None
    media_ft3: Decimal | None = None
    service_gpm: Decimal | None = None
    backwash_gpm: Decimal | None = None
    capacity_grains: Decimal | None = None
    salt_lb: Decimal | None = None
    makes_gpd: Decimal | None = None
    tank_gal: Decimal | None = None
    max_iron_mg_l: Decimal | None = None
    max_manganese_mg_l: Decimal | None = None
    max_hydrogen_sulfide_mg_l: Decimal | None = None
    max_hardness_gpg: Decimal | None = None
    min_ph: Decimal | None = None
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Shelf:
    """What a dealer sells, with the rows that could not be used."""

    items: tuple[Item, ...] = ()
    problems: tuple[Message, ...] = ()
    """One for each bad cell, with its line and column; its row is left out."""

    def of(self, stage: str) -> Iterator[Item]:
        """Yield what there is for one stage, in the order of the file."""
        return (item for item in self.items if item.stage == stage)
