"""The contact tank: minutes for oxidation, or chlorine times minutes against germs."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from ..messages import say
from .job import Job
from .rules import line, rule
from .sized import ARITHMETIC, Sized
from .written import shown

if TYPE_CHECKING:
    from ..treatment.water import Amount

_PH = (Decimal(6), Decimal(9))


def size_retention(job: Job) -> Sized:
    """Return a contact tank; against germs only where a published figure covers the water."""
    page, factor = job.page, rule("baffle_ports")
    flow = job.house.peak_gpm
    page.put("size.baffling", factor.value, "", "baffling", factor)
    job.write_house()
    minutes = rule("contact_minutes")
    nominal = flow * minutes.value
    page.put(
        "size.oxidation_gal", nominal, "gal", "oxidation", minutes, gpm=flow, minutes=minutes.value
    )
    gallons = nominal
    if "bacteria" in job.needs:
        germs = _against_germs(job, flow, factor.value)
        if germs is None:
            return page.sized(job.stage, service_gpm=flow)
        gallons = max(nominal, germs)
    page.put("size.retention_gal", gallons, "gal", "retention", ARITHMETIC)
    page.put(
        "size.contact_minutes",
        gallons * factor.value / flow,
        "min",
        "real_contact",
        factor,
        gal=gallons,
        factor=factor.value,
        gpm=flow,
    )
    plain = rule("baffle_plain")
    page.ask(
        "ports",
        f"{factor.citation}; {plain.citation}",
        gal=gallons * factor.value / plain.value,
    )
    page.warn("contact_which", nominal=minutes.value)
    return page.sized(job.stage, service_gpm=flow)


def _against_germs(job: Job, flow: Decimal, factor: Decimal) -> Decimal | None:
    """Write and return the tank for the contact asked for; None where no figure covers it."""
    page, celsius = job.page, job.celsius
    table = line("sizing_contact_ct.csv", "celsius", "ct")
    ph = job.amount("ph", "SU")
    covered = _covered(ph)
    warm = None if celsius is None else celsius >= table[0].x
    unknown = say("sizing.not_known").text
    has_ph = f"{shown(ph.low)} - {shown(ph.high)}" if ph and ph.high is not None else unknown
    page.ask("contact_ph", table[-1].citation, holds=covered, has=has_ph)
    has_warm = unknown if celsius is None else f"{shown(celsius)} C"
    page.ask("contact_warm", table[0].citation, holds=warm, has=has_warm)
    if covered is False or warm is False:
        page.refuse("contact_uncovered")
    if not covered or not warm or celsius is None:
        return None
    point = max((one for one in table if one.x <= celsius), key=lambda one: one.x)
    residual = rule("disinfect_residual")
    page.put("settings.residual_mg_l", residual.value, "mg/L", "residual", residual)
    page.put("size.ct_mg_min_l", point.y, "mg/L min", "ct", point.citation, celsius=celsius)
    gallons = contact_gal(point.y, residual.value, flow, factor)
    page.put(
        "size.disinfection_gal",
        gallons,
        "gal",
        "ct_gal",
        point.citation,
        ct=point.y,
        gpm=flow,
        residual=residual.value,
        factor=factor,
    )
    return gallons


def _covered(ph: Amount | None) -> bool | None:
    """Return whether the published figures hold at this pH; None where it may lie outside."""
    if ph is None:
        return None
    answers = {ph.holds(">=", _PH[0]), ph.holds("<=", _PH[1])}
    return False if False in answers else None if None in answers else True


def contact_gal(ct: Decimal, residual_mg_l: Decimal, gpm: Decimal, factor: Decimal) -> Decimal:
    """Return the tank for a contact of ``ct`` (mg/L times minutes), US gallons."""
    return ct * gpm / (residual_mg_l * factor)
