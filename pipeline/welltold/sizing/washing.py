"""A bed written down: its tank, its backwash, the drain, and whether the pump carries it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from ..messages import say
from .beds import Bed, area_ft2, backwash_rate
from .drains import drain_control
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE


@dataclass(frozen=True, slots=True)
class Cycle:
    """How often and how long a bed is washed."""

    days: Decimal
    minutes: Decimal
    rinse_minutes: Decimal = Decimal(0)
    more_gal: Decimal = Decimal(0)
    """Water beside backwash and rinse, of one tank: brine and refill."""

    def gallons(self, backwash_gpm: Decimal) -> Decimal:
        """Return the water of one cycle of one tank."""
        return backwash_gpm * (self.minutes + self.rinse_minutes) + self.more_gal


def write_bed(job: Job, bed: Bed) -> None:
    """Write the tank, the bed and the flows that it carries."""
    page, medium, inches = job.page, bed.medium, bed.tank.diameter_in
    source = f"{medium.citation}; {bed.tank.citation}"
    name = say(f"sizing.medium_{medium.medium}").text
    page.put("size.medium", medium.medium, "", "medium", medium.citation, name=name)
    page.put("size.tanks", Decimal(bed.tanks), "", "tanks", PRACTICE)
    page.put("size.tank_in", inches, "in", "tank", source, height=bed.tank.height_in)
    page.put("size.tank_height_in", bed.tank.height_in, "in", "tank_height", bed.tank.citation)
    page.put(
        "size.media_ft3",
        bed.media_ft3,
        "ft3",
        "media",
        bed.tank.citation,
        tanks=Decimal(bed.tanks),
        each=bed.fill_ft3,
    )
    page.put(
        "size.bed_depth_in",
        bed.depth_in,
        "in",
        "bed_depth",
        ARITHMETIC,
        ft3=bed.fill_ft3,
        area=area_ft2(inches),
    )
    page.put(
        "size.freeboard_in",
        bed.freeboard_in,
        "in",
        "freeboard",
        rule("gravel_in"),
        height=bed.tank.height_in,
        gravel=number("gravel_in"),
        depth=bed.depth_in,
    )
    _write_flows(job, bed)


def _write_flows(job: Job, bed: Bed) -> None:
    page = job.page
    job.write_house()
    if bed.service_gpm is not None and bed.medium.service is not None:
        page.put(
            "size.carries_gpm",
            bed.service_gpm,
            "gpm",
            "carries",
            bed.medium.citation,
            area=bed.area_ft2,
            rate=bed.medium.service,
        )
    if bed.peak_gpm is not None and bed.peak_gpm < job.house.peak_gpm:
        page.warn("peaks_pass", carries=bed.peak_gpm, peak=job.house.peak_gpm)
    minutes = bed.media_ft3 * number("bed_gal_ft3") / job.house.peak_gpm
    page.put(
        "size.contact_minutes",
        minutes,
        "min",
        "bed_minutes",
        ARITHMETIC,
        ft3=bed.media_ft3,
        gpm=job.house.peak_gpm,
    )


def write_wash(job: Job, bed: Bed, cycle: Cycle) -> bool | None:
    """Write backwash, drain, water used and what the pump has to prove; return whether it fits."""
    page, gpm = job.page, bed.backwash_gpm
    rate = backwash_rate(bed.medium, job.celsius)
    page.put(
        "size.backwash_gpm",
        gpm,
        "gpm",
        "backwash",
        *_rate_sources(job, bed),
        area=area_ft2(bed.tank.diameter_in),
        rate=rate,
    )
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
        rule("filter_backwash_minutes"),
    )
    drain, source = drain_control(bed, rate, job.pump.floor_gpm)
    page.put("settings.drain_gpm", drain, "gpm", "drain", source, gpm=gpm)
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
    page.put("use_per_year.water_gal", yearly, "gal", "year", ARITHMETIC, day=each_day)
    prove_pump(job, gpm)
    _prove_well(job, gpm, cycle, gallons)
    _prove_drain(job, each_day)
    return job.pump.carries(gpm)


def prove_pump(job: Job, gpm: Decimal) -> None:
    """Write what the pump has to give, and at which pressure."""
    page, pump, psi = job.page, job.pump, rule("pressure_to_prove")
    page.adopt(pump.worked)
    page.conditions.extend(pump.conditions)
    if pump.gpm is None:
        page.ask("backwash_untimed", psi.citation, gpm=gpm)
        return
    fits = pump.carries(gpm)
    page.ask(
        "backwash", PRACTICE, holds=fits, gpm=gpm, floor=Decimal(pump.floor_gpm or 0), pump=pump.gpm
    )
    if fits and not pump.proven:
        page.ask("backwash_pressure", psi.citation, gpm=gpm, psi=psi.value, pump=pump.gpm)


def _prove_well(job: Job, gpm: Decimal, cycle: Cycle, gallons: Decimal) -> None:
    """Write whether the well itself keeps up while the bed is washed."""
    gives = job.site.well.yield_gpm
    if gives is None:
        return
    minutes = cycle.minutes + cycle.rinse_minutes
    holds = True if gives >= gpm else None
    lacks = max(gallons - gives * minutes, Decimal(0))
    code = "well_keeps" if holds else "well_lags"
    job.page.ask(
        code, PRACTICE, holds=holds, gives=gives, minutes=minutes, gal=gallons, lacks=lacks
    )


def _prove_drain(job: Job, each_day: Decimal) -> None:
    if job.site.home.waste == "septic":
        job.page.ask("septic", PRACTICE, gal=each_day, day=job.house.gal_day or Decimal(0))


def _rate_sources(job: Job, bed: Bed) -> tuple[str, ...]:
    warm = job.celsius is not None and job.celsius > number("backwash_celsius")
    more = (
        "Kestin, Sokolov and Wakeham, J. Phys. Chem. Ref. Data 7(3), 1978 (viscosity)",
        rule("viscosity_share").citation,
    )
    return (bed.medium.citation, *(more if warm else ()))
