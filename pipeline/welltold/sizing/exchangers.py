"""Anion exchangers for nitrate and uranium, and tannin exchangers."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from .beds import Bed, bed_of
from .job import Job
from .rules import number, rule, stage_media, tanks
from .sized import ARITHMETIC, Sized
from .washing import Cycle, write_bed, write_wash
from .written import down, up


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
    page.put(
        "settings.load_gpg",
        load,
        "gpg",
        "anion_load",
        rule("nitrate_gpg"),
        rule("sulfate_gpg"),
        nitrate=nitrate,
        sulfate=sulfate,
    )
    capacity = rule("anion_grains_ft3")
    if job.house.gal_day is None:
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    a_day = load * job.house.gal_day
    by_load = a_day * number("anion_days") / (capacity.value * number("anion_run_share"))
    by_flow = job.house.peak_gpm / number("anion_gpm_ft3") / number("peak_over_service")
    wanted = max(by_load, by_flow)
    page.put(
        "size.least_ft3",
        wanted,
        "ft3",
        "anion_resin",
        capacity,
        rule("anion_run_share"),
        rule("anion_gpm_ft3"),
        load=a_day,
        days=number("anion_days"),
        capacity=capacity.value,
        flow=by_flow,
    )
    page.warn("anion_volume")
    return _exchanger(job, wanted, lambda bed: _run(job, bed, load))


def anion_load_gpg(nitrate_n_mg_l: Decimal, sulfate_mg_l: Decimal) -> Decimal:
    """Return nitrate as N and sulfate together, grains a gallon as CaCO3."""
    return nitrate_n_mg_l * number("nitrate_gpg") + sulfate_mg_l * number("sulfate_gpg")


def anion_gal_ft3(capacity_grains_ft3: Decimal, load_gpg: Decimal) -> Decimal:
    """Return the gallons that a cubic foot treats until it is used up."""
    return capacity_grains_ft3 / load_gpg


def size_tannin(job: Job) -> Sized:
    """Return a tannin exchanger by people; it is brined every few days."""
    page, each = job.page, rule("tannin_ft3_people")
    job.write_house()
    if job.house.people is None:
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    wanted = max(job.house.people * each.value, job.house.peak_gpm / number("anion_gpm_ft3") / 2)
    page.put(
        "size.least_ft3",
        wanted,
        "ft3",
        "tannin_resin",
        each,
        rule("anion_gpm_ft3"),
        people=job.house.people,
        each=each.value,
    )
    days = rule("tannin_days")

    def run(bed: Bed) -> Cycle:
        page.put("settings.interval_days", days.value, "days", "interval_fixed", days)
        return _brine(job, bed, days.value)

    return _exchanger(job, wanted, run)


def _exchanger(job: Job, wanted: Decimal, run: Callable[[Bed], Cycle]) -> Sized:
    medium = stage_media(job.stage, job.needs)[0]
    beds = (bed_of(medium, tank, job.flow, count) for count in (1, 2) for tank in tanks())
    bed = next((one for one in beds if one.media_ft3 >= wanted), None)
    if bed is None:
        job.page.refuse("too_much_load", ft3=wanted)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    if job.pump.carries(bed.backwash_gpm) is False:
        job.page.refuse("pump_too_small", pump=job.pump.gpm or Decimal(0), gpm=bed.backwash_gpm)
    write_bed(job, bed)
    fits = write_wash(job, bed, run(bed))
    return job.page.sized(
        job.stage, service_gpm=job.house.peak_gpm, backwash_gpm=bed.backwash_gpm, fits=fits
    )


def _run(job: Job, bed: Bed, load_gpg: Decimal) -> Cycle:
    """Write the gallons of a run, well before the end of the resin, and its days."""
    page, capacity, part = job.page, rule("anion_grains_ft3"), rule("anion_run_share")
    gal_day = job.house.gal_day or Decimal(1)
    gallons = (
        anion_gal_ft3(capacity.value, load_gpg) * bed.media_ft3 * part.value
        if load_gpg
        else Decimal(0)
    )
    page.put(
        "settings.run_gal",
        down(gallons),
        "gal",
        "anion_run",
        capacity,
        part,
        capacity=capacity.value,
        load=load_gpg,
        ft3=bed.media_ft3,
        part=part.value,
    )
    longest = rule("anion_longest_days")
    days = (
        max(min(down(gallons / gal_day), longest.value), Decimal(1)) if load_gpg else longest.value
    )
    page.put(
        "settings.interval_days",
        days,
        "days",
        "anion_days",
        longest,
        gal=gallons,
        day=gal_day,
        longest=longest.value,
    )
    return _brine(job, bed, days)


def _brine(job: Job, bed: Bed, days: Decimal) -> Cycle:
    page, dose = job.page, rule("anion_salt_lb_ft3")
    salt = up(dose.value * bed.media_ft3)
    page.put("settings.salt_lb", salt, "lb", "anion_salt", dose, each=dose.value, ft3=bed.media_ft3)
    page.put(
        "use_per_year.salt_lb",
        salt * number("days_in_year") / days,
        "lb",
        "salt_year",
        ARITHMETIC,
        salt=salt,
        days=days,
    )
    slow = number("slow_rinse_gpm_ft3") * bed.fill_ft3 * number("softener_brine_minutes")
    return Cycle(days, number("softener_backwash_minutes"), number("softener_rinse_minutes"), slow)
