"""The water's way through a line of stages: what reaches each, whether it suits, and the size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..interpretation import Condition
from ..messages import say
from ..simulation import StageRefused, Stream, after, raw_stream
from ..site import Site
from ..sizing import Shelf, Sized, size_stage
from .conditions import Ahead, Judged, judge
from .drafts import Draft
from .knowledge import stages
from .water import Water

_ACID_STAGES = frozenset({"ph", "alkalinity", "carbon", "carbon_dioxide", "sodium"})
"""What a stage for acid water changes beside what its file says that it raises."""


Behind = tuple[Stream, Condition | None]
"""What leaves a stage; beside it what has to be measured before anybody can tell."""


@dataclass(frozen=True)
class Passage:
    """One stage of a line, with the water in front of it and behind it."""

    draft: Draft
    inlet: Stream
    judged: tuple[Judged, ...]
    sized: Sized | None
    """None while it is not asked for."""
    leave: Callable[[], Behind]
    """Works out what leaves it; asked once, and only where something stands behind it."""

    @cached_property
    def _behind(self) -> Behind:
        return self.leave()

    @property
    def outlet(self) -> Stream:
        """The water behind it."""
        return self._behind[0]

    @property
    def open(self) -> Condition | None:
        """What has to be measured before anybody can tell what leaves it."""
        return self._behind[1]

    @property
    def broken(self) -> Judged | None:
        """The first condition that cannot be met; None if there is none."""
        return next((judged for judged in self.judged if judged.broken), None)

    @property
    def can_be_built(self) -> bool:
        """Whether there is a way to build it here, as far as it is sized."""
        return self.sized is None or not self.sized.refused or bool(self.sized.instead)

    @property
    def built(self) -> Sized | None:
        """The way in which it is built: the plain one, or the first other one."""
        return None if self.sized is None else self.sized.first_way()


Line = tuple[Passage, ...]
_Key = tuple[bool, tuple[tuple[str, str, tuple[str, ...]], ...]]


class Walker:
    """Lets the water of one well run through lines, and keeps what their beginnings share."""

    def __init__(self, water: Water, shelf: Shelf | None = None) -> None:
        self.water, self.shelf = water, shelf
        # whoever asks knows that this water is raw, whatever stands ahead of other samples
        self.site = replace(water.site, equipment=replace(water.site.equipment, after=()))
        self.raw = raw_stream(water)
        self._kept: dict[_Key, Passage] = {}
        self._left: dict[tuple[str, ...], Behind] = {}
        """What leaves lines without sizes: it does not ask what the stages are there for."""

    def through(self, drafts: Sequence[Draft], *, sized: bool = False) -> Line:
        """Return every stage of a line with its water; ``sized``: with sizes too."""
        line: list[Passage] = []
        for number, draft in enumerate(drafts):
            key = sized, tuple(one.key for one in drafts[: number + 1])
            if key not in self._kept:
                self._kept[key] = self._pass(draft, line, sized=sized)
            kept = self._kept[key]
            line.append(kept)
        return tuple(line)

    def until_broken(self, drafts: Sequence[Draft]) -> Iterator[Passage]:
        """Yield the stages one by one, so that a line that breaks early costs little."""
        for number in range(1, len(drafts) + 1):
            yield self.through(drafts[:number])[-1]

    def _pass(self, draft: Draft, line: Sequence[Passage], *, sized: bool) -> Passage:
        inlet = line[-1].outlet if line else self.raw
        ahead = Ahead(tuple(one.draft for one in line), tuple(one.inlet for one in line))
        size = self._size(draft, inlet) if sized else None
        names = (*(one.draft.stage for one in line), draft.stage)

        def leave() -> Behind:
            if size is not None:
                return _behind(draft.stage, inlet, size, self.site)
            if names not in self._left:
                self._left[names] = _behind(draft.stage, inlet, None, self.site)
            return self._left[names]

        return Passage(draft, inlet, judge(draft, ahead, inlet), size, leave)

    def _size(self, draft: Draft, inlet: Stream) -> Sized:
        return size_stage(draft.stage, draft.because, inlet, self.site, self.shelf)


def _behind(stage: str, inlet: Stream, size: Sized | None, site: Site) -> Behind:
    """Return what leaves a stage; where it cannot be told, what nobody knows behind it."""
    figures = size.first_way().size if size else None
    try:
        return after(stage, inlet, figures, site), None
    except StageRefused as refused:
        why = Condition(say("treatment.ask_told").text, refused.why.text, None, _source(stage))
        return _blind(stage, inlet), why


def _blind(stage: str, inlet: Stream) -> Stream:
    """Return the water behind a stage that nobody can work out: all that it changes is not told."""
    row = stages()[stage]
    batch = inlet.batch.copy()
    changed = {*row.raises, *row.treats}
    if "low_ph" in row.treats:
        changed |= _ACID_STAGES
    if "hardness" in changed:
        changed |= {"calcium", "magnesium"}
    for name in changed:
        batch.values.pop(name, None)
    batch.found = None
    batch.untold |= changed
    return Stream(inlet.raw, batch, (*inlet.through, stage))


def _source(stage: str) -> str:
    return stages()[stage].citation
