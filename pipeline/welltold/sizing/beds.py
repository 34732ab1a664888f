"""The bed that carries the flow, and the largest one that the pump can wash."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal

from .bed import Bed
from .hydraulics import backwash_gpm
from .rules import number
from .stock import Medium, Tank, tanks


@dataclass(frozen=True, slots=True)
class Flow:
    """What a bed has to carry, and the pump that washes it; US gallons a minute."""

    peak: Decimal
    sustained: Decimal | None
    pump: int | None
    """Whole gallons; None: nobody timed the pump."""
    celsius: Decimal | None = None
    least_ft3: Decimal = Decimal(0)
    """Media that all tanks together must hold."""
    tanks: tuple[Tank, ...] = field(default_factory=tanks)
    """The tanks to choose from, smallest first."""

    def tanks_for(self, medium: Medium) -> tuple[Tank, ...]:
        """Return the tanks that may be filled with a medium."""
        return tuple(tank for tank in self.tanks if tank.only in {None, medium.medium})


def largest_tank(medium: Medium, flow: Flow) -> Tank | None:
    """Return the largest tank to choose from that the pump can wash."""
    fitting = [bed.tank for bed in beds(medium, flow) if washed(bed, flow)]
    return fitting[-1] if fitting else None


def smallest_bed(medium: Medium, flow: Flow, count: int = 1) -> Bed | None:
    """Return the smallest tanks that carry both flows; None: not even the largest do."""
    return next((bed for bed in beds(medium, flow, count) if carries(bed, flow)), None)


def washable_bed(medium: Medium, flow: Flow) -> Bed | None:
    """Return the largest tank that the pump can wash, if it carries nearly all of the house.

    That is what runs for two hours, and most of the peak.
    """
    tank = largest_tank(medium, flow)
    if tank is None or flow.pump is None or flow.sustained is None:
        return None
    bed = bed_of(medium, tank, flow)
    return bed if nearly_carries(bed, flow) else None


def parallel_bed(medium: Medium, flow: Flow) -> Bed | None:
    """Return the fewest and smallest tanks side by side that the pump washes one by one."""
    for count in range(2, int(number("most_tanks")) + 1):
        bed = smallest_bed(medium, flow, count)
        if bed is not None and washed(bed, flow):
            return bed
    return None


def twin_bed(medium: Medium, flow: Flow) -> Bed | None:
    """Return two tanks side by side in place of one that the pump cannot wash.

    The smallest that carry everything, else the largest that the pump washes, if they nearly do.
    """
    count = int(number("most_twins"))
    whole = smallest_bed(medium, flow, count)
    if whole is not None and washed(whole, flow):
        return whole
    tank = largest_tank(medium, flow)
    bed = bed_of(medium, tank, flow, count) if tank else None
    return bed if bed is not None and nearly_carries(bed, flow) else None


def choose_bed(medium: Medium, flow: Flow) -> tuple[Bed, bool | None] | None:
    """Return the bed to build and whether the pump washes it; None: no tank carries the flow.

    The smallest tank that carries everything; where the pump cannot wash it, the largest that it
    can, if that one carries what runs for two hours.
    """
    bed = smallest_bed(medium, flow)
    if bed is not None and washed(bed, flow):
        return bed, None if flow.pump is None else True
    washable = washable_bed(medium, flow)
    if washable is not None:
        return washable, True
    return None if bed is None else (bed, False)


def beds(medium: Medium, flow: Flow, count: int = 1) -> Iterator[Bed]:
    """Yield a bed for each tank to choose from, smallest first."""
    return (bed_of(medium, tank, flow, count) for tank in flow.tanks_for(medium))


def bed_of(medium: Medium, tank: Tank, flow: Flow, count: int = 1) -> Bed:
    """Return so many of these tanks with this medium."""
    reckoned = backwash_gpm(medium, tank.diameter_in, flow.celsius)
    return Bed(medium, tank, count, max(reckoned, tank.wash_gpm or Decimal(0)))


def with_volume(medium: Medium, flow: Flow, ft3: Decimal, count: int = 1) -> Bed | None:
    """Return the smallest tanks that hold so much of a medium; None: not even the largest do."""
    return next((bed for bed in beds(medium, flow, count) if bed.media_ft3 >= ft3), None)


def washed(bed: Bed, flow: Flow) -> bool:
    """Return whether the pump washes one tank; a pump that nobody timed is not in the way."""
    return flow.pump is None or bed.backwash_gpm <= flow.pump


def carries(bed: Bed, flow: Flow) -> bool:
    """Return whether a bed carries the peak for a short time and the rest at its service rate."""
    if not _enough(bed.peak_gpm, flow.peak) or bed.media_ft3 < flow.least_ft3:
        return False
    return flow.sustained is None or _enough(bed.service_gpm, flow.sustained)


def nearly_carries(bed: Bed, flow: Flow) -> bool:
    """Return whether a bed carries what runs for two hours, and most of the peak."""
    if bed.media_ft3 < flow.least_ft3 or flow.sustained is None:
        return False
    most = number("least_peak_share") * flow.peak
    return _enough(bed.service_gpm, flow.sustained) and _enough(bed.peak_gpm, most)


def fuller(medium: Medium, flow: Flow, than: Bed) -> Bed | None:
    """Return a bed of another medium that the pump washes too, and that carries more."""
    chosen = choose_bed(medium, flow)
    if chosen is None or not chosen[1] or chosen[0].peak_gpm is None or than.peak_gpm is None:
        return None
    return chosen[0] if chosen[0].peak_gpm > than.peak_gpm else None


def _enough(has: Decimal | None, wants: Decimal) -> bool:
    return has is None or has >= wants
