"""From findings to treatment stages to consider: what is needed, in which order, on what terms.

Nothing here predicts what a stage leaves in the water or how large it must be. A stage is proposed
only for what a finding shows, each with its reason, its conditions and its cautions; "nothing
needed" is a result like any other.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..interpretation import Finding, Need, Refused, Retest, Step, Train
from ..reading import Sample
from ..site import Site
from .events import behind_equipment, events, left_over
from .retest import retests
from .rules import Chooser
from .steps import steps
from .trains import extra_needs, shown_trains
from .wanted import wanted
from .water import Water

__all__ = ["Plan", "consider"]


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything to consider for one sample."""

    needs: tuple[Need, ...] = ()
    trains: tuple[Train, ...] = ()
    """Best first; empty when nothing is needed, or nothing can be proposed."""
    refused: tuple[Refused, ...] = ()
    steps: tuple[Step, ...] = ()
    retest: tuple[Retest, ...] = ()


def consider(
    findings: tuple[Finding, ...], sample: Sample, site: Site, beside: tuple[Sample, ...] = ()
) -> Plan:
    """Return what to consider for one sample; ``beside``: the others from the same point.

    Only a health concern or a nuisance leads to a stage. A sample taken behind equipment shows
    what that equipment does, so it gets steps and no train.
    """
    water = Water(findings, sample, site, beside)
    wants = wanted(water)
    needs = tuple(want.shown() for want in wants)
    if behind_equipment(water):
        happened = events(water, wants, ())
        return Plan(needs, (), (), steps(happened, wants), retests(water, happened, ()))
    chooser = Chooser(water, {want.need: want for want in wants})
    picks = chooser.trains()
    trains = shown_trains(picks, wants, water)
    used = {stage.stage for train in trains for stage in train.stages}
    refused = tuple(
        Refused(stage, tuple(why)) for stage, why in chooser.dropped.items() if stage not in used
    )
    happened = events(water, wants, trains)
    return Plan(
        needs=needs + extra_needs(picks),
        trains=trains,
        refused=refused,
        steps=steps(happened, wants, left_over(water, wants, trains)),
        retest=retests(water, happened, trains),
    )
