"""One stage to be sized: the water that reaches it, the house, the pump and the sheet."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal

from ..site import Site
from ..treatment.water import Amount
from .beds import Flow
from .house import House
from .pump import PumpFlow
from .shelf import Shelf
from .sized import Inlet, Page


@dataclass(frozen=True, slots=True)
class Job:
    """What is known while one stage is sized."""

    stage: str
    needs: frozenset[str]
    inlet: Inlet
    site: Site
    house: House
    pump: PumpFlow
    shelf: Shelf | None = None
    page: Page = field(default_factory=Page)

    def high(self, fact: str, unit: str, basis: str | None = None) -> Decimal | None:
        """Return the upper end of what reaches the stage; None if it has none or nobody knows."""
        amount = self.amount(fact, unit, basis)
        return amount.high if amount else None

    def least(self, fact: str, unit: str, basis: str | None = None) -> Decimal | None:
        """Return the lower end of what reaches the stage; None if nobody knows."""
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
        if isinstance(streamed, Amount):
            return streamed.high
        return None if streamed is None else Decimal(str(streamed))

    @property
    def flow(self) -> Flow:
        """What a bed has to carry."""
        return Flow(
            self.house.peak_gpm, self.house.sustained_gpm, self.pump.floor_gpm, self.celsius
        )

    def write_house(self) -> None:
        """Write what the house asks for, and what nobody told of it."""
        self.page.adopt(self.house.worked)
        self.page.conditions.extend(self.house.conditions)

    def afresh(self) -> Job:
        """Return the same job with an empty sheet."""
        return Job(self.stage, self.needs, self.inlet, self.site, self.house, self.pump, self.shelf)
