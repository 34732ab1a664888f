"""A bed written down: its tank, its media, and the flows that it carries."""

from __future__ import annotations

from decimal import Decimal

from ..messages import say
from .bed import Bed
from .hydraulics import area_ft2
from .job import Job
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE


def write_bed(job: Job, bed: Bed) -> None:
    """Write the tank, the bed and the flows that it carries."""
    page, medium, inches = job.page, bed.medium, bed.tank.diameter_in
    source = f"{medium.citation}; {bed.tank.citation}"
    name = say(f"sizing.medium_{medium.medium}").text
    page.put("size.medium", medium.medium, "", "medium", medium.citation, name=name)
    page.put("size.tanks", Decimal(bed.tanks), "", "tanks", PRACTICE)
    page.put("size.tank_in", inches, "in", "tank", source, height=bed.tank.height_in)
    page.put("size.tank_height_in", bed.tank.height_in, "in", "tank_height", bed.tank.citation)
    page.put("size.media_ft3", bed.fill_ft3, "ft3", "media_each", bed.tank.citation)
    page.put(
        "size.media_ft3_total",
        bed.media_ft3,
        "ft3",
        "media",
        ARITHMETIC,
        tanks=Decimal(bed.tanks),
        each=bed.fill_ft3,
    )
    page.put(
        "size.bed_depth_in",
        bed.depth_in,
        "in",
        "bed_depth",
        ARITHMETIC,
        ft3=bed.fill_ft3,
        area=area_ft2(inches),
    )
    page.put(
        "size.freeboard_in",
        bed.freeboard_in,
        "in",
        "freeboard",
        rule("gravel_in"),
        height=bed.tank.height_in,
        gravel=number("gravel_in"),
        depth=bed.depth_in,
    )
    _write_flows(job, bed)


def _write_flows(job: Job, bed: Bed) -> None:
    page = job.page
    job.write_house()
    if bed.service_gpm is not None and bed.medium.service is not None:
        page.put(
            "size.carries_gpm",
            bed.service_gpm,
            "gpm",
            "carries",
            bed.medium.citation,
            area=bed.area_ft2,
            rate=bed.medium.service,
        )
    if bed.peak_gpm is not None and round(bed.peak_gpm, 1) < job.house.peak_gpm:
        page.warn("peaks_pass", carries=bed.peak_gpm, peak=job.house.peak_gpm)
    minutes = bed.media_ft3 * number("bed_gal_ft3") / job.house.peak_gpm
    page.put(
        "size.contact_minutes",
        minutes,
        "min",
        "bed_minutes",
        ARITHMETIC,
        ft3=bed.media_ft3,
        gpm=job.house.peak_gpm,
    )
