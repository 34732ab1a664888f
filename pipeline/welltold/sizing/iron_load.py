"""What the water loads an iron filter with, and how often that asks for a backwash."""

from __future__ import annotations

from decimal import Decimal

from .bed import Bed
from .job import Job
from .rules import number, rule
from .washing import Cycle
from .written import down


def iron_load(job: Job) -> Decimal | None:
    """Return what loads an iron filter, as mg/L of iron; None if iron is not known."""
    iron = job.high("iron", "mg/L")
    if iron is None:
        return None
    manganese = job.high("manganese", "mg/L") or Decimal(0)
    sulfide = job.high("hydrogen_sulfide", "mg/L") or Decimal(0)
    return iron + number("filter_manganese") * manganese + number("filter_sulfide") * sulfide


def days_by_load(job: Job, bed: Bed, most: Decimal, code: str) -> Decimal:
    """Write and return the whole days between two backwashes, at least 1 and at most ``most``."""
    page, load, gal_day = job.page, iron_load(job), job.house.gal_day
    if load is None or gal_day is None:
        if load is None:
            page.ask("iron_open", rule("filter_holds_mg_gal").citation)
        page.put("settings.interval_days", most, "days", "interval_most", rule(code))
        return most
    holds = number("filter_holds_mg_gal") * bed.media_ft3
    reckoned = holds / (load * gal_day) if load else most
    days = max(min(down(reckoned), most), Decimal(1))
    if reckoned < 1:
        source = rule("filter_holds_mg_gal").citation
        page.ask("iron_heavy", source, load=load, ft3=bed.media_ft3)
    page.put(
        "settings.interval_days",
        days,
        "days",
        "interval_load",
        rule("filter_holds_mg_gal"),
        rule(code),
        holds=number("filter_holds_mg_gal"),
        ft3=bed.media_ft3,
        load=load,
        gal=gal_day,
        most=most,
    )
    return days


def wash(days: Decimal) -> Cycle:
    """Return the usual backwash and rinse of a filter, so many days apart."""
    return Cycle(days, number("filter_backwash_minutes"), number("filter_rinse_minutes"))
