"""Stages without a bed: lamp, cartridges, the aerator."""

from __future__ import annotations

from decimal import Decimal

from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE, Sized
from .written import up


def size_lamp(job: Job) -> Sized:
    """Return an ultraviolet lamp for the peak flow at the transmittance that was measured."""
    page, dose, least = job.page, rule("uv_dose"), rule("uv_least_percent")
    flow = up(job.house.peak_gpm)
    job.write_house()
    page.put("size.uv_gpm", flow, "gpm", "lamp_flow", rule("bath_base_gpm"), gpm=job.house.peak_gpm)
    page.put("size.dose_mj_cm2", dose.value, "mJ/cm2", "lamp_dose", dose)
    through = job.amount("uv_transmittance", "%")
    clear = through.holds(">=", least.value) if through else None
    if through is not None:
        # that it is clear enough is a condition of the stage itself
        page.put("size.transmittance_percent", through.low, "%", "lamp_through", PRACTICE)
    if through is None:
        page.warn("lamp_until_measured", least=least.value)
    if clear is False:
        page.refuse("lamp_dark", least=least.value)
    page.put(
        "use_per_year.lamp_hours_per_year",
        number("uv_lamp_hours"),
        "h",
        "lamp_hours",
        rule("uv_lamp_hours"),
    )
    return page.sized(job.stage, service_gpm=flow)


def size_cartridge(job: Job) -> Sized:
    """Return a cartridge in the main line for the peak flow."""
    page, months = job.page, rule("cartridge_months")
    flow = up(job.house.peak_gpm)
    page.put(
        "size.service_gpm", flow, "gpm", "service_up", rule("bath_base_gpm"), gpm=job.house.peak_gpm
    )
    page.put(
        "use_per_year.cartridges_per_year",
        12 / months.value,
        "",
        "cartridges",
        months,
        months=months.value,
    )
    return page.sized(job.stage, service_gpm=flow)


def size_tap(job: Job) -> Sized:
    """Return a cartridge at the tap: the gallons of a year that its label must cover."""
    page, flow = job.page, rule("tap_gpm")
    page.put("size.service_gpm", flow.value, "gpm", "tap_flow", flow)
    write_drunk(job)
    return page.sized(job.stage, service_gpm=flow.value)


def size_specialist(job: Job) -> Sized:
    """Return only the flow that a specialist has to design for."""
    page = job.page
    job.write_house()
    page.warn("specialist_sizes")
    return page.sized(job.stage, service_gpm=job.house.peak_gpm)


def write_drunk(job: Job) -> Decimal | None:
    """Write and return the gallons a day at the tap; None: nobody told the people."""
    if job.house.people is None:
        return None
    each = rule("drunk_gal_person")
    drunk = job.house.people * each.value
    told = {"people": job.house.people, "each": each.value}
    job.page.put("size.wanted_gpd", drunk, "gpd", "membrane_wanted", each, **told)
    yearly = drunk * number("days_in_year")
    job.page.put("use_per_year.tap_gal_per_year", yearly, "gal", "year", ARITHMETIC, day=drunk)
    return drunk
