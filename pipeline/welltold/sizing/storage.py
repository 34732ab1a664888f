"""A storage tank and a booster pump, where the well pump cannot wash a bed."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from ..site import Site
from .job import Job
from .pump import PumpFlow
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE, Page
from .written import up


def with_storage(job: Job, backwash_gpm: Decimal) -> Job:
    """Return the job on a new sheet, with a booster pump on a storage tank in the pump's place."""
    page = Page()
    booster = up(max(backwash_gpm, job.house.peak_gpm))
    page.put(
        "size.booster_gpm",
        booster,
        "gpm",
        "booster",
        PRACTICE,
        backwash=backwash_gpm,
        peak=job.house.peak_gpm,
    )
    washing = backwash_gpm * (number("filter_backwash_minutes") + number("filter_rinse_minutes"))
    day = (job.house.gal_day or Decimal(0)) * number("storage_day")
    gallons = up(day + washing, "10")
    page.put(
        "size.storage_gal", gallons, "gal", "storage", rule("storage_day"), day=day, washing=washing
    )
    gives = slower(job.pump, job.site)
    if gives is None:
        page.ask("storage_yield", PRACTICE, gal=gallons)
    else:
        page.put(
            "size.refill_hours",
            gallons / gives / 60,
            "h",
            "refill_hours",
            ARITHMETIC,
            gal=gallons,
            gives=gives,
        )
    pump = PumpFlow(booster, int(booster), "pump_gpm", number("pressure_to_prove"))
    return replace(job, pump=pump, page=page)


def slower(pump: PumpFlow, site: Site) -> Decimal | None:
    """Return the gpm at which the well fills a tank: the slower of pump and yield, as told."""
    told = [gpm for gpm in (pump.gpm, site.well.yield_gpm) if gpm is not None]
    return min(told, default=None)
