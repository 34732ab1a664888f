"""The bed of an anion or tannin exchanger, and its brine."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal

from .bed import Bed
from .beds import with_volume
from .job import Job
from .regeneration import regeneration
from .rules import number, rule
from .sized import ARITHMETIC, Sized
from .washing import Cycle, write_wash
from .writing import write_bed
from .written import up


def exchanger(job: Job, wanted: Decimal, run: Callable[[Bed], Cycle]) -> Sized:
    """Return the smallest exchanger with so much resin, one tank or two."""
    medium = job.media[0]
    bed = with_volume(medium, job.flow, wanted) or with_volume(medium, job.flow, wanted, 2)
    if bed is None:
        job.refuse("too_much_load", ft3=wanted)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    if job.pump.carries(bed.backwash_gpm) is False:
        job.refuse("pump_too_small", pump=job.pump.gpm or Decimal(0), gpm=bed.backwash_gpm)
    write_bed(job, bed)
    fits = write_wash(job, bed, run(bed))
    return job.page.sized(
        job.stage, service_gpm=job.house.peak_gpm, backwash_gpm=bed.backwash_gpm, fits=fits
    )


def brine(job: Job, bed: Bed, days: Decimal) -> Cycle:
    """Write the salt, and return the rhythm of the brine."""
    page, dose = job.page, rule("anion_salt_lb_ft3")
    salt = up(dose.value * bed.media_ft3)
    page.put("settings.salt_lb", salt, "lb", "anion_salt", dose, each=dose.value, ft3=bed.media_ft3)
    page.put(
        "use_per_year.salt_lb_per_year",
        salt * number("days_in_year") / days,
        "lb",
        "salt_year",
        ARITHMETIC,
        salt=salt,
        days=days,
    )
    return regeneration(job, bed, salt, days)
