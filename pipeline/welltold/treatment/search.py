"""Searches for the trains that meet the needs under the conditions of the stages.

The best few lines are grown need by need, the gravest first. Where a stage's condition fails in the
water that reaches it, a stage that cures it is put or moved ahead, or the option is dropped and the
reason told. What is best is then sized, and what the pump cannot carry in any way is dropped too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from ..analytes import registry
from ..messages import Message, say
from ..sizing import Shelf
from .conditions import Judged, cure_of
from .drafts import Draft
from .knowledge import Option, options, wait_first
from .options import Admission, clashes, fitting
from .order import Pick, Picks, last_position, line_up, position
from .walk import Line, Passage, Walker
from .wanted import Wanted
from .water import Water
from .weights import Chosen, Weight, hides_a_well, of_no_use, weigh

MOST_TRAINS = 3
"""The first choice and at most two alternatives."""
_WIDTH = 3
"""How many beginnings are grown side by side."""
_MOST_CURES = 6
_MOST_ROUNDS = 8
"""How often the search starts anew without a stage that could not be built."""
_NOTHING = Picks({})


class Search:
    """Searches for one sample, and remembers what was dropped and why."""

    def __init__(
        self, water: Water, wants: Mapping[str, Wanted], shelf: Shelf | None = None
    ) -> None:
        self.water, self.wants = water, wants
        self.admission = Admission(water, wants)
        self.walker = Walker(water, shelf)
        self.barred: set[str] = set()
        """Stages that cannot be built here in any size."""

    @property
    def dropped(self) -> Mapping[str, list[Message]]:
        """By stage, why it is not proposed."""
        return self.admission.dropped

    def waits(self, happened: frozenset[str]) -> bool:
        """Return whether something is settled first; tells of the stages that wait for it."""
        rows = [row for row in wait_first() if self.wants and row.event in happened]
        for row in rows:
            self.admission.drop(row.stage, say(f"treatment.because_{row.because}"))
        return bool(rows)

    def trains(self) -> tuple[Chosen, ...]:
        """Return the trains, best first; empty when no stage is proposed."""
        first = self.first()
        if first is None:
            return ()
        return tuple(self._with_lowered(one) for one in self._offers(first))

    def first(self) -> Chosen | None:
        """Return the best train without what it lowers on the side; None when there is none."""
        for _ in range(_MOST_ROUNDS):
            grown = [self._sized(picks) for picks in self._grown()]
            built = [chosen for chosen in grown if self._can_be_built(chosen.line)]
            if built:
                return min(built, key=lambda one: (hides_a_well(one.line), one.weight))
            if not grown:
                return None
        return None

    def _grown(self) -> Sequence[Picks]:
        """Return the best lines without sizes, at most as many as are grown side by side."""
        kept: list[Picks] = [_NOTHING]
        seen: dict[str, Wanted] = {}
        for need, want in self.wants.items():
            seen[need] = want
            grown: dict[tuple[str, ...], Picks] = {}
            for picks in kept:
                for settled in self._answers(picks, need):
                    names = tuple(one.stage for one in line_up(settled))
                    # one line may answer the needs in several ways; the preferred one stands
                    ways = [grown[names], settled] if names in grown else [settled]
                    grown[names] = min(ways, key=lambda one: self._weight(one, seen))
            kept = sorted(grown.values(), key=lambda picks: self._weight(picks, seen))[:_WIDTH]
        return [picks for picks in kept if picks.by_need]

    def _answers(self, picks: Picks, need: str) -> Iterator[Picks]:
        """Yield the picks with each way to answer a need; as they are where there is none."""
        found = False
        for option in self.admission.of(need):
            settled = self._with(picks, option)
            if settled is not None:
                found = True
                yield settled
        if not found:
            yield picks

    def _weight(self, picks: Picks, seen: Mapping[str, Wanted]) -> tuple[bool, Weight]:
        """Return what counts against a beginning, by the needs that were looked at so far."""
        line = self.walker.through(line_up(picks))
        return hides_a_well(line), weigh(picks, line, seen, self.water)

    def _sized(self, picks: Picks) -> Chosen:
        line = self.walker.through(line_up(picks), sized=True)
        return Chosen(picks, line, weigh(picks, line, self.wants, self.water))

    def _can_be_built(self, line: Line) -> bool:
        """Return whether every stage can; one that cannot is left out from now on."""
        for passage in line:
            if not passage.can_be_built and passage.sized is not None:
                self.barred.add(passage.draft.stage)
                self.admission.drop(passage.draft.stage, *passage.sized.refused)
                return False
            if passage.broken is not None:
                self.barred.add(passage.draft.stage)
                self._tell(passage.broken)
                return False
        return True

    def _offers(self, first: Chosen) -> Sequence[Chosen]:
        """Return the first train and what the trade would offer beside it, best first."""
        others = sorted(self._alternatives(first), key=lambda chosen: chosen.weight)
        offers = [first]
        for other in others:
            new = all(other.kinds != offer.kinds for offer in offers)
            if new and not of_no_use(other, [*offers, *others]):
                offers.append(other)
        return offers[:MOST_TRAINS]

    def _alternatives(self, first: Chosen) -> Iterator[Chosen]:
        """Yield the trains that answer one need in the next best way, if other stages follow."""
        for need, pick in first.picks.by_need.items():
            if need not in self.wants:
                continue
            for option in options(need):
                if option == pick.option or not self.admission.lets_in(option):
                    continue
                other = self._alternative(first, pick.option, option)
                if other is not None:
                    yield other
                    break

    def _alternative(self, first: Chosen, before: Option, option: Option) -> Chosen | None:
        settled = self._with(first.picks, option)
        if settled is None or settled.stages() == first.kinds or _idle(before, settled):
            return None
        other = self._sized(settled)
        worse = other.weight.health_left > first.weight.health_left
        return other if self._can_be_built(other.line) and not worse else None

    def _with(self, picks: Picks, option: Option) -> Picks | None:
        """Return the picks with this option and all that it wants ahead; None if it is dropped."""
        if self.barred & set(option.stages):
            return None
        agreed = self._agreed(picks, option)
        if agreed is None:
            return None
        settled = self._settle(agreed, _MOST_CURES)
        if isinstance(settled, Judged):
            if option.tell:
                self._tell(settled)
            return None
        return settled

    def _tell(self, broken: Judged) -> None:
        asks, has = broken.shown.asks, broken.shown.has
        reason = say("treatment.refused_condition", asks=asks, has=has)
        self.admission.drop(broken.row.stage, reason)

    def _agreed(self, picks: Picks, option: Option) -> Picks | None:
        """Return the picks with this option, and no second stage for the same purpose.

        Where an earlier pick would put another filter beside it (air for the iron, a catalyst for
        the manganese), that need is answered by the same stages, or the option is dropped.
        """
        agreed: dict[str, Pick] = {}
        for need, pick in picks.by_need.items():
            if pick.asked_by is not None or need == option.need:
                continue
            if clashes(pick.option, option):
                same = fitting(options(need), option, self.admission)
                if same is None:
                    return None
                agreed[need] = Pick(same)
            else:
                agreed[need] = pick
        return Picks({**agreed, option.need: Pick(option)})

    def _settle(self, picks: Picks, cures: int) -> Picks | Judged:
        """Return the picks with every broken condition cured, or the one that cannot be."""
        drafts = line_up(picks)
        passage = next((one for one in self.walker.until_broken(drafts) if one.broken), None)
        if passage is None or passage.broken is None:
            return picks
        broken = passage.broken
        if broken.row.beyond == "ahead" and cures:
            for better in self._cured(picks, broken, passage, drafts):
                settled = self._settle(better, cures - 1)
                if not isinstance(settled, Judged):
                    return settled
        return broken

    def _cured(
        self, picks: Picks, broken: Judged, passage: Passage, drafts: Sequence[Draft]
    ) -> Iterator[Picks]:
        """Yield the picks with what cures a condition moved ahead of the stage, or put there."""
        need, stage = cure_of(broken.row.fact), passage.draft.stage
        if need is None:
            return
        later = drafts[drafts.index(passage.draft) + 1 :]
        for helper in (draft.stage for draft in later if draft.cures(need)):
            if (stage, helper) not in picks.ahead:
                yield Picks(picks.by_need, picks.ahead | {(helper, stage)})
        for option in self.admission.of(need):
            ahead = last_position(option.stages) < position(stage)
            if ahead and not self.barred & set(option.stages) and _joins(picks, option):
                pick = Pick(option, None if need in self.wants else stage)
                yield Picks({**picks.by_need, need: pick}, picks.ahead)

    def _with_lowered(self, chosen: Chosen) -> Chosen:
        """Return a train whose stages are named for what they lower on the side, too."""
        more = {
            need: Pick(_on_the_side(need, passage.draft))
            for need, want in self.wants.items()
            if need not in chosen.picks.by_need
            and (passage := _lowering(chosen.line, want)) is not None
        }
        if not more:
            return chosen
        return self._sized(Picks({**chosen.picks.by_need, **more}, chosen.picks.ahead))


def _joins(picks: Picks, option: Option) -> bool:
    """Return whether an option puts no second stage for a purpose beside those of other needs."""
    others = (pick for need, pick in picks.by_need.items() if need != option.need)
    return not any(clashes(pick.option, option) for pick in others)


def _on_the_side(need: str, draft: Draft) -> Option:
    return Option(
        need, 1, (draft.stage,), draft.place, (), (), (), never=False, tell=False, because="lowers"
    )


def _lowering(line: Line, want: Wanted) -> Passage | None:
    """Return the stage that lowers what was found; at the tap only what is drunk counts."""
    for passage in line:
        if passage.draft.place == "point_of_use" and want.exposure != "drunk":
            continue
        for slug in want.analytes:
            own = registry()[slug]
            before = passage.inlet.amount(slug, own.unit, own.basis)
            after = passage.outlet.amount(slug, own.unit, own.basis)
            if before and after and after.high is not None and after.high < before.low:
                return passage
    return None


def _idle(before: Option, picks: Picks) -> bool:
    """Return whether a tap device is replaced for one need and stays for another all the same."""
    return before.place == "point_of_use" and set(before.stages) <= picks.stages()
