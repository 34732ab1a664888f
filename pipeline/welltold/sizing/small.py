"""Stages without a washed bed: lamp, cartridges, adsorbers at the tap, aerator."""

from __future__ import annotations

from decimal import Decimal

from .carbon import contact_of
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE, Sized
from .written import up

_VOLUMES = {"arsenic_adsorber": "arsenic_volumes", "fluoride_adsorber": "fluoride_volumes"}
_STAYS = {"arsenic_adsorber": frozenset({"arsenic"}), "fluoride_adsorber": frozenset({"fluoride"})}


def size_lamp(job: Job) -> Sized:
    """Return an ultraviolet lamp for the peak flow at the transmittance that was measured."""
    page, dose, least = job.page, rule("uv_dose"), rule("uv_least_percent")
    flow = up(job.house.peak_gpm)
    job.write_house()
    page.put("size.uv_gpm", flow, "gpm", "lamp_flow", rule("bath_base_gpm"), gpm=job.house.peak_gpm)
    page.put("size.dose_mj_cm2", dose.value, "mJ/cm2", "lamp_dose", dose)
    through = job.amount("uv_transmittance", "%")
    clear = through.holds(">=", least.value) if through else None
    if through is None:
        page.ask("lamp_untested", least.citation, least=least.value)
    else:
        page.put("size.transmittance_percent", through.low, "%", "lamp_through", PRACTICE)
        page.ask("lamp_clear", least.citation, holds=clear, least=least.value, has=through.low)
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
    _drunk(job)
    return page.sized(job.stage, service_gpm=flow.value)


def size_adsorber(job: Job) -> Sized:
    """Return an adsorber at the tap: its volume by contact, its bed volumes a year, its life."""
    page, flow = job.page, rule("tap_gpm")
    medium = job.media[0]
    page.put("size.medium", medium.medium, "", "medium_code", medium.citation, name=medium.medium)
    page.put("size.service_gpm", flow.value, "gpm", "tap_flow", flow)
    contact = contact_of(job.stage, _STAYS[job.stage])
    if contact is None:
        raise ValueError(f"{job.stage} has no contact time")
    ft3 = contact.minutes * flow.value / number("bed_gal_ft3")
    page.put(
        "size.media_ft3",
        ft3,
        "ft3",
        "contact_bed",
        contact.citation,
        minutes=contact.minutes,
        gpm=flow.value,
    )
    drunk = _drunk(job)
    if drunk is None:
        return page.sized(job.stage, service_gpm=flow.value)
    volumes = drunk * number("days_in_year") / number("bed_gal_ft3") / ft3
    page.put(
        "use_per_year.bed_volumes_per_year",
        volumes,
        "",
        "bed_volumes",
        ARITHMETIC,
        gal=drunk,
        ft3=ft3,
    )
    life = rule(_VOLUMES[job.stage])
    most = rule("adsorber_most_years")
    years = min(life.value / volumes, most.value)
    page.put(
        "size.life_years",
        years,
        "years",
        "adsorber_life",
        life,
        most,
        life=life.value,
        volumes=volumes,
        most=most.value,
    )
    page.warn("adsorber_tested")
    return page.sized(job.stage, service_gpm=flow.value)


def size_specialist(job: Job) -> Sized:
    """Return only the flow that a specialist has to design for."""
    page = job.page
    job.write_house()
    page.warn("specialist_sizes")
    return page.sized(job.stage, service_gpm=job.house.peak_gpm)


def _drunk(job: Job) -> Decimal | None:
    """Write and return the gallons a day at the tap; None: nobody told the people."""
    if job.house.people is None:
        return None
    each = rule("drunk_gal_person")
    drunk = job.house.people * each.value
    job.page.put(
        "size.wanted_gpd",
        drunk,
        "gpd",
        "membrane_wanted",
        each,
        people=job.house.people,
        each=each.value,
    )
    job.page.put(
        "use_per_year.tap_gal_per_year",
        drunk * number("days_in_year"),
        "gal",
        "year",
        ARITHMETIC,
        day=drunk,
    )
    return drunk
