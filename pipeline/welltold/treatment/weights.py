"""How trains are ranked, and which of two is of no use beside the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..site import Site
from ..sizing import Sized, not_on_shelf
from ..tables import read_table
from .conditions import BARRIERS, Judged
from .knowledge import NOT_EQUIPMENT, options, stages
from .order import Picks
from .walk import Line, Passage
from .wanted import Wanted
from .water import Water

SPECIALIST, SECOND_PUMP = "specialist", "second_pump"
ENOUGH_ROOM = Decimal("0.5")
"""At half of its limit a stage does a job on the side, and needs no other beside it; practice."""


@dataclass(frozen=True, slots=True, order=True)
class Weight:
    """What counts against a train; the least is best."""

    health_left: int
    comfort_left: int
    trouble: Decimal


@dataclass(frozen=True, slots=True)
class Chosen:
    """A train: what was picked, the line with its water, and what counts against it."""

    picks: Picks
    line: Line
    weight: Weight

    @property
    def kinds(self) -> frozenset[str]:
        """The stages in it."""
        return frozenset(passage.draft.stage for passage in self.line)


def weigh(picks: Picks, line: Line, wants: Mapping[str, Wanted], water: Water) -> Weight:
    """Return what counts against a train."""
    left = [want for need, want in wants.items() if need not in picks.by_need and options(need)]
    health = sum(want.for_ == "health" for want in left)
    kinds = [*_of_stages(line), *_of_conditions(line), *_of_site(line, water.site)]
    for need, pick in picks.by_need.items():
        if need in wants:
            kinds += ["rank"] * (pick.option.rank - 1)
    trouble = sum((weights()[kind] for kind in kinds), Decimal(0))
    return Weight(health, len(left) - health, trouble)


@cache
def weights() -> Mapping[str, Decimal]:
    """Return how much each kind of trouble counts."""
    return {
        row.text("kind"): Decimal(row.text("weight")) for row in read_table("train_weights.csv")
    }


def hides_a_well(line: Line) -> bool:
    """Return whether a train stands against germs: the well is mended and tested first."""
    return any(one.draft.stage in BARRIERS and "bacteria" in one.draft.because for one in line)


def failing(line: Line) -> Iterator[Judged]:
    """Yield the conditions that fail, and that no test or repair before the start is to mend."""
    for passage in line:
        yield from (one for one in passage.judged if one.shown.holds is False and not one.waits)


def _of_stages(line: Line) -> Iterator[str]:
    for passage in line:
        row = stages()[passage.draft.stage]
        if row.stage == NOT_EQUIPMENT:
            continue
        yield "stage"
        yield from (kind for kind in ("salt", "chemical", "backwash") if getattr(row, kind))
        yield from (one for one in (SPECIALIST, SECOND_PUMP) if one in row.cautions)
        if passage.built is not None:
            yield from _of_size(passage.built)


def _of_size(sized: Sized) -> Iterator[str]:
    if any(not_on_shelf(one) for one in sized.conditions):
        yield "not_sold"
    if "storage_gal" in sized.size:
        yield "storage"
    tanks = sized.size.get("tanks")
    if isinstance(tanks, Decimal) and tanks > 1:
        yield from ["twins"] * int(tanks - 1)


def _of_conditions(line: Line) -> Iterator[str]:
    yield from ("failing" for _ in failing(line))
    for passage in line:
        yield from (
            "unknown"
            for one in passage.judged
            if one.shown.holds is None and one.row.beyond != "look"
        )


def _of_site(line: Line, site: Site) -> Iterator[str]:
    there = {*site.equipment.in_place, *(unit.stage for unit in site.equipment.unit)}
    for draft in (passage.draft for passage in line):
        if draft.stage in there:
            yield "in_place"
        if draft.place == "point_of_use" and site.wishes.scope == "whole_house":
            yield "elsewhere"


def of_no_use(one: Chosen, beside: Sequence[Chosen]) -> bool:
    """Return whether one of the others does all that this train does, with fewer stages."""
    return any(_dominates(other, one) for other in beside if other is not one)


def _dominates(less: Chosen, more: Chosen) -> bool:
    if not less.kinds < more.kinds or (more.kinds - less.kinds) & BARRIERS:
        return False
    if (less.weight.health_left, less.weight.comfort_left) > (
        more.weight.health_left,
        more.weight.comfort_left,
    ):
        return False
    fails, others = len(list(failing(less.line))), len(list(failing(more.line)))
    if fails != others:
        return fails < others
    needs = set(less.picks.by_need) & set(more.picks.by_need)
    changed = [
        need
        for need in needs
        if less.picks.by_need[need].option.stages != more.picks.by_need[need].option.stages
    ]
    return all(_with_room(less, need) for need in changed)


def _with_room(train: Chosen, need: str) -> bool:
    """Return whether a train answers a need far from every limit of the stages that answer it."""
    answering = [one for one in train.line if need in one.draft.because]
    return all(_far(one, judged) for one in answering for judged in one.judged)


def _far(passage: Passage, judged: Judged) -> bool:
    row = judged.row
    if judged.shown.holds is not True:
        return row.need is None
    if row.value is None or row.unit is None or row.op not in {"<=", "<"}:
        return True
    amount = passage.inlet.amount(row.fact, row.unit, row.basis)
    return bool(amount and amount.high is not None and amount.high <= ENOUGH_ROOM * row.value)
