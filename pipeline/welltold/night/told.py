"""The sentences about a night: what falls short, what mends it, and what was not known."""

from __future__ import annotations

from collections.abc import Iterator

from ..messages import Message, say
from ..site import Site
from ..sizing import pump_flow
from ..sizing.written import shown, up
from .play import Placed, Played
from .remedy import Mended
from .rules import clock, gallons, number
from .supply import water_above_pump

DEAR = frozenset({"twins", "storage", "specialist"})
"""Remedies that cost so much that the water in the well is found out first."""


def fallen(played: Played) -> Placed | None:
    """Return the wash whose bed is the first to get too little; None where each gets enough."""
    return _lifted(played, played.short[0]) if played.short else None


def why(before: Played, mended: Mended, wanted: int | None) -> Iterator[Message]:
    """Yield what happens on the worst night, then what to do about it.

    ``wanted``: the water above the pump that would do, where nobody told how much stands there.
    """
    yield _worst(before)
    if wanted is not None and mended.remedy in DEAR:
        yield say("night.standing", gal=shown(up(gallons(wanted))))
    if mended.remedy == "none":
        return
    if mended.remedy == "storage":
        tank, booster = mended.supply.tank, mended.supply.booster or 0
        yield say("night.storage", gal=shown(gallons(tank)), gpm=shown(gallons(booster)))
    elif mended.remedy == "specialist":
        yield say("night.specialist")
    else:
        yield say(f"night.{mended.remedy}", starts=_starts(mended))
    if mended.worst.short and not mended.worst.lasting:
        yield say("night.dip_after", clock=clock(mended.worst.short[0]))


def cautions(site: Site) -> Iterator[Message]:
    """Yield what was assumed, and what to check at the well."""
    yield say("night.caution_reckoned")
    if not pump_flow(site).proven:
        yield say("night.caution_pressure")
    if site.well.yield_gpm is None:
        yield say("night.caution_yield")
    elif water_above_pump(site.well) is None:
        yield say("night.caution_casing")
    if site.well.drawdown is None:
        yield say("night.caution_tank", gal=shown(number("tank_drawdown")))


def _worst(before: Played) -> Message:
    first = fallen(before)
    if first is None:
        return say("night.enough", clock=clock(before.placed[0].start))
    minute, name = before.short[0], _name(first.wash.stage)
    told = {
        "clock": clock(minute),
        "stage": name,
        "gpm": shown(gallons(first.wash.backwash.rate)),
    }
    if not before.lasting:
        return say("night.dip", **told)
    after = minute - first.start
    if not after:
        return say("night.shortfall_at_once", **told)
    return say("night.shortfall", minutes=after, **told)


def _lifted(played: Played, minute: int) -> Placed:
    """Return the wash with the largest rate of those that lift a bed in a minute."""
    lifting = [
        one
        for one in played.placed
        if one.start <= minute < one.end and tuple(one.wash.rates())[minute - one.start][1]
    ]
    return max(lifting, key=lambda one: one.wash.backwash.rate)


def _starts(mended: Mended) -> str:
    """Return the timetable in one line."""
    several = len(mended.nights) > 1
    return "; ".join(
        say(
            "night.start_night" if several else "night.start",
            stage=_name(one.wash.stage),
            clock=clock(one.start),
            night=night,
        ).text
        for night, placed in enumerate(mended.nights, start=1)
        for one in placed
    )


def _name(stage: str) -> str:
    return say(f"treatment.name_{stage}").text
