"""Which options may be looked at: what the owner wishes, what the tables ask of the raw water."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from ..messages import Message, say
from .conditions import asks_limit, has_limit
from .knowledge import NOT_EQUIPMENT, Option, options, stages
from .wanted import Wanted
from .water import Water
from .words import names_of


@dataclass(slots=True)
class Admission:
    """Lets options in for one sample, and remembers what was dropped and why."""

    water: Water
    wants: Mapping[str, Wanted]
    dropped: dict[str, list[Message]] = field(default_factory=dict)
    """By stage, each reason once."""

    def of(self, need: str) -> Iterator[Option]:
        """Yield the options of a need that may be looked at, best first."""
        return (option for option in options(need) if self.lets_in(option))

    def lets_in(self, option: Option) -> bool:
        """Return whether an option may be looked at; tells why not where that is news."""
        if any(need not in self.wants for need in option.with_needs):
            return False
        if any(need in self.wants for need in option.without_needs):
            return False
        reason = self._unwished(option) or self._unfit(option)
        if reason is None:
            return True
        if option.tell:
            self.drop(option.stages[0], reason)
        return False

    def drop(self, stage: str, *reasons: Message) -> None:
        """Remember why a stage is not proposed."""
        told = self.dropped.setdefault(stage, [])
        for reason in reasons:
            if _point(reason) not in map(_point, told):
                told.append(reason)

    def _unwished(self, option: Option) -> Message | None:
        wishes = self.water.site.wishes
        rows = [stages()[stage] for stage in option.stages]
        if wishes.no_salt and any(row.salt for row in rows):
            return say("treatment.refused_no_salt")
        if wishes.no_chemicals and any(row.chemical for row in rows):
            return say("treatment.refused_no_chemicals")
        for_house = option.place == "whole_house" and option.stages != (NOT_EQUIPMENT,)
        if wishes.scope != "drinking_water" or not for_house:
            return None
        want = self.wants.get(option.need)
        if want and want.exposure == "breathed":
            return say("treatment.refused_scope_breathed", name=names_of(want.analytes))
        return say("treatment.refused_scope")

    def _unfit(self, option: Option) -> Message | None:
        if option.never:
            return say(f"treatment.because_{option.because}")
        for test in option.tests:
            meets = self.water.meets(test)
            if meets is False or (meets is None and not test.open_will_do):
                return say(
                    "treatment.refused_when", asks=asks_limit(test), has=has_limit(test, self.water)
                )
        return None


def _point(reason: Message) -> tuple[str, ...]:
    """Return what a reason comes down to: one limit that is broken is told in one way only."""
    args = reason.args
    return (args["asks"], args["has"]) if {"asks", "has"} <= set(args) else (reason.text,)


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


def fitting(choices: Iterable[Option], other: Option, admitted: Admission) -> Option | None:
    """Return the first of these options that shares the stages of another and is let in."""
    return next((one for one in choices if shares(one, other) and admitted.lets_in(one)), None)
