"""Chemical feeds: the dose that the water asks for, and where the pump is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .feed_pump import pumped
from .job import Job
from .rules import Rule, needed, number, rule
from .sized import ARITHMETIC, Sized
from .written import shown

OXIDANT = {
    "chlorine_feed": "chlorine",
    "permanganate_feed": "permanganate",
    "peroxide_feed": "peroxide",
}


@dataclass(frozen=True, slots=True)
class Taken:
    """What one thing in the water takes of an oxidant, mg for each mg."""

    oxidant: str
    analyte: str
    basis: str | None
    low: Decimal
    high: Decimal
    citation: str


@cache
def demands(oxidant: str) -> tuple[Taken, ...]:
    """Return what takes up an oxidant, from ``sizing_oxidants.csv``."""
    return tuple(
        Taken(
            oxidant,
            row.text("analyte"),
            row.optional("basis"),
            needed(row, "low"),
            needed(row, "high"),
            row.text("citation"),
        )
        for row in read_table("sizing_oxidants.csv")
        if row.text("oxidant") == oxidant
    )


def size_feed(job: Job) -> Sized:
    """Return an oxidant feed: demand, dose, and the setting of the pump."""
    page, oxidant = job.page, OXIDANT[job.stage]
    known = list(_known(job, oxidant))
    if not known:
        page.ask("demand_open", ARITHMETIC)
        return page.sized(job.stage, service_gpm=job.house.peak_gpm)
    demand = sum((high * one.high for one, high in known), Decimal(0))
    terms = [f"{shown(high)} x {shown(one.high)}" for one, high in known if high]
    parts = " + ".join(terms) or "0"
    sources = [one.citation for one, _ in known]
    page.put(f"size.{oxidant}_demand_mg_l", demand, "mg/L", "demand", *sources, parts=parts)
    more, residual = rule("demand_reserve"), _residual(job)
    left = residual.value if residual else Decimal(0)
    dose = demand * more.value + left
    told = {"demand": demand, "more": more.value, "left": left}
    page.put("settings.dose_mg_l", dose, "mg/L", "dose", more, *filter(None, [residual]), **told)
    if residual is not None:
        page.warn("dose_by_test", left=left)
    return pumped(job, dose)


def _residual(job: Job) -> Rule | None:
    """Return the chlorine that has to be left over; None for another oxidant."""
    if job.stage != "chlorine_feed":
        return None
    return rule("disinfect_residual" if "bacteria" in job.needs else "chlorine_residual")


def size_soda_ash(job: Job) -> Sized:
    """Return a soda ash feed, set by the carbon dioxide that reaches it."""
    gas = job.high("carbon_dioxide", "mg/L")
    if gas is None:
        job.page.ask("co2_open", ARITHMETIC)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    each = rule("soda_ash_co2")
    dose = gas * each.value
    job.page.put("settings.dose_mg_l", dose, "mg/L", "soda_dose", each, gas=gas, each=each.value)
    salt = rule("soda_ash_sodium")
    job.page.put(
        "size.sodium_added_mg_l",
        dose * salt.value,
        "mg/L",
        "soda_sodium",
        salt,
        dose=dose,
        each=salt.value,
    )
    return pumped(job, dose)


def _known(job: Job, oxidant: str) -> Iterator[tuple[Taken, Decimal]]:
    """Yield what takes up the oxidant, as far as it is known, with how much of it there is.

    What was not found counts nothing where the reserve of the dose covers it.
    """
    for one in demands(oxidant):
        amount = job.amount(one.analyte, "mg/L", one.basis)
        if amount is None or amount.high is None:
            continue
        unseen = not amount.low and amount.high * one.high <= number("demand_unseen_mg_l")
        yield one, Decimal(0) if unseen else amount.high
