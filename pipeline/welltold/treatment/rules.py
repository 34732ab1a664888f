"""From needs to trains: choose an option for each need, with what must stand ahead of it.

Greedy and small: needs in order of weight, options in order of preference, and where a stage's
inlet condition fails, a cure is put ahead of it or the option is dropped with its reason.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from ..messages import Message, say
from .conditions import Judged, asks_limit, cure_of, has_limit, judge
from .knowledge import NOT_EQUIPMENT, Option, options, stages
from .order import Pick, Picks, clashes, last_position, line_up, position, shares
from .wanted import Wanted
from .water import Water
from .words import names_of

MOST_TRAINS = 3
"""The first choice and at most two alternatives."""
_MOST_CURES = 6


@dataclass(slots=True)
class Chooser:
    """Chooses for one sample, and remembers what was dropped and why."""

    water: Water
    wants: Mapping[str, Wanted]
    dropped: dict[str, list[Message]] = field(default_factory=dict)
    """By stage, each reason once."""

    def trains(self) -> tuple[Picks, ...]:
        """Return the picks of each train, best first; empty when no stage is proposed."""
        first: Picks = {}
        for need in self.wants:
            for option in options(need):
                settled = self._with(first, option)
                if settled is not None:
                    first = settled
                    break
        if not first:
            return ()
        return (first, *self._alternatives(first))

    def _alternatives(self, first: Picks) -> Iterator[Picks]:
        """Yield the trains that answer one need in the next best way, if other stages follow."""
        seen = [_stages_of(first)]
        for need, pick in first.items():
            if need not in self.wants:
                continue
            for option in options(need)[pick.option.rank :]:
                settled = self._with(first, option)
                if settled is None or _stages_of(settled) in seen or _idle(pick.option, settled):
                    continue
                seen.append(_stages_of(settled))
                yield settled
                break
            if len(seen) == MOST_TRAINS:
                return

    def _with(self, picks: Picks, option: Option) -> Picks | None:
        """Return the picks with this option and all that it wants ahead; None if it is dropped."""
        if not self._admitted(option):
            return None
        agreed = self._agreed(picks, option)
        if agreed is None:
            return None
        settled = self._settle(agreed, _MOST_CURES)
        if isinstance(settled, Judged):
            if option.tell:
                reason = say(
                    "treatment.refused_condition", asks=settled.shown.asks, has=settled.shown.has
                )
                self._drop(settled.row.stage, reason)
            return None
        return settled

    def _agreed(self, picks: Picks, option: Option) -> Picks | None:
        """Return the picks with this option, and no second stage for the same purpose.

        Where an earlier pick would put another filter beside it (air for the iron, a catalyst for
        the manganese), that need is answered by the same stages, or the option is dropped.
        """
        agreed: dict[str, Pick] = {}
        for need, pick in picks.items():
            if pick.asked_by is not None or need == option.need:
                continue
            if clashes(pick.option, option):
                same = (other for other in options(need) if shares(other, option))
                fitting = next((other for other in same if self._admitted(other)), None)
                if fitting is None:
                    return None
                agreed[need] = Pick(fitting)
            else:
                agreed[need] = pick
        return {**agreed, option.need: Pick(option)}

    def _settle(self, picks: Picks, cures: int) -> Picks | Judged:
        """Return the picks with every broken condition cured, or the one that cannot be."""
        broken = self._first_broken(picks)
        if broken is None:
            return picks
        if broken.row.beyond == "ahead" and cures:
            for option in self._cures(broken):
                pick = Pick(option, self._asked_by(option.need, broken.row.stage))
                settled = self._settle({**picks, option.need: pick}, cures - 1)
                if not isinstance(settled, Judged):
                    return settled
        return broken

    def _asked_by(self, need: str, stage: str) -> str | None:
        return None if need in self.wants else stage

    def _first_broken(self, picks: Picks) -> Judged | None:
        drafts = line_up(picks)
        for number, draft in enumerate(drafts):
            for judged in judge(draft, drafts[:number], self.water):
                if judged.broken:
                    return judged
        return None

    def _cures(self, broken: Judged) -> Iterator[Option]:
        """Yield what could stand ahead of the stage and cure its condition."""
        need = cure_of(broken.row.fact)
        for option in options(need) if need else ():
            ahead = last_position(option.stages) < position(broken.row.stage)
            if ahead and self._admitted(option):
                yield option

    def _admitted(self, option: Option) -> bool:
        """Return whether an option may be looked at; tells why not where that is news."""
        if any(need not in self.wants for need in option.with_needs):
            return False
        reason = self._unwished(option) or self._unfit(option)
        if reason is None:
            return True
        if option.tell:
            self._drop(option.stages[0], reason)
        return False

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

    def _drop(self, stage: str, reason: Message) -> None:
        reasons = self.dropped.setdefault(stage, [])
        if reason not in reasons:
            reasons.append(reason)


def _stages_of(picks: Picks) -> frozenset[str]:
    return frozenset(draft.stage for draft in line_up(picks))


def _idle(before: Option, picks: Picks) -> bool:
    """Return whether a tap device is replaced for one need and stays for another all the same."""
    return before.place == "point_of_use" and set(before.stages) <= _stages_of(picks)
