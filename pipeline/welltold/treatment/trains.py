"""Writes chosen trains down as they are published."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from ..interpretation import Condition, Need, Stage, Train
from ..messages import Message, say
from ..night import night_of
from ..sizing import Sized, house, pump_flow
from ..sizing.written import shown
from .cautions import cautions, more_conditions
from .flow import flow_of
from .knowledge import needs
from .outlets import waters
from .sides import against, for_, may_miss
from .walk import Passage
from .wanted import Wanted, equipment_need
from .water import Water
from .weights import Chosen
from .words import names_of, stage_name


def extra_needs(trains: Sequence[Chosen]) -> tuple[Need, ...]:
    """Return what the proposed stages themselves want of the water, each once."""
    asked: dict[str, dict[str, None]] = {}
    for train in trains:
        for need, pick in train.picks.by_need.items():
            if pick.asked_by is not None:
                asked.setdefault(need, {})[pick.asked_by] = None
    return tuple(
        equipment_need(_slugs(need), [stage_name(stage) for stage in by])
        for need, by in asked.items()
    )


@dataclass(frozen=True, slots=True)
class Shown:
    """The trains of one sample, as they are published."""

    water: Water
    wants: Sequence[Wanted]
    chosen: Sequence[Chosen]

    def trains(self) -> tuple[Train, ...]:
        """Return them in the same order, with what speaks for and against each."""
        return tuple(map(self._train, self.chosen))

    def _train(self, train: Chosen) -> Train:
        left = tuple(
            slug
            for want in self.wants
            if want.need not in train.picks.by_need
            for slug in want.analytes
        )
        stages = tuple(self._stages(train))
        water = waters(self.water, train.line)
        return Train(
            stages=stages,
            water=water,
            flow=flow_of(self.water.site, train.line),
            night=night_of(self.water.site, stages) if train is self.chosen[0] else None,
            left=left,
            for_=tuple(for_(train, self.chosen, self.wants)),
            against=(*against(train, self.chosen, left), *may_miss(train, water, self.wants)),
        )

    def _stages(self, train: Chosen) -> Iterator[Stage]:
        """Yield the stages; house and pump are asked for beside the first that needs them."""
        site = self.water.site
        common = {*house(site).conditions, *pump_flow(site).conditions}
        told: set[Condition] = set()
        for passage in train.line:
            stage = self._stage(passage, told)
            told |= common & set(stage.conditions)
            yield stage

    def _stage(self, passage: Passage, told: set[Condition]) -> Stage:
        draft, built = passage.draft, passage.built
        served = tuple(want for want in self.wants if want.need in draft.because)
        by_need = {want.need: want.analytes for want in served}
        slugs = {slug: None for need in draft.because for slug in by_need.get(need, _slugs(need))}
        because = {
            code: say(f"treatment.because_{code}", name=names_of(by_need.get(need, _slugs(need))))
            for need, code in draft.because.items()
        }
        conditions = (
            *(judged.shown for judged in passage.judged),
            *([passage.open] if passage.open else []),
            *more_conditions(draft, served),
            *(one for one in (built.conditions if built else ()) if one not in told),
        )
        return Stage(
            stage=draft.stage,
            place=draft.place,
            for_=tuple(slugs),
            because=tuple(because.values()),
            conditions=tuple(dict.fromkeys(conditions)),
            size=built.size if built and built.size else None,
            settings=built.settings if built and built.size else None,
            use_per_year=built.use_per_year if built and built.size else None,
            worked=built.worked if built and built.worked else None,
            cautions=(*cautions(draft, served, self.water), *_of_size(passage.sized)),
        )


def _of_size(sized: Sized | None) -> Iterator[Message]:
    """Yield what sizing warns of, and why it is not built in the plain way."""
    if sized is None:
        return
    yield from sized.refused
    built = sized.first_way()
    if built is not sized:
        yield say(f"treatment.{_way(sized, built)}")
        yield from _other_way(sized, built)
    yield from built.cautions


def _other_way(sized: Sized, built: Sized) -> Iterator[Message]:
    """Yield the storage tank and booster that would carry one large bed, beside smaller twins."""
    tanks = built.size.get("tanks")
    if not isinstance(tanks, Decimal) or tanks < 2:
        return
    for other in sized.instead:
        if other is not built and (stored := other.size.get("storage_gal")):
            told = {"gal": shown(stored), "gpm": shown(other.size["booster_gpm"])}
            yield say("treatment.caution_or_storage", **told)


def _way(plain: Sized, built: Sized) -> str:
    """Return in which other way a stage is built."""
    if "storage_gal" in built.size:
        return "caution_built_storage"
    if built.size.get("tanks") != plain.size.get("tanks"):
        return "caution_built_twins"
    return "caution_built_lighter"


def _slugs(need: str) -> tuple[str, ...]:
    """Return the analyte that stands for a need that no finding asked for."""
    return tuple(slug for slug, row in needs().items() if row.need == need)[:1]
