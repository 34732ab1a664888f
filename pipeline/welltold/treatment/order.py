"""Puts a train together: merges the chosen stages and lines them up as the water meets them.

The order follows from the conditions: what cures the water for a stage stands ahead of it. Where no
condition speaks, the usual order of the stage files holds.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from .drafts import Draft
from .knowledge import Option, Place, stages

_RESINS = ("softener", "tannin_exchanger", "anion_exchanger")
_FEEDS = frozenset({"chlorine_feed", "peroxide_feed"})
"""Oxidants wear resin out; the carbon that takes them out stands ahead (common practice)."""
Precedence = frozenset[tuple[str, str]]
"""Pairs of stages: the first stands ahead of the second."""


@dataclass(frozen=True, slots=True)
class Pick:
    """An option that was chosen for a need."""

    option: Option
    asked_by: str | None = None
    """The stage that wants this need met ahead of it; None: a finding wants it."""


@dataclass(frozen=True, slots=True)
class Picks:
    """What was chosen, by need, and which stages had to change places for it."""

    by_need: Mapping[str, Pick]
    ahead: Precedence = frozenset()

    def stages(self) -> frozenset[str]:
        """Return the stages of all options."""
        return frozenset(stage for pick in self.by_need.values() for stage in pick.option.stages)


def line_up(picks: Picks) -> tuple[Draft, ...]:
    """Return the stages of all picks, each once, in the order in which the water meets them.

    A stage that stands in for several needs is there once, and in the whole house if any of them
    wants it there.
    """
    places: dict[str, Place] = {}
    because: dict[str, dict[str, str]] = {}
    for need, pick in picks.by_need.items():
        for stage in pick.option.stages:
            if pick.option.place == "whole_house" or stage not in places:
                places[stage] = pick.option.place
            because.setdefault(stage, {})[need] = pick.option.because
    # What stands at one tap cannot be met ahead of what the whole house has.
    ahead = frozenset(
        (first, second)
        for first, second in picks.ahead | _ahead_of_resin(picks)
        if (places.get(first), places.get(second)) != ("point_of_use", "whole_house")
    )
    order = _sorted(sorted(places, key=position), ahead)
    return tuple(Draft(stage, places[stage], because[stage]) for stage in order)


def _ahead_of_resin(picks: Picks) -> Precedence:
    """Return what stands ahead of resin because a feed's carbon has to."""
    fed = any(
        _FEEDS & {*one.option.stages} and "carbon_filter" in one.option.stages
        for one in picks.by_need.values()
    )
    return frozenset(("carbon_filter", resin) for resin in _RESINS) if fed else frozenset()


def position(stage: str) -> int:
    """Return a stage's place in the usual order; smaller is met first."""
    return stages()[stage].order


def last_position(names: Iterable[str]) -> int:
    """Return the place of the last of these stages."""
    return max(position(name) for name in names)


def _sorted(names: list[str], ahead: Precedence) -> list[str]:
    """Move each stage behind all that must stand ahead of it; a circle keeps the usual order."""
    order = list(names)
    for _ in names:
        for first, second in sorted(ahead):
            if first in order and second in order and order.index(first) > order.index(second):
                order.remove(second)
                order.insert(order.index(first) + 1, second)
    return order if all(_holds(order, pair) for pair in ahead) else list(names)


def _holds(order: list[str], pair: tuple[str, str]) -> bool:
    first, second = pair
    return not {first, second} <= set(order) or order.index(first) < order.index(second)
