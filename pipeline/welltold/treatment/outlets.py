"""The water before the train and behind each stage, as it is published."""

from __future__ import annotations

from collections.abc import Iterator

from ..interpretation import Quantity, WaterAfter
from ..simulation import Stream
from .knowledge import conditions
from .walk import Line
from .water import Water

WELL = "well"
_ALWAYS = ("ph", "hardness", "sodium")
"""Told wherever they are known: every dealer looks at them."""


def waters(water: Water, line: Line) -> tuple[WaterAfter, ...]:
    """Return the water of the well and behind each stage, in that order; only what matters.

    What matters is what was found, what a condition asks for, and what a stage changes.
    """
    if not line:
        return ()
    streams: list[tuple[str, Stream]] = [(WELL, line[0].inlet)]
    streams += [(passage.draft.stage, passage.outlet) for passage in line]
    asked = set(_asked(water, line))
    told = [(name, dict(stream.quantities())) for name, stream in streams]
    shown = {slug for _, values in told for slug in values if slug in asked or _moves(slug, told)}
    return tuple(
        WaterAfter(name, {slug: one for slug, one in values.items() if slug in shown})
        for name, values in told
    )


def _asked(water: Water, line: Line) -> Iterator[str]:
    yield from _ALWAYS
    for finding in water.findings:
        if finding.verdict in {"health_concern", "nuisance_only", "watch"} and finding.analyte:
            yield finding.analyte
    for passage in line:
        for row in conditions(passage.draft.stage):
            yield row.fact


def _moves(slug: str, told: list[tuple[str, dict[str, Quantity]]]) -> bool:
    """Return whether a stage changes it; what was put in for the charges does not count."""
    found = [values.get(slug) for _, values in told]
    first = found[0]
    return first is not None and not first.assumed and any(one != first for one in found)
