"""What speaks for a train and what against it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from ..interpretation import WaterAfter
from ..messages import Message, say
from ..speech import in_sentence
from .knowledge import NOT_EQUIPMENT, stages
from .walk import Line
from .wanted import Wanted
from .weights import Chosen, failing
from .words import name_of, names_of, rounded, stage_name, text, with_unit

_AS_BEFORE = Decimal("0.95")
"""An end within this share of what came in foretells nothing."""


def for_(
    train: Chosen, trains: Sequence[Chosen], wants: Sequence[Wanted] = ()
) -> Iterator[Message]:
    """Yield what speaks for a train beside the others, and which of its stages health is about."""
    yield from _health(train, wants)
    others = [other for other in trains if other is not train]
    if not others:
        return
    if all(len(train.line) < len(other.line) for other in others):
        yield say("treatment.for_fewest")
    if not _has(train.line, "salt") and any(_has(other.line, "salt") for other in others):
        yield say("treatment.for_no_salt")
    if not _has(train.line, "chemical") and any(_has(other.line, "chemical") for other in others):
        yield say("treatment.for_no_chemical")


def _health(train: Chosen, wants: Sequence[Wanted]) -> Iterator[Message]:
    """Yield the stage that counts for health where others stand ahead of it.

    Water meets the stages in the order of the pipe, and a reader takes the first for the gravest.
    """
    grave = {want.need: want.analytes for want in wants if want.for_ == "health"}
    bought = [one.draft for one in train.line if one.draft.stage != NOT_EQUIPMENT]
    counts = [draft for draft in bought if grave.keys() & draft.because.keys()]
    if counts and counts[0] is not bought[0]:
        slugs = (slug for one in counts for need in one.because for slug in grave.get(need, ()))
        stages_named = ", ".join(stage_name(draft.stage) for draft in counts)
        named = ", ".join(in_sentence(name_of(slug)) for slug in dict.fromkeys(slugs))
        yield say("treatment.for_health", stage=stages_named, name=named)


def against(train: Chosen, trains: Sequence[Chosen], left: tuple[str, ...]) -> Iterator[Message]:
    """Yield what speaks against a train, with what it uses in a year as far as it is sized.

    What all trains share tells none of them apart, and stands with their stages.
    """
    for kind in ("salt", "chemical"):
        if _has(train.line, kind) and _tells_apart(kind, trains):
            yield say(f"treatment.against_{kind}")
    used = [
        text(f"treatment.{code}", amount=amount)
        for code in ("used_salt_lb", "used_water_gal")
        if (amount := _yearly(train.line, f"{code.removeprefix('used_')}_per_year"))
    ]
    if used and _has(train.line, "salt"):
        yield say("treatment.against_uses", amounts=", ".join(used))
    if any("storage_gal" in one.built.size for one in train.line if one.built):
        yield say("treatment.against_storage")
    for stage in dict.fromkeys(judged.row.stage for judged in failing(train.line)):
        yield say("treatment.against_failing", stage=stage_name(stage))
    if left:
        yield say("treatment.against_left", names=names_of(left))


def may_miss(
    train: Chosen, water: Sequence[WaterAfter], wants: Sequence[Wanted]
) -> Iterator[Message]:
    """Yield each level that the water may not reach, going by the high end of what is foretold.

    Where only what came in is known, nothing is foretold: the pages say to test there.
    """
    for want in wants:
        goal = want.shown().goal
        if want.need not in train.picks.by_need or len(want.analytes) != 1 or goal is None:
            continue
        (slug,) = want.analytes
        first, last = (at.values.get(slug) for at in (water[0], _where(train, water, want)))
        if first is None or last is None or last.high is None or goal.value is None:
            continue
        same = (last.unit, last.basis) == (goal.unit, goal.basis) == (first.unit, first.basis)
        raw = first.value if first.value is not None else first.high
        if same and raw is not None and goal.value < last.high < raw * _AS_BEFORE:
            high = with_unit(rounded(last.high), last.unit, last.basis)
            level = with_unit(goal.value, goal.unit, goal.basis)
            yield say("simulation.may_miss", name=name_of(slug), level=level, high=high)


def _where(train: Chosen, water: Sequence[WaterAfter], want: Wanted) -> WaterAfter:
    """Return the water that counts for a need: at the kitchen tap, or what the house gets."""
    if want.exposure == "drunk":
        return water[-1]
    return water[sum(one.draft.place == "whole_house" for one in train.line)]


def _tells_apart(kind: str, trains: Sequence[Chosen]) -> bool:
    return len(trains) == 1 or not all(_has(train.line, kind) for train in trains)


def _has(line: Line, kind: str) -> bool:
    return any(getattr(stages()[passage.draft.stage], kind) for passage in line)


def _yearly(line: Line, name: str) -> str:
    """Return what all stages use in a year, in two digits; "" where none is known.

    A family's use is not known any better, and the exact figures stand with the stages.
    """
    used = [one.built.use_per_year.get(name) for one in line if one.built]
    figures = [one for one in used if isinstance(one, Decimal)]
    total = sum(figures, Decimal(0))
    return f"{round(total, 1 - total.adjusted()):,.0f}" if figures else ""
