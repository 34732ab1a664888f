"""A water softener: resin, salt, days, refill, drain, and the sodium that it adds."""

from __future__ import annotations

from decimal import Decimal

from .bed import Bed
from .beds import bed_of, beds, largest_tank, washed
from .job import Job
from .load import Grains, grains
from .regeneration import regeneration
from .rules import number, rule
from .salt import capacity_ft3, dose, full_grains, write_efficiency
from .sized import ARITHMETIC, Sized
from .sodium import write_sodium
from .stock import Medium
from .storage import with_storage
from .washing import write_wash
from .writing import write_bed
from .written import up


def size_softener(job: Job) -> Sized:
    """Return a softener for the high end of the hardness that reaches it."""
    load = _headed(job)
    if load is None or load.a_day is None:
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    wanted = resin_ft3(job, load.a_day)
    resin, *finer = job.media
    bed = large_enough(job, resin, wanted)
    if bed is not None and washed(bed, job.flow):
        return _written(job, bed, load)
    smaller = oftener(resin, job, load.a_day)
    several = _several(job, resin, wanted) if bed is None and not job.in_place else None
    if several is not None and washed(several, job.flow) and not (job.tanks and smaller):
        # a shelf ends before the market does: one tank of it goes ahead of two
        return _written(job, several, load)
    if smaller is not None:
        job.page.warn("washed_oftener", wanted=wanted)
        return _written(job, smaller, load)
    if bed is None:
        job.refuse("too_much_load", ft3=wanted)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    return _refused(job, bed, finer, wanted)


def large_enough(job: Job, resin: Medium, ft3: Decimal, count: int = 1) -> Bed | None:
    """Return the smallest tanks with so much resin and room for the flow; None: there are none."""
    area = job.house.peak_gpm / number("resin_peak_gpm_ft2")
    wanted = (bed for bed in beds(resin, job.flow, count) if bed.media_ft3 >= ft3)
    return next((bed for bed in wanted if bed.area_ft2 >= area), None)


def _several(job: Job, resin: Medium, ft3: Decimal) -> Bed | None:
    """Return the fewest of the largest tanks that hold so much; None: too many of them."""
    largest = job.flow.tanks_for(resin)[-1]
    counts = range(2, int(number("most_tanks")) + 1)
    wanted = (bed_of(resin, largest, job.flow, count) for count in counts)
    return next((bed for bed in wanted if bed.media_ft3 >= ft3), None)


def oftener(resin: Medium, job: Job, grains_a_day: Decimal) -> Bed | None:
    """Return the largest tank that the pump washes, if it lasts for the fewest days in print."""
    tank, least = largest_tank(resin, job.flow), large_enough(job, resin, by_flow(job))
    if tank is None or least is None or tank.media_ft3 < least.tank.media_ft3:
        return None
    bed = bed_of(resin, tank, job.flow)
    days = number("soft_least_days") + number("reserve_days")
    return bed if full_grains(job, bed) >= days * grains_a_day else None


def resin_ft3(job: Job, grains_a_day: Decimal) -> Decimal:
    """Return the resin that days and peak flow ask for."""
    days = number("soft_days") + number("reserve_days")
    capacity = capacity_ft3(job.salt_lb_ft3)
    by_load = grains_a_day * days / capacity
    wanted = max(by_load, by_flow(job))
    limits = ("soft_days", "reserve_days", "resin_gpm_ft3", "resin_peak_gpm_ft3")
    job.page.put(
        "size.least_ft3",
        wanted,
        "ft3",
        "resin",
        *map(rule, (*limits, "resin_peak_gpm_ft2")),
        load=grains_a_day,
        days=days,
        capacity=capacity,
        peak=by_flow(job),
    )
    return wanted


def by_flow(job: Job) -> Decimal:
    """Return the cubic feet of resin that the flow of the house asks for."""
    by_peak = job.house.peak_gpm / number("resin_peak_gpm_ft3")
    return max(by_peak, (job.house.sustained_gpm or Decimal(0)) / number("resin_gpm_ft3"))


def _refused(job: Job, bed: Bed, finer: list[Medium], wanted: Decimal) -> Sized:
    """Return why the pump cannot wash it, with finer resin, twins or a storage tank instead."""
    job.refuse("pump_too_small", pump=job.pump.gpm or Decimal(0), gpm=bed.backwash_gpm)
    others = [large_enough(job, medium, wanted) for medium in finer]
    others += [large_enough(job, medium, wanted, 2) for medium in (bed.medium, *finer)]
    ways = [_anew(job.afresh(), one) for one in others if one is not None and washed(one, job.flow)]
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
            "settings.dial_gpg", dialled, "gpg", "dialled", ARITHMETIC, gpg=load.compensated_gpg
        )
        write_sodium(job, load.plain_gpg)
    return load


def _anew(job: Job, bed: Bed) -> Sized:
    """Return another way to build it, on a sheet of its own."""
    load = _headed(job)
    if load is None:
        raise ValueError("a softener without a load cannot be refused")
    return _written(job, bed, load)


def _written(job: Job, bed: Bed, load: Grains) -> Sized:
    write_bed(job, bed)
    patient = bed == large_enough(job, bed.medium, by_flow(job))
    salt = dose(job, bed, load, patient=patient)
    cycle = regeneration(job, bed, salt.lb, salt.days)
    fits = write_wash(job, bed, cycle)
    write_efficiency(job, salt, bed.tanks * cycle.gallons(bed.backwash_gpm))
    return job.page.sized(
        job.stage,
        service_gpm=job.house.peak_gpm,
        backwash_gpm=bed.backwash_gpm,
        fits=fits,
    )
