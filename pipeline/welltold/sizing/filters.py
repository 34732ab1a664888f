"""Iron filters: with drawn-in air, with a catalyst, with greensand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from .bed import Bed
from .iron_load import days_by_load, iron_load, wash
from .job import Job
from .rules import number, rule
from .sized import Sized
from .stages_beds import size_bed
from .washing import Cycle


def size_air_filter(job: Job) -> Sized:
    """Return an air-injection filter; its air is renewed at least every few days."""
    return size_bed(job, _air, _oxygen)


def size_filter(job: Job) -> Sized:
    """Return a filter that is washed by what it holds, and at least every few days."""
    return size_bed(job, _held, _oxygen)


def size_particles(job: Job) -> Sized:
    """Return a filter for rust and silt that holds at least a day of them."""
    load, gal_day = iron_load(job), job.house.gal_day
    if load is None or gal_day is None:
        return size_bed(job, _held)
    return size_bed(
        replace(job, least_ft3=load * gal_day / number("filter_holds_mg_gal")), _held, _oxygen
    )


def _air(job: Job, bed: Bed) -> Cycle:
    return wash(days_by_load(job, bed, number("air_days"), "air_days"))


def _held(job: Job, bed: Bed) -> Cycle:
    return wash(days_by_load(job, bed, number("filter_days"), "filter_days"))


def _oxygen(job: Job, bed: Bed, cycle: Cycle) -> None:  # noqa: ARG001 - what every filter's extra gets
    """Write the sludge of a year and, for iron, the air that it takes."""
    iron, gal = job.high("iron", "mg/L"), job.house.gal_day
    if iron is None or gal is None or not iron:
        return
    sludge = rule("sludge_iron")
    grams = iron * sludge.value * gal * Decimal("3.785411784") / 1000
    yearly = grams * number("days_in_year") / Decimal("453.59237")
    job.page.put(
        "use_per_year.sludge_lb_per_year",
        yearly,
        "lb",
        "sludge",
        sludge,
        iron=iron,
        each=sludge.value,
        gal=gal,
    )
