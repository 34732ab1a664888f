"""Tannin exchangers."""

from __future__ import annotations

from .bed import Bed
from .exchange_bed import brine, exchanger
from .job import Job
from .rules import number, rule
from .sized import Sized
from .washing import Cycle


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
        return brine(job, bed, days.value)

    return exchanger(job, wanted, run)
