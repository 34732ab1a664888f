"""Puts the advice for one sample together."""

from __future__ import annotations

from collections.abc import Sequence

from ..interpretation import Check, Finding, Refused
from ..reading import Sample
from ..site import Site
from .events import behind_equipment, events, left_over
from .existing import existing
from .plan import Known, Plan
from .retest import retests
from .search import Search
from .steps import steps
from .trains import Shown, extra_needs
from .wanted import Wanted, wanted
from .water import Water


def advice(
    findings: tuple[Finding, ...],
    sample: Sample,
    site: Site,
    beside: tuple[Sample, ...],
    known: Known,
) -> Plan:
    """Return what to consider for one sample."""
    doubts = _doubts(known.checks)
    water = Water(findings, sample, site, beside)
    wants = wanted(water)
    needs = tuple(want.shown() for want in wants)
    if behind_equipment(water):
        happened = events(water, wants, (), doubts)
        return Plan(needs, (), (), steps(happened, wants), retests(water, happened, ()))
    search = Search(water, {want.need: want for want in wants}, known.shelf)
    lines = () if search.waits(_calling(water, wants)) else search.trains()
    trains = Shown(water, wants, lines).trains()
    used = {stage.stage for train in trains for stage in train.stages}
    refused = tuple(
        Refused(stage, tuple(why)) for stage, why in search.dropped.items() if stage not in used
    )
    happened = events(water, wants, trains, doubts)
    if search.barred:
        happened |= {"not_built"}
    return Plan(
        needs=needs + extra_needs(lines),
        trains=trains,
        refused=refused,
        steps=steps(happened, wants, left_over(water, wants, trains)),
        retest=retests(water, happened, trains),
        existing=existing(site, lines),
    )


def _calling(water: Water, wants: Sequence[Wanted]) -> frozenset[str]:
    """Return the events that may hold every train back."""
    seen = (f"seen:{seen}" for seen in water.site.tap.observations)
    return frozenset([*(f"need:{want.need}" for want in wants), *seen])


def _doubts(checks: tuple[Check, ...]) -> frozenset[str]:
    """Return the events of the checks that the sheet does not pass, without their analytes."""
    doubtful = (one.check.partition(":")[0] for one in checks if one.outcome == "doubt")
    return frozenset(f"doubt:{name}" for name in doubtful)
