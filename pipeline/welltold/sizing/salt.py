"""The salt of a softener, the days that it lasts, and the sodium that goes into the water."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .bed import Bed
from .job import Job
from .load import Grains
from .rules import between, line, number, rule
from .sized import ARITHMETIC
from .written import down, up


@dataclass(frozen=True, slots=True)
class Dose:
    """Salt for one regeneration of all tanks, and the days between two."""

    lb: Decimal
    days: Decimal
    grains: Decimal
    """What is taken up between two."""


def dose(job: Job, bed: Bed, load: Grains, *, patient: bool) -> Dose:
    """Write the salt and the days; more load never makes the salt smaller or the days more.

    ``patient``: the tank is no larger than the flow asks for, and may wait up to the longest time.
    Any larger one was chosen for the usual days, and is set to them.
    """
    page, grains_a_day, reserve = job.page, load.a_day or Decimal(0), rule("reserve_days")
    days = _days(job, bed, load, patient=patient)
    kept = days + reserve.value
    cycle = grains_a_day * kept
    lb = _write_salt(job, bed, cycle)
    told = {"load": grains_a_day, "days": kept}
    page.put("settings.capacity_grains", cycle, "grains", "capacity", reserve, **told)
    if bed.tanks > 1:
        _each(job, bed, lb, cycle)
    page.put("settings.reserve_grains", grains_a_day, "grains", "reserve", reserve)
    usual, iron, longest = rule("soft_days"), rule("iron_days"), rule("longest_days")
    told = {"usual": usual.value, "iron": iron.value, "longest": longest.value}
    sources = (usual, iron, longest)
    page.put("settings.interval_days", days, "days", "soft_interval", *sources, **told)
    page.put("settings.override_days", days, "days", "override", longest)
    yearly, told = lb * number("days_in_year") / days, {"salt": lb, "days": days}
    page.put("use_per_year.salt_lb_per_year", yearly, "lb", "salt_year", ARITHMETIC, **told)
    return Dose(lb, days, grains_a_day * days)


def _write_salt(job: Job, bed: Bed, grains: Decimal) -> Decimal:
    """Write and return the salt for so many grains: never less than the least for the resin."""
    usual, low = job.salt_lb_ft3, rule("salt_low_lb_ft3")
    per_lb, least = capacity_ft3(usual) / usual, low.value * bed.media_ft3
    lb = up(max(least, grains / per_lb))
    sources = (low, line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")[1].citation)
    told = {"grains": grains, "per": per_lb, "low": least}
    job.page.put("settings.salt_lb", lb, "lb", "salt", *sources, **told)
    return lb


def _each(job: Job, bed: Bed, lb: Decimal, grains: Decimal) -> None:
    """Write what one valve of several is set to; the other settings are for all together."""
    page, tanks = job.page, Decimal(bed.tanks)
    each, told = lb / tanks, {"lb": lb, "tanks": tanks}
    page.put("settings.salt_lb_each", each, "lb", "salt_each", ARITHMETIC, **told)
    share, told = grains / tanks, {"grains": grains, "tanks": tanks}
    page.put("settings.capacity_grains_each", share, "grains", "capacity_each", ARITHMETIC, **told)
    page.warn("settings_together", tanks=tanks, lb=each, grains=share)


def _days(job: Job, bed: Bed, load: Grains, *, patient: bool) -> Decimal:
    """Return the whole days between regenerations."""
    most = number("longest_days") if patient or not load.a_day else number("soft_days")
    if load.a_day:
        lasts = down(full_grains(job, bed) / load.a_day - number("reserve_days"))
        most = max(min(lasts, most), Decimal(1))
    return min(most, number("iron_days")) if load.iron else most


def full_grains(job: Job, bed: Bed) -> Decimal:
    """Return the grains that the resin takes up at the dose of salt that is looked at."""
    return capacity_ft3(job.salt_lb_ft3) * bed.media_ft3


def capacity_ft3(salt_lb_ft3: Decimal) -> Decimal:
    """Return the grains that a cubic foot takes up after a dose of salt; the ends hold beyond."""
    points = line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")
    inside = min(max(salt_lb_ft3, points[0].x), points[-1].x)
    found = between(points, inside)
    return points[0].y if found is None else found


def write_efficiency(job: Job, salt: Dose, gallons: Decimal) -> None:
    """Write grains for each pound of salt, and gallons for each thousand grains."""
    page, best = job.page, rule("salt_best_grains_lb")
    told = {"grains": salt.grains, "salt": salt.lb, "best": best.value}
    each = salt.grains / salt.lb
    page.put("size.grains_per_lb", each, "grains/lb", "efficiency", best, **told)
    if salt.grains:
        thousand, most = salt.grains / 1000, rule("water_best_gal_kgrain")
        water = {"gal": gallons, "grains": thousand, "best": most.value}
        each = gallons / thousand
        page.put("size.gal_per_1000_grains", each, "gal", "water_share", most, **water)
