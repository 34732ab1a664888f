"""The salt of a softener, the days that it lasts, and the sodium that goes into the water."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from .beds import Bed
from .job import Job
from .rules import line, number, rule, tanks
from .sized import ARITHMETIC
from .written import down, up


@dataclass(frozen=True, slots=True)
class Dose:
    """Salt for one regeneration of all tanks, and the days between two."""

    lb: Decimal
    days: Decimal


def dose(job: Job, bed: Bed, grains_a_day: Decimal, iron: bool) -> Dose:  # noqa: FBT001 - a fact of the water
    """Write the salt and the days; more load never makes the salt smaller or the days more.

    The smallest tank may wait up to the longest time; any larger one was chosen for the usual
    days, and is set to them.
    """
    page, usual = job.page, rule("salt_usual_lb_ft3")
    per_lb = _usual_capacity() / usual.value
    days = _days(bed, grains_a_day, iron)
    cycle = grains_a_day * (days + number("reserve_days"))
    least = number("salt_low_lb_ft3") * bed.media_ft3
    lb = up(max(least, cycle / per_lb))
    sources = (
        rule("salt_low_lb_ft3"),
        line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")[1].citation,
    )
    page.put("settings.salt_lb", lb, "lb", "salt", *sources, grains=cycle, per=per_lb, low=least)
    page.put(
        "settings.capacity_grains",
        cycle,
        "grains",
        "capacity",
        rule("reserve_days"),
        load=grains_a_day,
        days=days + number("reserve_days"),
    )
    page.put("settings.reserve_grains", grains_a_day, "grains", "reserve", rule("reserve_days"))
    limits = (rule("soft_days"), rule("iron_days"), rule("longest_days"))
    page.put(
        "settings.interval_days",
        days,
        "days",
        "soft_interval",
        *limits,
        usual=limits[0].value,
        iron=limits[1].value,
        longest=limits[2].value,
    )
    page.put("settings.override_days", days, "days", "override", rule("longest_days"))
    page.put(
        "use_per_year.salt_lb",
        lb * number("days_in_year") / days,
        "lb",
        "salt_year",
        ARITHMETIC,
        salt=lb,
        days=days,
    )
    _efficiency(job, lb, grains_a_day * days)
    return Dose(lb, days)


def _days(bed: Bed, grains_a_day: Decimal, iron: bool) -> Decimal:  # noqa: FBT001 - a fact of the water
    """Return the whole days between regenerations; only the smallest tank may wait for longer."""
    days, longest = number("soft_days"), number("longest_days")
    if not grains_a_day:
        days = longest
    elif bed.tank == tanks()[0] and bed.tanks == 1:
        lasts = down(_usual_capacity() * bed.media_ft3 / grains_a_day) - number("reserve_days")
        days = max(min(lasts, longest), Decimal(1))
    return min(days, number("iron_days")) if iron else days


def _usual_capacity() -> Decimal:
    points = line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")
    return next(point.y for point in points if point.x == number("salt_usual_lb_ft3"))


def _efficiency(job: Job, lb: Decimal, grains_taken: Decimal) -> None:
    best = rule("salt_best_grains_lb")
    page, got = job.page, grains_taken / lb
    page.put(
        "size.grains_per_lb",
        got,
        "grains/lb",
        "efficiency",
        best,
        grains=grains_taken,
        salt=lb,
        best=best.value,
    )


def write_sodium(job: Job, plain_gpg: Decimal) -> None:
    """Write the sodium that softening adds, and what it means on a low-sodium diet."""
    page, each = job.page, rule("sodium_mg_l_gpg")
    added = each.value * plain_gpg
    page.put(
        "size.sodium_added_mg_l", added, "mg/L", "sodium", each, gpg=plain_gpg, each=each.value
    )
    daily = added * number("drunk_litres")
    page.put(
        "size.sodium_mg_day",
        daily,
        "mg",
        "sodium_day",
        rule("drunk_litres"),
        added=added,
        litres=number("drunk_litres"),
    )
    if "low_sodium_diet" in job.site.home.persons:
        advised = rule("sodium_advised_mg_l")
        held = None if added > advised.value else True
        page.ask("low_sodium", advised.citation, holds=held, added=added, advised=advised.value)
        page.warn("low_sodium_ways", added=added)
