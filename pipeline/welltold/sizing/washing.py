"""The backwash of a bed written down: its flow, its water, its drain control."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .bed import Bed
from .drains import drain_control
from .hydraulics import area_ft2, backwash_rate
from .job import Job
from .proving import prove_drain, prove_pump, prove_well
from .rules import number, rule
from .sized import ARITHMETIC


@dataclass(frozen=True, slots=True)
class Cycle:
    """How often and how long a bed is washed."""

    days: Decimal
    minutes: Decimal
    rinse_minutes: Decimal = Decimal(0)
    more_gal: Decimal = Decimal(0)
    """Water beside backwash and rinse, of one tank: brine and refill."""
    kind: str = "filter"
    """``filter`` or ``softener``: whose rules the minutes are."""

    def gallons(self, backwash_gpm: Decimal) -> Decimal:
        """Return the water of one cycle of one tank."""
        return backwash_gpm * (self.minutes + self.rinse_minutes) + self.more_gal


def write_wash(job: Job, bed: Bed, cycle: Cycle) -> bool | None:
    """Write backwash, drain, water used and what the pump has to prove; return whether it fits."""
    page, gpm = job.page, bed.backwash_gpm
    rate = backwash_rate(bed.medium, job.celsius)
    area = area_ft2(bed.tank.diameter_in)
    sources = _rate_sources(job, bed)
    if gpm > rate * area:
        claim, reckoned = bed.tank.citation, rate * area
        page.put("size.backwash_gpm", gpm, "gpm", "backwash_claimed", claim, gpm=reckoned)
    else:
        page.put("size.backwash_gpm", gpm, "gpm", "backwash", *sources, area=area, rate=rate)
    gallons = cycle.gallons(gpm)
    page.put(
        "size.backwash_gal",
        gallons,
        "gal",
        "backwash_gal",
        ARITHMETIC,
        gpm=gpm,
        minutes=cycle.minutes,
        rinse=cycle.rinse_minutes,
        more=cycle.more_gal,
    )
    page.put(
        "settings.backwash_minutes",
        cycle.minutes,
        "min",
        "backwash_minutes",
        rule(f"{cycle.kind}_backwash_minutes"),
    )
    rinse = cycle.rinse_minutes
    page.put(
        "settings.rinse_minutes", rinse, "min", "rinse_minutes", rule(f"{cycle.kind}_rinse_minutes")
    )
    drain, code, origin = drain_control(bed, rate)
    page.put("settings.drain_gpm", drain, "gpm", code, origin, gpm=gpm)
    each_day = bed.tanks * gallons / cycle.days
    page.put(
        "size.waste_gal_day",
        each_day,
        "gpd",
        "waste_day",
        ARITHMETIC,
        tanks=Decimal(bed.tanks),
        gal=gallons,
        days=cycle.days,
    )
    yearly = each_day * number("days_in_year")
    page.put("use_per_year.water_gal_per_year", yearly, "gal", "year", ARITHMETIC, day=each_day)
    prove_pump(job, gpm)
    prove_well(job, gpm, cycle.minutes + cycle.rinse_minutes)
    prove_drain(job, each_day)
    return job.pump.carries(gpm)


def _rate_sources(job: Job, bed: Bed) -> tuple[str, ...]:
    warm = job.celsius is not None and job.celsius > number("backwash_celsius")
    more = (
        "Kestin, Sokolov and Wakeham, J. Phys. Chem. Ref. Data 7(3), 1978 (viscosity)",
        rule("viscosity_share").citation,
    )
    return (bed.medium.citation, *(more if warm else ()))
