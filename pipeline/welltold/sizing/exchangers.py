"""Anion exchangers for nitrate and uranium."""

from __future__ import annotations

from decimal import Decimal

from .bed import Bed
from .beds import with_volume
from .exchange_bed import brine, exchanger
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, Sized
from .washing import Cycle
from .written import down


def size_anion(job: Job) -> Sized:
    """Return an anion exchanger; standard resin takes all sulfate before nitrate."""
    page = job.page
    job.write_house()
    nitrate = job.high("nitrate", "mg/L", "N")
    sulfate = job.high("sulfate", "mg/L")
    if sulfate is None or nitrate is None:
        page.ask("anion_open", ARITHMETIC)
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    load = anion_load_gpg(nitrate, sulfate)
    per, told = (rule("nitrate_gpg"), rule("sulfate_gpg")), {"nitrate": nitrate, "sulfate": sulfate}
    page.put("settings.load_gpg", load, "gpg", "anion_load", *per, **told)
    if job.house.gal_day is None:
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    by_flow = job.house.peak_gpm / number("anion_gpm_ft3") / number("peak_over_service")
    wanted = _write_volume(job, load, job.house.gal_day, by_flow)
    page.warn("anion_volume")
    if sulfate * number("sulfate_gpg") > nitrate * number("nitrate_gpg"):
        page.warn("anion_selective")
    least = with_volume(job.media[0], job.flow, by_flow)
    return exchanger(job, wanted, lambda bed: _run(job, bed, load, patient=bed == least))


def _write_volume(job: Job, load_gpg: Decimal, gal_day: Decimal, by_flow: Decimal) -> Decimal:
    """Write and return the cubic feet of resin: enough for the days between, and for the flow."""
    page, capacity, share = job.page, rule("anion_grains_ft3"), rule("anion_run_share")
    if load_gpg:
        each = anion_gal_ft3(capacity.value, load_gpg)
        told = {"capacity": capacity.value, "load": load_gpg}
        page.put("size.gal_per_ft3", each, "gal", "anion_each", capacity, **told)
    a_day, days = load_gpg * gal_day, number("anion_days")
    wanted = max(a_day * days / (capacity.value * share.value), by_flow)
    told = {"load": a_day, "days": days, "capacity": capacity.value, "flow": by_flow}
    sources = (capacity, share, rule("anion_gpm_ft3"))
    page.put("size.least_ft3", wanted, "ft3", "anion_resin", *sources, **told)
    return wanted


def anion_load_gpg(nitrate_n_mg_l: Decimal, sulfate_mg_l: Decimal) -> Decimal:
    """Return nitrate as N and sulfate together, grains a gallon as CaCO3."""
    return nitrate_n_mg_l * number("nitrate_gpg") + sulfate_mg_l * number("sulfate_gpg")


def anion_gal_ft3(capacity_grains_ft3: Decimal, load_gpg: Decimal) -> Decimal:
    """Return the gallons that a cubic foot treats until it is used up."""
    return capacity_grains_ft3 / load_gpg


def _run(job: Job, bed: Bed, load_gpg: Decimal, *, patient: bool) -> Cycle:
    """Write the gallons of a run, well before the end of the resin, and its days.

    ``patient``: the tank is no larger than the flow asks for, and may wait up to the longest time.
    """
    page, gal_day = job.page, job.house.gal_day or Decimal(1)
    most = rule("anion_longest_days" if patient else "anion_days")
    if not load_gpg:
        page.put("settings.interval_days", most.value, "days", "interval_fixed", most)
        return brine(job, bed, most.value)
    capacity, part = rule("anion_grains_ft3"), rule("anion_run_share")
    lasts = anion_gal_ft3(capacity.value, load_gpg) * bed.media_ft3 * part.value
    days = max(min(down(lasts / gal_day), most.value), Decimal(1))
    told = {"capacity": capacity.value, "load": load_gpg, "ft3": bed.media_ft3, "part": part.value}
    gallons = min(down(lasts), days * gal_day)
    page.put("settings.run_gal", gallons, "gal", "anion_run", capacity, part, days=days, **told)
    ends = {"gal": lasts, "day": gal_day, "longest": most.value}
    page.put("settings.interval_days", days, "days", "anion_days", most, **ends)
    return brine(job, bed, days)
