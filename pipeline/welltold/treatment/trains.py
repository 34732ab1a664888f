"""Writes chosen trains down as they are published."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..interpretation import Condition, Need, Stage, Train
from ..messages import Message, say
from .cautions import cautions, more_conditions
from .conditions import Draft, judge
from .knowledge import needs, stages
from .order import Picks, line_up
from .wanted import Wanted, equipment_need
from .water import Water
from .words import names_of, stage_name


def shown_trains(
    choices: Sequence[Picks], wants: Sequence[Wanted], water: Water
) -> tuple[Train, ...]:
    """Return the trains in the same order, with what speaks for and against each."""
    lines = [line_up(picks) for picks in choices]
    return tuple(
        _train(line, picks, wants, water, lines) for line, picks in zip(lines, choices, strict=True)
    )


def extra_needs(choices: Sequence[Picks]) -> tuple[Need, ...]:
    """Return what the proposed stages themselves want of the water, each once."""
    asked: dict[str, dict[str, None]] = {}
    for picks in choices:
        for need, pick in picks.items():
            if pick.asked_by is not None:
                asked.setdefault(need, {})[pick.asked_by] = None
    return tuple(
        equipment_need(_slugs(need), [stage_name(stage) for stage in by])
        for need, by in asked.items()
    )


def _train(
    line: Sequence[Draft],
    picks: Picks,
    wants: Sequence[Wanted],
    water: Water,
    lines: Sequence[Sequence[Draft]],
) -> Train:
    left = tuple(slug for want in wants if want.need not in picks for slug in want.analytes)
    return Train(
        stages=tuple(
            _stage(draft, line[:number], wants, water) for number, draft in enumerate(line)
        ),
        left=left,
        for_=tuple(_for(line, lines)),
        against=tuple(_against(line, left)),
    )


def _stage(draft: Draft, ahead: Sequence[Draft], wants: Sequence[Wanted], water: Water) -> Stage:
    served = tuple(want for want in wants if want.need in draft.because)
    by_need = {want.need: want.analytes for want in served}
    slugs = {slug: None for need in draft.because for slug in by_need.get(need, _slugs(need))}
    conditions: tuple[Condition, ...] = (
        *(judged.shown for judged in judge(draft, ahead, water)),
        *more_conditions(draft, served),
    )
    because = {
        code: say(f"treatment.because_{code}", name=names_of(by_need.get(need, _slugs(need))))
        for need, code in draft.because.items()
    }
    return Stage(
        stage=draft.stage,
        place=draft.place,
        for_=tuple(slugs),
        because=tuple(because.values()),
        conditions=tuple(dict.fromkeys(conditions)),
        cautions=cautions(draft, served, water),
    )


def _slugs(need: str) -> tuple[str, ...]:
    """Return the analyte that stands for a need that no finding asked for."""
    return tuple(slug for slug, row in needs().items() if row.need == need)[:1]


def _for(line: Sequence[Draft], lines: Sequence[Sequence[Draft]]) -> Iterator[Message]:
    if len(lines) == 1:
        return
    if all(len(line) < len(other) for other in lines if other is not line):
        yield say("treatment.for_fewest")
    if not _salt(line) and any(map(_salt, lines)):
        yield say("treatment.for_no_salt")
    if not _chemical(line) and any(map(_chemical, lines)):
        yield say("treatment.for_no_chemical")


def _against(line: Sequence[Draft], left: tuple[str, ...]) -> Iterator[Message]:
    if _salt(line):
        yield say("treatment.against_salt")
    if _chemical(line):
        yield say("treatment.against_chemical")
    if left:
        yield say("treatment.against_left", names=names_of(left))


def _salt(line: Sequence[Draft]) -> bool:
    return any(stages()[draft.stage].salt for draft in line)


def _chemical(line: Sequence[Draft]) -> bool:
    return any(stages()[draft.stage].chemical for draft in line)
