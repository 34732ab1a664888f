"""The bed that carries the flow, and the largest one that the pump can wash."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from .rules import Medium, Tank, number, tanks
from .written import down

_PI = Decimal("3.14159265358979")
KELVIN_FREE = Decimal(20)


@dataclass(frozen=True, slots=True)
class Flow:
    """What a bed has to carry, and the pump that washes it; US gallons a minute."""

    peak: Decimal
    sustained: Decimal | None
    pump: int | None
    """Whole gallons; None: nobody timed the pump."""
    celsius: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Bed:
    """So many tanks of one medium, side by side; they are washed one after the other."""

    medium: Medium
    tank: Tank
    tanks: int
    backwash_gpm: Decimal
    """Of one tank, exact."""

    @property
    def area_ft2(self) -> Decimal:
        """Area of all tanks together."""
        return self.tanks * area_ft2(self.tank.diameter_in)

    @property
    def depth_in(self) -> Decimal:
        """Depth of the bed."""
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
        """Room above the bed."""
        return self.tank.height_in - number("gravel_in") - self.depth_in

    @property
    def media_ft3(self) -> Decimal:
        """Media in all tanks together."""
        return self.tanks * self.fill_ft3

    @property
    def service_gpm(self) -> Decimal | None:
        """What passes at the published service rate."""
        return None if self.medium.service is None else self.medium.service * self.area_ft2

    @property
    def peak_gpm(self) -> Decimal | None:
        """What passes for a short time."""
        rate = peak_rate(self.medium)
        return None if rate is None else rate * self.area_ft2


def area_ft2(diameter_in: Decimal) -> Decimal:
    """Return the area of a round tank: a quarter of pi times the diameter in feet, squared."""
    return _PI / 4 * (diameter_in / 12) ** 2


def peak_rate(medium: Medium) -> Decimal | None:
    """Return the highest rate for a short time, gpm a square foot."""
    if medium.service is None:
        return None
    return medium.peak or number("peak_over_service") * medium.service


@lru_cache(maxsize=512)
def backwash_rate(medium: Medium, celsius: Decimal | None = None) -> Decimal:
    """Return the backwash rate, gpm a square foot; warm water is thinner and needs more.

    Colder water is never used to ask for less. Viscosity: Kestin, Sokolov and Wakeham 1978.
    """
    base = number("backwash_celsius")
    if celsius is None or celsius <= base:
        return medium.backwash
    thinner = viscosity(base) / viscosity(celsius)
    return medium.backwash * thinner ** number("viscosity_share")


def viscosity(celsius: Decimal) -> Decimal:
    """Return the viscosity of water, mPa s, from 0 to 40 C; Kestin and others 1978."""
    cold = KELVIN_FREE - celsius
    power = (
        cold
        / (celsius + 96)
        * (Decimal("1.2364") - Decimal("0.00137") * cold + Decimal("0.0000057") * cold**2)
    )
    return Decimal("1.002") * Decimal(10) ** power


def backwash_gpm(medium: Medium, diameter_in: Decimal, celsius: Decimal | None = None) -> Decimal:
    """Return what the backwash of one tank asks for."""
    return backwash_rate(medium, celsius) * area_ft2(diameter_in)


def largest_diameter(rate: Decimal, gpm: Decimal) -> Decimal:
    """Return the widest tank, inches, that so much water washes: 24 sqrt(Q / (pi rate))."""
    return 24 * (gpm / (_PI * rate)).sqrt()


def largest_tank(medium: Medium, flow: Flow) -> Tank | None:
    """Return the largest tank on the market that the pump can wash."""
    if flow.pump is None:
        return None
    fitting = [
        tank
        for tank in tanks()
        if backwash_gpm(medium, tank.diameter_in, flow.celsius) <= flow.pump
    ]
    return fitting[-1] if fitting else None


def smallest_bed(medium: Medium, flow: Flow, count: int = 1) -> Bed | None:
    """Return the smallest tanks that carry both flows; None: not even the largest do."""
    beds = (bed_of(medium, tank, flow, count) for tank in tanks())
    return next((bed for bed in beds if carries(bed, flow)), None)


def washable_bed(medium: Medium, flow: Flow) -> Bed | None:
    """Return the largest tank that the pump can wash, if it carries what runs for two hours."""
    tank = largest_tank(medium, flow)
    if tank is None or flow.sustained is None:
        return None
    bed = bed_of(medium, tank, flow, 1)
    return bed if _enough(bed.service_gpm, flow.sustained) else None


def parallel_bed(medium: Medium, flow: Flow) -> Bed | None:
    """Return the fewest and smallest tanks side by side that the pump washes one by one."""
    for count in range(2, int(number("most_tanks")) + 1):
        bed = smallest_bed(medium, flow, count)
        if bed is not None and (flow.pump is None or bed.backwash_gpm <= flow.pump):
            return bed
    return None


def bed_of(medium: Medium, tank: Tank, flow: Flow, count: int) -> Bed:
    """Return so many of these tanks with this medium."""
    return Bed(medium, tank, count, backwash_gpm(medium, tank.diameter_in, flow.celsius))


def carries(bed: Bed, flow: Flow) -> bool:
    """Return whether a bed carries the peak for a short time and the rest at its service rate."""
    if not _enough(bed.peak_gpm, flow.peak):
        return False
    return flow.sustained is None or _enough(bed.service_gpm, flow.sustained)


def _enough(has: Decimal | None, wants: Decimal) -> bool:
    return has is None or has >= wants
