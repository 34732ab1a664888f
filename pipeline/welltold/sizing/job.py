"""One stage to be sized: the water that reaches it, the house, the pump and the sheet."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from ..site import Site
from .beds import Flow
from .house import House
from .pump import PumpFlow
from .rules import number
from .sized import Inlet, Page
from .stock import Medium, Tank, stage_media, tanks

if TYPE_CHECKING:
    from ..treatment.water import Amount

SULFIDE_SPOILS = frozenset({"air_injection_filter"})
"""Stages that are filled with something else where sulfide reaches them, needed or not."""


@dataclass(frozen=True, slots=True)
class Job:
    """What is known while one stage is sized."""

    stage: str
    needs: frozenset[str]
    inlet: Inlet
    site: Site
    house: House
    pump: PumpFlow
    tanks: tuple[Tank, ...] = ()
    """What stands on the dealer's shelf for this stage; empty: the tanks of the market."""
    filled: Medium | None = None
    """What is in the tank that is looked at; None: the usual medium of the stage."""
    in_place: bool = False
    """Whether the tank that is looked at stands in the house; no other is put beside it."""
    salt_lb_ft3: Decimal = field(default_factory=lambda: number("salt_usual_lb_ft3"))
    """Pounds of salt for each cubic foot of resin that is used whole."""
    least_ft3: Decimal = Decimal(0)
    """Media that all tanks together must hold."""
    page: Page = field(default_factory=Page)

    @property
    def media(self) -> tuple[Medium, ...]:
        """What the stage can be built with, the usual one first."""
        if self.filled:
            return (self.filled,)
        needs = self.needs
        sulfide = self.high("hydrogen_sulfide", "mg/L") if self.stage in SULFIDE_SPOILS else None
        if sulfide is not None and sulfide > number("sulfide_seen_mg_l"):
            needs |= {"hydrogen_sulfide"}
        return stage_media(self.stage, needs)

    def high(self, fact: str, unit: str, basis: str | None = None) -> Decimal | None:
        """Return the upper end of what reaches the stage, in this unit; None: open or unknown."""
        amount = self.amount(fact, unit, basis)
        return amount.high if amount else None

    def least(self, fact: str, unit: str, basis: str | None = None) -> Decimal | None:
        """Return the lower end of what reaches the stage, in this unit; None if nobody knows."""
        amount = self.amount(fact, unit, basis)
        return amount.low if amount else None

    def amount(self, fact: str, unit: str, basis: str | None = None) -> Amount | None:
        """Return what reaches the stage."""
        return self.inlet.amount(fact, unit, basis)

    @property
    def celsius(self) -> Decimal | None:
        """Temperature of the water; None: nobody told."""
        told = self.site.well.water_temperature_c
        if told is not None:
            return told
        streamed = getattr(self.inlet, "temperature_c", None)
        warmest = getattr(streamed, "high", streamed)
        return None if warmest is None else Decimal(str(warmest))

    @property
    def flow(self) -> Flow:
        """What a bed has to carry."""
        house = self.house
        return Flow(
            house.peak_gpm,
            house.sustained_gpm,
            self.pump.floor_gpm,
            self.celsius,
            self.least_ft3,
            self.tanks or tanks(),
        )

    def refuse(self, code: str, **args: object) -> None:
        """Write down why it cannot be built, of the market's tanks or of those looked at."""
        self.page.refuse(f"{code}_here" if self.tanks else code, **args)

    def write_house(self) -> None:
        """Write what the house asks for, and what nobody told of it."""
        self.page.adopt(self.house.worked)
        self.page.conditions.extend(self.house.conditions)

    def afresh(self) -> Job:
        """Return the same job with an empty sheet."""
        return replace(self, page=Page())
