"""Shock chlorination: the water that stands in the well, and the bleach for it."""

from __future__ import annotations

from .feed_pump import bleach_ml
from .hydraulics import casing_gal
from .job import Job
from .rules import rule
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
    told = {"gal": gallons, "dose": dose.value, "percent": strength.value}
    page.put("size.bleach_l", litres, "L", "shock_bleach", dose, strength, **told)
    return page.sized(job.stage)
