"""From findings to treatment stages to consider: what is needed, in which order, on what terms.

A stage is proposed only for what a finding shows, each with its reason, its conditions in the water
that reaches it, its size and its cautions; "nothing needed" is a result like any other.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from .plan import Known, Plan

if TYPE_CHECKING:
    from ..interpretation import Finding
    from ..reading import Sample
    from ..site import Site

__all__ = ["Known", "Plan", "consider"]


def consider(
    findings: tuple[Finding, ...],
    sample: Sample,
    site: Site,
    beside: tuple[Sample, ...] = (),
    known: Known | None = None,
) -> Plan:
    """Return what to consider for one sample; ``beside``: the others from the same point.

    Only a health concern or a nuisance leads to a stage. A sample taken behind equipment shows
    what that equipment does, so it gets steps and no train.
    """
    # simulation and sizing know the waters of this room; loaded here, neither waits for the other
    from .advice import advice

    return advice(findings, sample, site, beside, known or Known())
