"""Puts a train together: merges the chosen stages and lines them up as the water meets them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from .conditions import Draft
from .knowledge import Option, stages


@dataclass(frozen=True, slots=True)
class Pick:
    """An option that was chosen for a need."""

    option: Option
    asked_by: str | None = None
    """The stage that wants this need met ahead of it; None: a finding wants it."""


Picks = Mapping[str, Pick]
"""By need."""


def line_up(picks: Picks) -> tuple[Draft, ...]:
    """Return the stages of all picks, each once, in the order in which the water meets them.

    A stage that stands in for several needs is there once, and in the whole house if any of them
    wants it there.
    """
    drafts: dict[str, Draft] = {}
    for need, pick in picks.items():
        for stage in pick.option.stages:
            draft = drafts.setdefault(stage, Draft(stage, pick.option.place))
            if pick.option.place == "whole_house":
                draft.place = "whole_house"
            draft.because[need] = pick.option.because
    return tuple(sorted(drafts.values(), key=lambda draft: position(draft.stage)))


def position(stage: str) -> int:
    """Return a stage's place in the order; smaller is met first."""
    return stages()[stage].order


def last_position(names: Iterable[str]) -> int:
    """Return the place of the last of these stages."""
    return max(position(name) for name in names)


def clashes(one: Option, other: Option) -> bool:
    """Return whether the two would put different stages side by side for the same main purpose."""
    if shares(one, other):
        return False
    apart = set(one.stages) ^ set(other.stages)
    purposes = [
        {_purpose(stage) for stage in option.stages if stage in apart} for option in (one, other)
    ]
    return bool(purposes[0] & purposes[1] - {None})


def shares(one: Option, other: Option) -> bool:
    """Return whether one of the two needs no stage that the other does not have."""
    return set(one.stages) <= set(other.stages) or set(one.stages) >= set(other.stages)


def _purpose(stage: str) -> str | None:
    return next(iter(stages()[stage].treats), None)
