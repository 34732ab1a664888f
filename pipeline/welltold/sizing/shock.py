"""Shock chlorination: the water that stands in the well, and the bleach for it."""

from __future__ import annotations

from decimal import Decimal

from .feed_pump import bleach_ml
from .hydraulics import area_ft2
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, Sized


def size_shock(job: Job) -> Sized:
    """Return the water in the casing and the bleach for 100 mg/L in it."""
    well, page = job.site.well, job.page
    if well.depth_ft is None or well.static_ft is None or well.casing_in is None:
        page.ask("casing", ARITHMETIC)
        return page.sized(job.stage)
    column = well.depth_ft - well.static_ft
    gallons = casing_gal(well.casing_in, column)
    page.put(
        "size.casing_water_gal",
        gallons,
        "gal",
        "casing",
        ARITHMETIC,
        inches=well.casing_in,
        feet=column,
    )
    dose, strength = rule("shock_mg_l"), rule("bleach_percent")
    litres = bleach_ml(gallons, dose.value, strength.value) / 1000
    page.put("size.bleach_l", litres, "L", "shock_bleach", dose, strength, gal=gallons)
    return page.sized(job.stage)


def casing_gal(casing_in: Decimal, column_ft: Decimal) -> Decimal:
    """Return the gallons in so many feet of casing; the water column, not the depth."""
    return area_ft2(casing_in) * column_ft * number("bed_gal_ft3")
