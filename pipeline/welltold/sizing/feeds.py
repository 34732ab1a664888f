"""Chemical feeds: the dose that the water asks for, and where the pump is set."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .job import Job
from .rules import needed, number, rule
from .sized import ARITHMETIC, Sized
from .written import down, up

OXIDANT = {
    "chlorine_feed": "chlorine",
    "permanganate_feed": "permanganate",
    "peroxide_feed": "peroxide",
}
_MINUTES_A_DAY = 1440


@dataclass(frozen=True, slots=True)
class Taken:
    """What one thing in the water takes of an oxidant, mg for each mg."""

    oxidant: str
    analyte: str
    basis: str | None
    low: Decimal
    high: Decimal
    citation: str


@dataclass(frozen=True, slots=True)
class Solution:
    """What stands in the tank of a feed pump."""

    chemical: str
    g_l: Decimal
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


@cache
def solution(stage: str) -> Solution:
    """Return the usual solution of a feed; KeyError if it has none."""
    table = {
        row.text("stage"): Solution(row.text("chemical"), needed(row, "g_l"), row.text("citation"))
        for row in read_table("sizing_solutions.csv")
    }
    return table[stage]


def size_feed(job: Job) -> Sized:
    """Return an oxidant feed: demand, dose, and the setting of the pump."""
    taken = list(_taken(job))
    if not taken:
        job.page.ask("demand_open", ARITHMETIC)
        return job.page.sized(job.stage, service_gpm=job.house.peak_gpm)
    demand = sum((amount for _, amount, _ in taken), Decimal(0))
    parts = " + ".join(text for text, _, _ in taken)
    job.page.put(
        "size.demand_mg_l", demand, "mg/L", "demand", *(cited for _, _, cited in taken), parts=parts
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
    return _pumped(job, dose)


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
    return _pumped(job, dose)


def _taken(job: Job) -> Iterator[tuple[str, Decimal, str]]:
    """Yield what each thing in the water takes at most, with its arithmetic and source."""
    for one in demands(OXIDANT[job.stage]):
        amount = job.high(one.analyte, "mg/L", one.basis)
        if amount:
            text = f"{amount.normalize():f} x {one.high.normalize():f}"
            yield text, amount * one.high, one.citation


def _pumped(job: Job, dose: Decimal) -> Sized:
    """Write the feed while water runs, the travel of the pump, and the chemical of a year."""
    page, mixed = job.page, solution(job.stage)
    flow = job.pump.gpm
    job.write_house()
    page.adopt(job.pump.worked)
    page.conditions.extend(job.pump.conditions)
    page.put("size.solution_g_l", mixed.g_l, "g/L", f"solution_{mixed.chemical}", mixed.citation)
    if flow is None:
        page.ask("feed_flow", ARITHMETIC)
    else:
        _setting(job, feed_gpd(dose, flow, mixed.g_l), dose, flow, mixed.g_l)
    if job.house.gal_day is not None:
        litres = dose * job.house.gal_day * Decimal("3.785411784") / 1000 / mixed.g_l
        yearly = litres / Decimal("3.785411784") * number("days_in_year")
        page.put(
            "use_per_year.solution_gal",
            yearly,
            "gal",
            "solution_year",
            ARITHMETIC,
            dose=dose,
            gal=job.house.gal_day,
            strength=mixed.g_l,
        )
    return page.sized(job.stage, service_gpm=job.house.peak_gpm)


def _setting(job: Job, feed: Decimal, dose: Decimal, flow: Decimal, strength: Decimal) -> None:
    """Write how far the pump is opened, and how much water the solution is thinned with."""
    page, pump = job.page, rule("feed_pump_gpd")
    page.put(
        "settings.feed_gpd", feed, "gpd", "feed", ARITHMETIC, dose=dose, gpm=flow, strength=strength
    )
    size = max(pump.value, up(feed / number("feed_most_share")))
    page.put(
        "size.feed_pump_gpd", size, "gpd", "feed_pump", pump, rule("feed_most_share"), feed=feed
    )
    share, water = feed / size, Decimal(0)
    if feed and share < number("feed_least_share"):
        aim = rule("feed_aim_share")
        water = max(down(aim.value * size / feed) - 1, Decimal(0))
        page.put("settings.water_parts", water, "", "thinned", aim, size=size, feed=feed)
    percent = share * (1 + water) * 100
    page.put(
        "settings.feed_percent",
        percent,
        "%",
        "feed_percent",
        ARITHMETIC,
        feed=feed,
        parts=1 + water,
        size=size,
    )


def feed_gpd(dose_mg_l: Decimal, flow_gpm: Decimal, strength_g_l: Decimal) -> Decimal:
    """Return the gallons a day that a feed pump gives while water runs at ``flow_gpm``."""
    return dose_mg_l * flow_gpm * _MINUTES_A_DAY / (strength_g_l * 1000)


def bleach_ml(gallons: Decimal, mg_l: Decimal, percent: Decimal) -> Decimal:
    """Return the bleach for a dose, millilitres; ``percent`` is weight in volume, 1 % = 10 g/L."""
    return mg_l * gallons * Decimal("3.785411784") / (percent * 10)
