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
        """Return the gallons of one cycle of one tank."""
        return backwash_gpm * (self.minutes + self.rinse_minutes) + self.more_gal


def write_wash(job: Job, bed: Bed, cycle: Cycle) -> bool | None:
    """Write backwash, drain, water used and what the pump has to prove; return whether it fits."""
    gpm = bed.backwash_gpm
    rate = backwash_rate(bed.medium, job.celsius)
    _write_flow(job, bed, rate)
    _write_minutes(job, cycle, gpm)
    drain, code, origin = drain_control(bed, rate)
    job.page.put("settings.drain_gpm", drain, "gpm", code, origin, gpm=gpm)
    each_day = _write_water(job, bed, cycle)
    prove_pump(job, gpm)
    prove_well(job, gpm, cycle.minutes + cycle.rinse_minutes)
    prove_drain(job, each_day)
    return job.pump.carries(gpm)


def _write_flow(job: Job, bed: Bed, rate_gpm_ft2: Decimal) -> None:
    """Write the flow of the backwash: as reckoned, or more where the tank is sold with more."""
    page, gpm, area = job.page, bed.backwash_gpm, area_ft2(bed.tank.diameter_in)
    reckoned = rate_gpm_ft2 * area
    if gpm > reckoned:
        claim = bed.tank.citation
        page.put("size.backwash_gpm", gpm, "gpm", "backwash_claimed", claim, gpm=reckoned)
        return
    sources = _rate_sources(job, bed)
    page.put("size.backwash_gpm", gpm, "gpm", "backwash", *sources, area=area, rate=rate_gpm_ft2)


def _write_minutes(job: Job, cycle: Cycle, gpm: Decimal) -> None:
    """Write the water of one cycle, and the minutes of its backwash and its rinse."""
    page, wash, rinse = job.page, cycle.minutes, cycle.rinse_minutes
    told = {"gpm": gpm, "minutes": wash, "rinse": rinse, "more": cycle.more_gal}
    gallons = cycle.gallons(gpm)
    page.put("size.backwash_gal", gallons, "gal", "backwash_gal", ARITHMETIC, **told)
    usual = rule(f"{cycle.kind}_backwash_minutes")
    page.put("settings.backwash_minutes", wash, "min", "backwash_minutes", usual)
    usual = rule(f"{cycle.kind}_rinse_minutes")
    page.put("settings.rinse_minutes", rinse, "min", "rinse_minutes", usual)


def _write_water(job: Job, bed: Bed, cycle: Cycle) -> Decimal:
    """Write the water that goes down the drain; return the gallons of a day, of all tanks."""
    page, gallons = job.page, cycle.gallons(bed.backwash_gpm)
    each_day = bed.tanks * gallons / cycle.days
    told = {"tanks": Decimal(bed.tanks), "gal": gallons, "days": cycle.days}
    page.put("size.waste_gal_day", each_day, "gpd", "waste_day", ARITHMETIC, **told)
    yearly = each_day * number("days_in_year")
    page.put("use_per_year.water_gal_per_year", yearly, "gal", "year", ARITHMETIC, day=each_day)
    return each_day


def _rate_sources(job: Job, bed: Bed) -> tuple[str, ...]:
    warm = job.celsius is not None and job.celsius > number("backwash_celsius")
    more = (
        "Kestin, Sokolov and Wakeham, J. Phys. Chem. Ref. Data 7(3), 1978 (viscosity)",
        rule("viscosity_share").citation,
    )
    return (bed.medium.citation, *(more if warm else ()))
