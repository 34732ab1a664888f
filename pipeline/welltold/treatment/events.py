"""What happened, as short names that the tables of steps and retests ask for."""

from __future__ import annotations

from collections.abc import Sequence

from ..interpretation import Stage, Train
from ..messages import Message
from ..sizing import pump_flow
from ..verdicts.bottles import PAIR, taken_of
from .knowledge import NOT_EQUIPMENT, options
from .steps import called_by
from .wanted import OTHER_HEALTH, OTHER_NUISANCE, Wanted
from .water import Water

_TOLD = frozenset({"no_concern_found", "watch", "health_concern", "nuisance_only"})


def behind_equipment(water: Water) -> bool:
    """Return whether the sample was taken behind equipment; what the site file says goes first."""
    facts = water.site.samples.get(water.sample.id or "")
    if facts and facts.after:
        return True
    if facts and facts.taken:
        return facts.taken == "treated"
    return water.sample.taken == "treated" or bool(water.site.equipment.after)


def events(
    water: Water,
    wants: Sequence[Wanted],
    trains: Sequence[Train],
    doubts: frozenset[str] = frozenset(),
) -> frozenset[str]:
    """Return the names of everything that calls for a step or a retest."""
    return frozenset(
        {f"need:{want.need}" for want in wants}
        | {f"seen:{seen}" for seen in water.site.tap.observations}
        | {f"known:{finding.analyte}" for finding in water.findings if finding.value is not None}
        | {f"watch:{finding.analyte}" for finding in water.findings if finding.verdict == "watch"}
        | {f"told:{_told(step)}" for finding in water.findings for step in finding.do}
        | _of_needs(wants)
        | _of_trains(water, [stage for train in trains for stage in train.stages])
        | ({"left_over"} if left_over(water, wants, trains) else set())
        | ({"only_nuisances"} if trains and _nuisances(wants) else set())
        | {f"left:{want.need}" for want in wants if trains and _untreated(want, trains[0])}
        | _of_the_whole(water, wants, doubts)
        | doubts
    )


def left_over(water: Water, wants: Sequence[Wanted], trains: Sequence[Train]) -> tuple[str, ...]:
    """Return the analytes for which the tables name stages, and none of them fits."""
    if behind_equipment(water):
        return ()
    treated = {slug for stage in (trains[0].stages if trains else ()) for slug in stage.for_}
    named = (slug for want in wants if options(want.need) for slug in want.analytes)
    return tuple(slug for slug in named if slug not in treated)


def _untreated(want: Wanted, train: Train) -> bool:
    return bool(options(want.need)) and bool(set(want.analytes) & set(train.left))


def _told(step: Message) -> str:
    """Return the name of a step that a finding tells already: ``lead_two_samples``."""
    return step.code.rpartition(".do_")[2]


def _nuisances(wants: Sequence[Wanted]) -> bool:
    """Return whether nobody at all is at risk; fluoride that only stains may name children."""
    return not any(
        want.for_ == "health" or finding.persons for want in wants for finding in want.findings
    )


def _of_needs(wants: Sequence[Wanted]) -> set[str]:
    found = set()
    for want in wants:
        if want.for_ == "health":
            found.add("health")
            if want.exposure == "drunk":
                found.add("drunk_health")
    named = {want.need for want in wants}
    found |= {"no_stage_health"} if OTHER_HEALTH in named else set()
    return found | ({"no_stage_nuisance"} if OTHER_NUISANCE in named else set())


def _of_trains(water: Water, stages: Sequence[Stage]) -> set[str]:
    equipment = [stage for stage in stages if stage.stage != NOT_EQUIPMENT]
    found = {"trains"} if equipment else set()
    if any("backwash_gpm" in (stage.size or {}) for stage in equipment):
        found |= _of_pump(water, stages)
    return found


def _of_pump(water: Water, stages: Sequence[Stage]) -> set[str]:
    """Return what has to be tested or built for the pump and the well."""
    pump, found = pump_flow(water.site), set()
    sizes = [stage.size for stage in stages if stage.size]
    if pump.gpm is None:
        found.add("pump_unknown")
    elif not pump.proven:
        found.add("pump_pressure_unknown")
    gives = water.site.well.yield_gpm
    asked = [size["backwash_gpm"] for size in sizes if "backwash_gpm" in size]
    slow = gives is not None and any(gpm > gives for gpm in asked)
    if slow or any("storage_gal" in size for size in sizes):
        found.add("storage")
    return found


def _behind(water: Water) -> set[str]:
    """Return whether equipment stands ahead of the sample, and whether it leaves something."""
    if not behind_equipment(water):
        return set()
    left = any(finding.verdict in _TOLD - {"no_concern_found"} for finding in water.findings)
    return {"behind_equipment", "left_behind"} if left else {"behind_equipment"}


def _of_the_whole(water: Water, wants: Sequence[Wanted], doubts: frozenset[str]) -> set[str]:
    found = _behind(water)
    if water.site.well.flooded:
        found.add("flooded")
    if {taken_of(one, water.site) for one in (water.sample, *water.beside)} >= PAIR:
        found.add("pair_tested")
    verdicts = {finding.verdict for finding in water.findings}
    if not wants and not found - {"pair_tested"}:
        open_ = "cant_tell" in verdicts or bool(doubts & called_by())
        if verdicts & _TOLD and not open_:
            found.add("nothing_needed")
        elif open_:
            found.add("nothing_told")
    return found
