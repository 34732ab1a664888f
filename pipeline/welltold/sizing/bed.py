"""A bed of media, and what passes through it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .hydraulics import area_ft2, peak_rate
from .rules import number
from .stock import Medium, Tank
from .written import down


@dataclass(frozen=True, slots=True)
class Bed:
    """So many tanks of one medium, side by side; they are washed one after the other."""

    medium: Medium
    tank: Tank
    tanks: int
    backwash_gpm: Decimal
    """Of one tank, exact; gpm."""

    @property
    def area_ft2(self) -> Decimal:
        """Area of all tanks together, square feet."""
        return self.tanks * area_ft2(self.tank.diameter_in)

    @property
    def depth_in(self) -> Decimal:
        """Depth of the bed, inches."""
        return self.fill_ft3 / area_ft2(self.tank.diameter_in) * 12

    @property
    def fill_ft3(self) -> Decimal:
        """Media in one tank; less of a medium that lifts more than half of its depth."""
        if self.medium.expansion <= Decimal("0.5"):
            return self.tank.media_ft3
        room = (self.tank.height_in - number("gravel_in")) / (1 + self.medium.expansion)
        return down(area_ft2(self.tank.diameter_in) * room / 12, "0.25")

    @property
    def freeboard_in(self) -> Decimal:
        """Room above the bed, inches."""
        return self.tank.height_in - number("gravel_in") - self.depth_in

    @property
    def media_ft3(self) -> Decimal:
        """Media in all tanks together, cubic feet."""
        return self.tanks * self.fill_ft3

    @property
    def service_gpm(self) -> Decimal | None:
        """What passes at the published service rate, gpm; None: none is published."""
        return None if self.medium.service is None else self.medium.service * self.area_ft2

    @property
    def peak_gpm(self) -> Decimal | None:
        """What passes for a short time, gpm; None: nothing is published."""
        rate, claim = peak_rate(self.medium), self.tank.most_gpm
        told = [] if rate is None else [rate * self.area_ft2]
        return min([*told, *([] if claim is None else [claim * self.tanks])], default=None)
