"""What to do that is not equipment, in the order in which to do it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from ..interpretation import Step
from ..messages import Message, say
from ..tables import read_table
from .knowledge import parts
from .wanted import OTHER_HEALTH, OTHER_NUISANCE, Wanted
from .words import names_of


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step as in ``treatment_steps.csv``."""

    step: str
    on: tuple[tuple[str, ...], ...]
    """Any one of these groups of events calls for it, if all of the group hold."""
    unless: tuple[str, ...]
    citation: str


@cache
def step_rows() -> tuple[StepRow, ...]:
    """Return the closed list of steps, in order."""
    return tuple(
        StepRow(
            row.text("step"),
            tuple(tuple(group.split("+")) for group in parts(row.text("on"))),
            parts(row.cells["unless"]),
            row.text("citation"),
        )
        for row in read_table("treatment_steps.csv")
    )


@cache
def called_by() -> frozenset[str]:
    """Return every event that calls for a step."""
    return frozenset(event for row in step_rows() for group in row.on for event in group)


def steps(
    happened: frozenset[str], wants: Sequence[Wanted], left: tuple[str, ...] = ()
) -> tuple[Step, ...]:
    """Return the steps that these events call for; ``left``: analytes for which nothing fits."""
    named = {want.need: want.analytes for want in wants}
    names = {
        "no_stage_health": names_of(named.get(OTHER_HEALTH, ())),
        "no_stage_nuisance": names_of(named.get(OTHER_NUISANCE, ())),
        "left_over": names_of(left),
    }
    return tuple(
        Step(row.step, (_sentence(row, names.get(row.step, "")),))
        for row in step_rows()
        if any(all(_holds(event, happened) for event in group) for group in row.on)
        and not any(_holds(event, happened) for event in row.unless)
    )


def _sentence(row: StepRow, names: str) -> Message:
    return say(f"treatment.step_{row.step}", source=row.citation, names=names)


def _holds(event: str, happened: frozenset[str]) -> bool:
    if event.startswith("unknown:"):
        return event.replace("unknown:", "known:") not in happened
    return event in happened
