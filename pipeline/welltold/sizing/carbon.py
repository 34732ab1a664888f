"""Carbon: a bed that is washed, or two in a row where the time in the bed decides."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .bed import Bed
from .beds import with_volume
from .iron_load import days_by_load, wash
from .job import Job
from .rules import needed, number
from .sized import ARITHMETIC, PRACTICE, Sized
from .stages_beds import size_bed
from .washing import Cycle
from .writing import write_bed


@dataclass(frozen=True, slots=True)
class Contact:
    """How long water must stay in a bed for one need."""

    minutes: Decimal
    tanks: int
    at: str
    """``peak`` or ``sustained``: the flow at which the time counts."""
    citation: str


@cache
def contact_of(stage: str, needs: frozenset[str]) -> Contact | None:
    """Return the longest contact that these needs ask of a stage; None if they ask for none."""
    rows = [
        Contact(
            needed(row, "minutes"),
            int(needed(row, "tanks")),
            row.choice("at", frozenset({"peak", "sustained"})),
            row.text("citation"),
        )
        for row in read_table("sizing_contact.csv")
        if row.text("stage") == stage and row.text("need") in needs
    ]
    return max(rows, key=lambda row: (row.minutes * row.tanks, row.tanks), default=None)


def bed_minutes(ft3: Decimal, gpm: Decimal) -> Decimal:
    """Return the empty-bed contact time in minutes."""
    return ft3 * number("bed_gal_ft3") / gpm


def size_carbon(job: Job) -> Sized:
    """Return a carbon filter; for VOC and PFAS two tanks, one behind the other."""
    contact = contact_of(job.stage, job.needs)
    if contact is None:
        return size_bed(job, _rhythm)
    gpm = job.house.peak_gpm
    if contact.at == "sustained" and job.house.sustained_gpm is not None:
        gpm = job.house.sustained_gpm
    wanted = contact.minutes * gpm / number("bed_gal_ft3")
    job.page.put(
        "size.least_ft3",
        wanted,
        "ft3",
        "contact_bed",
        contact.citation,
        minutes=contact.minutes,
        gpm=gpm,
    )
    if contact.tanks > 1:
        return _in_a_row(job, contact, wanted)
    return size_bed(replace(job, least_ft3=wanted), _rhythm)


def _rhythm(job: Job, bed: Bed) -> Cycle:
    return wash(days_by_load(job, bed, number("carbon_days"), "carbon_days"))


def _in_a_row(job: Job, contact: Contact, wanted: Decimal) -> Sized:
    """Return two equal tanks in a row; they are rinsed at start-up and not washed after that."""
    page = job.page
    medium = job.media[0]
    bed = with_volume(medium, job.flow, wanted, contact.tanks)
    if bed is None:
        job.refuse("too_much_flow", peak=job.house.peak_gpm)
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    write_bed(job, bed)
    page.put("size.in_a_row", True, "", "in_a_row", contact.citation)  # noqa: FBT003 - a figure that is yes
    reached = bed_minutes(bed.media_ft3, job.house.peak_gpm)
    page.ask(
        "contact_reached",
        contact.citation,
        holds=reached >= contact.minutes,
        minutes=reached,
        wants=contact.minutes,
    )
    page.warn("sample_between")
    page.ask("start_rinse", PRACTICE, gpm=bed.backwash_gpm)
    if job.house.gal_day is not None:
        volumes = job.house.gal_day * number("days_in_year") / number("bed_gal_ft3") / bed.media_ft3
        page.put(
            "use_per_year.bed_volumes_per_year",
            volumes,
            "",
            "bed_volumes",
            ARITHMETIC,
            gal=job.house.gal_day,
            ft3=bed.media_ft3,
        )
    return page.sized(job.stage, service_gpm=job.house.peak_gpm)
