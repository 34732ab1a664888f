"""Counts in how many possible waters the first train stays, and what each cheap test would change.

The whole: so many draws of all open things at once, each range cut into as many slices as there
are draws (Latin hypercube; McKay, Beckman and Conover 1979, Technometrics 21). Each test: all else
as it is known today, the one thing tried in steps through its range.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

import numpy as np

from ..interpretation import MeasureFirst, SampleView, Train
from ..messages import Message, say
from ..sizing import Shelf
from ..treatment.search import Search
from ..treatment.wanted import wanted
from ..treatment.water import Water
from ..treatment.words import name_of
from .inputs import Unsure, unsure_in
from .possible import Case

DRAWS = 100
STEPS = 20
"""Values of one thing that are tried, each in the middle of its slice."""
_LOOKS = (0, STEPS // 2, STEPS - 1)
"""Where nothing changes at these, the steps between are not tried."""
Names = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """How much the first train hangs on what is not known exactly."""

    share: Decimal
    """Share of the draws in which the first train has the same stages in the same order."""
    tests: tuple[MeasureFirst, ...]
    why: tuple[Message, ...] = ()
    """The share in words; empty where nothing is open."""


def measure(
    case: Case, trains: Sequence[Train], shelf: Shelf | None = None, seed: int = 0
) -> Measured | None:
    """Return what the draws tell of the first of these trains; None where there is no train.

    The same input and seed give the same answer.
    """
    if not trains:
        return None
    first = tuple(stage.stage for stage in trains[0].stages)
    unsure = unsure_in(case)
    if not unsure:
        return Measured(Decimal(1), ())
    same = sum(first_train(one, shelf) == first for one in _draws(case, unsure, seed))
    share = Decimal(same) / DRAWS
    tests = (_tested(one, case, first, shelf) for one in unsure)
    order = sorted((one for one in tests if one.changes), key=lambda one: (-one.changes, one.test))
    return Measured(share, tuple(order), tuple(_why(share, order, trains[0])))


def _why(share: Decimal, tests: Sequence[MeasureFirst], first: Train) -> Iterator[Message]:
    """Yield the share in words, that no test would change anything, and what was not varied."""
    yield say("measuring.share", count=round(share * 100))
    if not tests:
        yield say("measuring.none_changes")
    open_ = sum(one.holds is None for stage in first.stages for one in stage.conditions)
    if open_:
        yield say(f"measuring.not_varied_{'one' if open_ == 1 else 'many'}", count=open_)


def with_measuring(view: SampleView, case: Case, shelf: Shelf | None = None) -> SampleView:
    """Return a view with the first train's share and the tests; where no train is, as it was."""
    told = measure(case, view.trains, shelf)
    if told is None:
        return view
    first = replace(view.trains[0], share=told.share, for_=(*view.trains[0].for_, *told.why))
    return replace(view, trains=(first, *view.trains[1:]), measure_first=told.tests)


def first_train(case: Case, shelf: Shelf | None = None) -> Names:
    """Return the stages of the train that is chosen first; empty where none is."""
    water = Water(case.findings, case.sample, case.site, case.beside)
    chosen = Search(water, {want.need: want for want in wanted(water)}, shelf).first()
    return tuple(passage.draft.stage for passage in chosen.line) if chosen else ()


def _draws(case: Case, unsure: Sequence[Unsure], seed: int) -> list[Case]:
    chance = np.random.default_rng(seed)
    shares = [(chance.permutation(DRAWS) + chance.random(DRAWS)) / DRAWS for _ in unsure]
    cases = []
    for number in range(DRAWS):
        one = case
        for thing, share in zip(unsure, shares, strict=True):
            one = thing.put(one, float(share[number]))
        cases.append(one)
    return cases


def _tested(thing: Unsure, case: Case, first: Names, shelf: Shelf | None) -> MeasureFirst:
    """Return a test with how often its outcome alone would change the first train."""

    def changed(step: int) -> bool:
        return first_train(thing.put(case, (step + 0.5) / STEPS), shelf) != first

    looked = {step: changed(step) for step in _LOOKS}
    if any(looked.values()):
        looked |= {step: changed(step) for step in range(STEPS) if step not in looked}
    share = Decimal(sum(looked.values())) / STEPS
    name = {"name": name_of(thing.about)} if thing.about else {}
    how = say(f"measuring.do_{thing.test}", **name)
    return MeasureFirst(
        thing.name, share, (how, say("measuring.changes", count=round(share * 100)))
    )
