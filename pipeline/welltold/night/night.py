"""The worst night of a train as it is published: before, what mends it, and after."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..interpretation import Night, NightStart, NightStep, Stage
from ..site import Site
from .play import Played, play, together
from .remedy import Mended, mend, standing
from .rules import gallons
from .supply import Supply, supply_of, water_above_pump
from .told import cautions, fallen, why
from .washes import washes


def night_of(site: Site, stages: Sequence[Stage]) -> Night | None:
    """Return the worst night; None where nobody timed the pump or no stage backwashes."""
    supply, washed = supply_of(site, stages), washes(stages)
    if supply is None or not washed:
        return None
    before = play(supply, together(washed))
    mended = mend(supply, washed, before)
    after = mended.worst
    deep_known = water_above_pump(site.well) is not None
    well_known = site.well.yield_gpm is not None and deep_known
    first = fallen(before)
    return Night(
        minutes=len(before.minutes),
        shortfall=before.short[0] if before.short else None,
        shortfall_stage=first.wash.stage if first else None,
        series=tuple(_steps(before, supply, well_known=well_known)),
        remedy=mended.remedy,
        timetable=tuple(_timetable(mended)),
        shortfall_after=after.short[0] if after.short else None,
        after=tuple(_steps(after, mended.supply, well_known=well_known)),
        why=tuple(why(before, mended, None if deep_known else standing(supply, washed))),
        cautions=tuple(cautions(site)),
    )


def _timetable(mended: Mended) -> Iterator[NightStart]:
    if mended.remedy == "specialist":
        return
    for number, night in enumerate(mended.nights, start=1):
        for one in sorted(night, key=lambda placed: placed.start):
            yield NightStart(one.wash.stage, number, one.start, one.wash.minutes)


def _steps(played: Played, supply: Supply, *, well_known: bool) -> Iterator[NightStep]:
    """Yield the minutes in which a flow changes, and the end of the night."""
    well, told = supply.well, None
    for number, minute in enumerate(played.minutes):
        flows = minute.needed, minute.gets
        if flows != told:
            yield _step(number, *flows, well if well_known else None)
        well, told = minute.well, flows
    yield _step(len(played.minutes), 0, 0, well if well_known else None)


def _step(minute: int, needed: int, gets: int, well: int | None) -> NightStep:
    left = None if well is None else gallons(well)
    return NightStep(minute, gallons(needed), gallons(gets), left)
