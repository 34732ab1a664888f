"""The solution of a chemical feed, and where its pump is set."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .job import Job
from .rules import needed, number, rule
from .sized import ARITHMETIC, Sized
from .written import down, up

_MINUTES_A_DAY = 1440


@dataclass(frozen=True, slots=True)
class Solution:
    """What stands in the tank of a feed pump."""

    chemical: str
    g_l: Decimal
    citation: str


@cache
def solution(stage: str) -> Solution:
    """Return the usual solution of a feed; KeyError if it has none."""
    table = {
        row.text("stage"): Solution(row.text("chemical"), needed(row, "g_l"), row.text("citation"))
        for row in read_table("sizing_solutions.csv")
    }
    return table[stage]


def pumped(job: Job, dose: Decimal) -> Sized:
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
            "use_per_year.solution_gal_per_year",
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
