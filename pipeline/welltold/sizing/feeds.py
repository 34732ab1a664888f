"""Chemical feeds: the dose that the water asks for, and where the pump is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .feed_pump import pumped
from .job import Job
from .rules import needed, rule
from .sized import ARITHMETIC, Sized

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
    taken = list(_taken(job))
    if not taken:
        job.page.ask("demand_open", ARITHMETIC)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    demand = sum((amount for _, amount, _ in taken), Decimal(0))
    parts = " + ".join(text for text, _, _ in taken)
    job.page.put(
        f"size.{OXIDANT[job.stage]}_demand_mg_l",
        demand,
        "mg/L",
        "demand",
        *(cited for _, _, cited in taken),
        parts=parts,
    )
    more = rule("demand_reserve")
    residual = rule("chlorine_residual") if job.stage == "chlorine_feed" else None
    left = residual.value if residual else Decimal(0)
    dose = demand * more.value + left
    sources = (more, *((residual,) if residual else ()))
    job.page.put(
        "settings.dose_mg_l",
        dose,
        "mg/L",
        "dose",
        *sources,
        demand=demand,
        more=more.value,
        left=left,
    )
    if job.stage == "chlorine_feed":
        job.page.warn("dose_by_test")
    return pumped(job, dose)


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


def _taken(job: Job) -> Iterator[tuple[str, Decimal, str]]:
    """Yield what each thing in the water takes at most, with its arithmetic and source."""
    for one in demands(OXIDANT[job.stage]):
        amount = job.high(one.analyte, "mg/L", one.basis)
        if amount:
            text = f"{amount.normalize():f} x {one.high.normalize():f}"
            yield text, amount * one.high, one.citation
