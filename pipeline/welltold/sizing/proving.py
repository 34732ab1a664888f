"""What pump, well and drain have to give for a backwash."""

from __future__ import annotations

from decimal import Decimal

from .job import Job
from .rules import rule
from .sized import PRACTICE


def prove_pump(job: Job, gpm: Decimal) -> None:
    """Write what the pump has to give, and at which pressure."""
    page, pump, psi = job.page, job.pump, rule("pressure_to_prove")
    page.adopt(pump.worked)
    page.conditions.extend(pump.conditions)
    if pump.gpm is None:
        page.ask("backwash_untimed", psi.citation, gpm=gpm)
        return
    fits = pump.carries(gpm)
    page.ask(
        "backwash", PRACTICE, holds=fits, gpm=gpm, floor=Decimal(pump.floor_gpm or 0), pump=pump.gpm
    )
    if fits and not pump.proven:
        page.ask("backwash_pressure", psi.citation, gpm=gpm, psi=psi.value, pump=pump.gpm)


def prove_well(job: Job, gpm: Decimal, minutes: Decimal, gallons: Decimal) -> None:
    """Write whether the well itself keeps up while the bed is washed."""
    gives = job.site.well.yield_gpm
    if gives is None:
        return
    holds = True if gives >= gpm else None
    lacks = max(gallons - gives * minutes, Decimal(0))
    code = "well_keeps" if holds else "well_lags"
    job.page.ask(
        code, PRACTICE, holds=holds, gives=gives, minutes=minutes, gal=gallons, lacks=lacks
    )


def prove_drain(job: Job, each_day: Decimal) -> None:
    """Write what has to be asked where the waste water goes to a septic system."""
    if job.site.home.waste == "septic":
        job.page.ask("septic", PRACTICE, gal=each_day, day=job.house.gal_day or Decimal(0))
