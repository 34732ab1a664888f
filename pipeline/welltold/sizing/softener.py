"""A water softener: resin, salt, days, refill, drain, and the sodium that it adds."""

from __future__ import annotations

from decimal import Decimal

from .beds import Bed, bed_of
from .job import Job
from .load import Grains, grains
from .rules import between, line, number, rule, stage_media, tanks
from .salt import Dose, dose, write_sodium
from .sized import ARITHMETIC, PRACTICE, Sized
from .storage import with_storage
from .washing import Cycle, write_bed, write_wash
from .written import up


def size_softener(job: Job) -> Sized:
    """Return a softener for the high end of the hardness that reaches it."""
    load = _headed(job)
    if load is None or load.a_day is None:
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    wanted = resin_ft3(job, load.a_day)
    bed = _bed(job, wanted)
    if bed is None:
        job.page.refuse("too_much_load", ft3=wanted)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    if job.pump.carries(bed.backwash_gpm) is not False:
        return _written(job, bed, load, load.a_day)
    return _refused(job, bed, wanted)


def resin_ft3(job: Job, grains_a_day: Decimal) -> Decimal:
    """Return the resin that days and peak flow ask for."""
    days = number("soft_days") + number("reserve_days")
    capacity = capacity_ft3(number("salt_usual_lb_ft3"))
    by_load = grains_a_day * days / capacity
    by_peak = job.house.peak_gpm / number("resin_peak_gpm_ft3")
    by_use = (job.house.sustained_gpm or Decimal(0)) / number("resin_gpm_ft3")
    wanted = max(by_load, by_peak, by_use)
    sources = (rule("soft_days"), rule("reserve_days"), rule("resin_peak_gpm_ft3"), PRACTICE)
    job.page.put(
        "size.least_ft3",
        wanted,
        "ft3",
        "resin",
        *sources,
        load=grains_a_day,
        days=days,
        capacity=capacity,
        peak=by_peak,
    )
    return wanted


def capacity_ft3(salt_lb_ft3: Decimal) -> Decimal:
    """Return the grains that a cubic foot takes up after a dose of salt; the ends hold beyond."""
    points = line("sizing_salt.csv", "salt_lb_ft3", "grains_ft3")
    inside = min(max(salt_lb_ft3, points[0].x), points[-1].x)
    found = between(points, inside)
    return points[0].y if found is None else found


def _bed(job: Job, wanted: Decimal, which: int = 0, count: int = 1) -> Bed | None:
    """Return the smallest tank with so much resin; None: there is none."""
    medium = stage_media(job.stage, job.needs)[which]
    beds = (bed_of(medium, tank, job.flow, count) for tank in tanks())
    return next((bed for bed in beds if bed.media_ft3 >= wanted), None)


def _refused(job: Job, bed: Bed, wanted: Decimal) -> Sized:
    """Return why the pump cannot wash it, with finer resin, twins or a storage tank instead."""
    job.page.refuse("pump_too_small", pump=job.pump.gpm or Decimal(0), gpm=bed.backwash_gpm)
    others = [_bed(job, wanted, 1), _bed(job, wanted, 0, 2), _bed(job, wanted, 1, 2)]
    ways = [
        _anew(job.afresh(), other)
        for other in others
        if other is not None and job.pump.carries(other.backwash_gpm)
    ]
    ways.append(_anew(with_storage(job, bed.backwash_gpm), bed))
    return job.page.sized(
        job.stage,
        service_gpm=job.house.peak_gpm,
        backwash_gpm=bed.backwash_gpm,
        fits=False,
        instead=tuple(ways),
    )


def _headed(job: Job) -> Grains | None:
    """Write the hardness to dial in and the sodium; None if the hardness has no upper end."""
    job.write_house()
    load = grains(job)
    if load is not None:
        dialled = up(load.compensated_gpg)
        page = job.page
        page.put(
            "settings.hardness_gpg", dialled, "gpg", "dialled", ARITHMETIC, gpg=load.compensated_gpg
        )
        write_sodium(job, load.plain_gpg)
    return load


def _anew(job: Job, bed: Bed) -> Sized:
    """Return another way to build it, on a sheet of its own."""
    load = _headed(job)
    if load is None or load.a_day is None:
        raise ValueError("a softener without a load cannot be refused")
    return _written(job, bed, load, load.a_day)


def _written(job: Job, bed: Bed, load: Grains, a_day: Decimal) -> Sized:
    write_bed(job, bed)
    salt = dose(job, bed, a_day, load.iron)
    cycle = _cycle(job, bed, salt)
    fits = write_wash(job, bed, cycle)
    return job.page.sized(
        job.stage,
        service_gpm=job.house.peak_gpm,
        backwash_gpm=bed.backwash_gpm,
        fits=fits,
    )


def _cycle(job: Job, bed: Bed, salt: Dose) -> Cycle:
    """Write the minutes of one regeneration and return its rhythm; figures of one tank."""
    page, each = job.page, salt.lb / bed.tanks
    per_gal, refill = rule("salt_lb_gal"), rule("refill_gpm")
    refill_gal = each / per_gal.value
    page.put(
        "settings.refill_minutes",
        up(refill_gal / refill.value),
        "min",
        "refill",
        per_gal,
        refill,
        salt=each,
        per=per_gal.value,
        gpm=refill.value,
    )
    brine = number("softener_brine_minutes")
    page.put(
        "settings.brine_minutes", brine, "min", "fixed_minutes", rule("softener_brine_minutes")
    )
    page.put(
        "settings.rinse_minutes",
        number("softener_rinse_minutes"),
        "min",
        "fixed_minutes",
        rule("softener_rinse_minutes"),
    )
    slow = number("slow_rinse_gpm_ft3") * bed.fill_ft3 * brine
    return Cycle(
        salt.days,
        number("softener_backwash_minutes"),
        number("softener_rinse_minutes"),
        slow,
    )
