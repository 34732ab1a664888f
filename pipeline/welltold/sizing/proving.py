"""What pump, well and drain have to give for a backwash."""

from __future__ import annotations

from decimal import Decimal

from ..messages import say
from ..site import Well
from .hydraulics import casing_gal
from .job import Job
from .rules import rule
from .sized import PRACTICE
from .written import told


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


def prove_well(job: Job, gpm: Decimal, minutes: Decimal) -> None:
    """Write whether the well itself keeps up while the bed is washed and rinsed."""
    well, gallons = job.site.well, gpm * minutes
    if well.yield_gpm is None:
        return
    if well.yield_gpm >= gpm:
        job.page.ask("well_keeps", PRACTICE, holds=True, gives=well.yield_gpm, minutes=minutes)
        return
    lacks = gallons - well.yield_gpm * minutes
    told: dict[str, object] = {"gives": well.yield_gpm, "minutes": minutes, "gal": gallons}
    stands = _standing(well)
    job.page.ask("well_lags", PRACTICE, holds=None, lacks=lacks, stands=stands, **told)


def _standing(well: Well) -> str:
    """Return the water that stands in the casing; the pump hangs higher and gets at less of it."""
    if well.depth_ft is None or well.static_ft is None or well.casing_in is None:
        return say("sizing.not_known").text
    gallons = casing_gal(well.casing_in, well.depth_ft - well.static_ft)
    return f"{told('gives', gallons)} gal"


def prove_drain(job: Job, each_day: Decimal) -> None:
    """Write what has to be asked where the waste water goes to a septic system."""
    if job.site.home.waste == "septic":
        job.page.ask("septic", PRACTICE, gal=each_day, day=job.house.gal_day or Decimal(0))
