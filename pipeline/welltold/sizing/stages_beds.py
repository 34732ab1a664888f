"""Filters with a bed that is washed: the bed, and other ways to build it."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from .bed import Bed
from .beds import carries, choose_bed, fuller, parallel_bed, twin_bed
from .job import Job
from .sized import Sized
from .stock import Medium
from .storage import with_storage
from .washing import Cycle, write_wash
from .writing import write_bed

Rhythm = Callable[[Job, Bed], Cycle]
"""Writes how often a bed is washed, with its reason, and returns it."""
Extra = Callable[[Job, Bed, Cycle], None]


def size_bed(job: Job, rhythm: Rhythm, extra: Extra | None = None) -> Sized:
    """Return a filter: one tank where the pump washes it, else why not and what else would do."""
    media = tuple(one for one in job.media if job.flow.tanks_for(one)) or job.media
    chosen = choose_bed(media[0], job.flow)
    several = parallel_bed(media[0], job.flow) if chosen is None and not job.in_place else None
    if several is not None:
        return written(job, several, rhythm, extra)
    if chosen is None:
        job.refuse("too_much_flow", peak=job.house.peak_gpm)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    bed, fits = chosen
    if fits is not False:
        return written(job, _fullest(job, bed, media), rhythm, extra)
    job.refuse("pump_too_small", pump=job.pump.gpm or 0, gpm=bed.backwash_gpm)
    whole = written(job, bed, rhythm, extra)
    instead = tuple(_instead(job, media, bed, rhythm, extra))
    return job.page.sized(
        job.stage,
        service_gpm=whole.service_gpm,
        backwash_gpm=bed.backwash_gpm,
        fits=False,
        instead=instead,
    )


def _fullest(job: Job, bed: Bed, media: tuple[Medium, ...]) -> Bed:
    """Return the bed, or one of a lighter medium where that carries more of the house."""
    if carries(bed, job.flow):
        return bed
    for medium in media[1:]:
        bed = fuller(medium, job.flow, bed) or bed
    return bed


def _instead(
    job: Job, media: tuple[Medium, ...], bed: Bed, rhythm: Rhythm, extra: Extra | None
) -> Iterator[Sized]:
    """Yield the other ways: twins, then a lighter medium, then a storage tank and a booster."""
    twins = twin_bed(media[0], job.flow)
    if twins is not None:
        yield written(job.afresh(), twins, rhythm, extra)
    for medium in media[1:]:
        if medium.backwash >= media[0].backwash:
            continue
        lighter = choose_bed(medium, job.flow)
        built = (
            _fullest(job, lighter[0], media)
            if lighter and lighter[1]
            else twin_bed(medium, job.flow)
        )
        if built is not None:
            yield written(job.afresh(), built, rhythm, extra)
    yield written(with_storage(job, bed.backwash_gpm), bed, rhythm, extra)


def written(job: Job, bed: Bed, rhythm: Rhythm, extra: Extra | None) -> Sized:
    """Return a bed with all its figures."""
    write_bed(job, bed)
    cycle = rhythm(job, bed)
    fits = write_wash(job, bed, cycle)
    if extra is not None:
        extra(job, bed, cycle)
    return job.page.sized(
        job.stage,
        service_gpm=job.house.peak_gpm,
        backwash_gpm=bed.backwash_gpm,
        fits=fits,
    )
