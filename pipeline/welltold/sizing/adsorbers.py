"""Adsorbers for arsenic and fluoride: at the tap, or for the whole house where that is wished."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from .bed import Bed
from .carbon import Contact, contact_of
from .iron_load import wash
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, Sized
from .small import write_drunk
from .stages_beds import size_bed
from .washing import Cycle

_VOLUMES: Mapping[str, str] = {
    "arsenic_adsorber": "arsenic_volumes",
    "fluoride_adsorber": "fluoride_volumes",
}
_STAYS: Mapping[str, frozenset[str]] = {
    "arsenic_adsorber": frozenset({"arsenic"}),
    "fluoride_adsorber": frozenset({"fluoride"}),
}


def size_adsorber(job: Job) -> Sized:
    """Return an adsorber by its time of contact, with its bed volumes a year and its life."""
    contact = contact_of(job.stage, _STAYS[job.stage])
    if contact is None:
        raise ValueError(f"{job.stage} has no contact time")
    if job.site.wishes.scope == "whole_house":
        return _for_the_house(job, contact)
    page, flow, medium = job.page, rule("tap_gpm"), job.media[0]
    page.put("size.medium", medium.medium, "", "medium_code", medium.citation, name=medium.medium)
    page.put("size.service_gpm", flow.value, "gpm", "tap_flow", flow)
    ft3 = _volume(job, contact, flow.value, "media_ft3")
    drunk = write_drunk(job)
    if drunk is not None:
        _write_life(job, drunk, ft3)
    return page.sized(job.stage, service_gpm=flow.value)


def _for_the_house(job: Job, contact: Contact) -> Sized:
    """Return a bed in the main line; it is washed now and then to loosen it."""
    wanted = _volume(job, contact, job.house.peak_gpm, "least_ft3")

    def rhythm(inner: Job, _: Bed) -> Cycle:
        days = rule("adsorber_wash_days")
        inner.page.put("settings.interval_days", days.value, "days", "interval_fixed", days)
        return wash(days.value)

    def life(inner: Job, bed: Bed, _: Cycle) -> None:
        if inner.house.gal_day is not None:
            _write_life(inner, inner.house.gal_day, bed.media_ft3)

    return size_bed(replace(job, least_ft3=wanted), rhythm, life)


def _volume(job: Job, contact: Contact, gpm: Decimal, name: str) -> Decimal:
    ft3 = contact.minutes * gpm / number("bed_gal_ft3")
    told = {"minutes": contact.minutes, "gpm": gpm}
    job.page.put(f"size.{name}", ft3, "ft3", "contact_bed", contact.citation, **told)
    return ft3


def _write_life(job: Job, gal_day: Decimal, ft3: Decimal) -> None:
    """Write bed volumes a year and the years until the low end in print is reached."""
    page, life, most = job.page, rule(_VOLUMES[job.stage]), rule("adsorber_most_years")
    volumes = gal_day * number("days_in_year") / number("bed_gal_ft3") / ft3
    of, told = "use_per_year.bed_volumes_per_year", {"gal": gal_day, "ft3": ft3}
    page.put(of, volumes, "", "bed_volumes", ARITHMETIC, **told)
    years = min(life.value / volumes, most.value)
    ends = {"life": life.value, "volumes": volumes, "most": most.value}
    page.put("size.life_years", years, "years", "adsorber_life", life, most, **ends)
    page.warn("adsorber_tested")
