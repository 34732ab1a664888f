"""What the pictures of the first choice show: the way of the water, and before and after."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from welltold.interpretation import Need, Quantity, Train, WaterAfter

from ..change_bars import Change, ChangeBars
from ..numbers import Scaled, reader_unit, rounded, trimmed, with_unit
from ..train_picture import Box, TrainPicture
from ..wording import analyte_name, in_sentence, stage_name, word

MOST = 5
"""Quantities that are followed through the train."""
_ADDED = ("sodium", "hardness")
"""What a stage puts into the water, and a reader asks about."""
_DIGITS, _SPAN_DIGITS = 3, 2
"""Digits of an amount, and of the ends of a span, which is never that exact."""
_AS_BEFORE = Decimal("0.95")
"""A span that reaches up to this share of what came in says only: test here."""


def train_picture(train: Train) -> TrainPicture | None:
    """Return the row of stages with the water behind each; None where no water was worked out."""
    if not train.water or len(train.water) != len(train.stages) + 1:
        return None
    boxes = tuple(_boxes(train, _followed(train)))
    told = [
        word("picture_step", place=box.name, water="; ".join(box.water))
        if box.water
        else word("picture_place", place=box.name)
        for box in boxes
    ]
    return TrainPicture(boxes, word("picture_alt", steps=" ".join(told)))


def change_bars(train: Train, needs: Sequence[Need]) -> ChangeBars | None:
    """Return before and after for what the train is there for; None where nothing can be told."""
    if not train.water:
        return None
    made = (_change(slug, train, needs) for slug in _followed(train) if slug != "ph")
    changes = tuple(change for change in made if change)
    if not changes:
        return None
    told = [
        word(
            "bars_alt_one",
            name=one.name,
            before=one.before_words,
            after=one.after_words,
            where=in_sentence(one.where),
        )
        for one in changes
    ]
    goal = word("bars_goal") if any(one.goal is not None for one in changes) else ""
    return ChangeBars(changes, word("bars_before"), goal, word("bars_alt", changes=" ".join(told)))


def _followed(train: Train) -> list[str]:
    """Return what is worth following: what the stages are there for, and what they put in."""
    water = train.water or ()
    wanted = dict.fromkeys(slug for stage in train.stages for slug in stage.for_)
    added = [slug for slug in _ADDED if slug not in wanted and _rises(slug, water)]
    known = [slug for slug in wanted if slug in water[0].values]
    known.sort(key=lambda slug: slug not in water[-1].values)
    return (known[: MOST - len(added)] + added)[:MOST]


def _rises(slug: str, water: Sequence[WaterAfter]) -> bool:
    first, last = (at.values.get(slug) for at in (water[0], water[-1]))
    if first is None or last is None or last.low is None:
        return False
    top = first.high if first.high is not None else first.value
    return top is not None and last.low > top * Decimal("1.1")


def _boxes(train: Train, followed: Sequence[str]) -> Iterator[Box]:
    water = train.water or ()
    scales = {slug: _scale(one) for slug, one in water[0].values.items()}
    yield Box(word("picture_well"), "place", tuple(_new(followed, None, water[0], scales)))
    inside = False
    for number, stage in enumerate(train.stages):
        if stage.place == "point_of_use" and not inside:
            inside = True
            yield Box(word("picture_house"), "place", ())
        lines = tuple(_new(followed, water[number], water[number + 1], scales))
        yield Box(stage_name(stage.stage), "stage", lines)
    yield Box(word("picture_kitchen" if inside else "picture_house"), "place", ())


def _new(
    slugs: Iterable[str],
    before: WaterAfter | None,
    after: WaterAfter,
    scales: Mapping[str, Scaled],
) -> Iterator[str]:
    """Yield the quantities that this place changes, or no longer lets anybody foretell."""
    for slug in slugs:
        was = before.values.get(slug) if before else None
        now = after.values.get(slug)
        name = analyte_name(slug)
        if now is None:
            if before is None or was is not None:
                yield word("picture_test", name=name)
        elif now != was and was is not None and slug != "ph" and _untold(was, now):
            yield word("picture_test", name=name)
        elif now != was:
            yield word("picture_water", name=name, amount=_amount(now, scales[slug]))


def _scale(quantity: Quantity) -> Scaled:
    return reader_unit(quantity.unit, quantity.value or quantity.high)


def _amount(quantity: Quantity, scale: Scaled) -> str:
    """Return the amount, or the span in which it lies, for a reader."""
    digits = _DIGITS if quantity.value is not None else _SPAN_DIGITS
    value, low, high = (
        None if one is None else trimmed(rounded(scale.of(one), digits))
        for one in (quantity.value, quantity.low, quantity.high)
    )
    if value is not None:
        return with_unit(value, scale.unit)
    if high is None:
        return word("picture_from", low=with_unit(low or Decimal(0), scale.unit))
    if not low:
        return word("picture_up_to", high=with_unit(high, scale.unit))
    if low == high:
        return with_unit(high, scale.unit)
    return word("picture_range", low=with_unit(low, None), high=with_unit(high, scale.unit))


def _change(slug: str, train: Train, needs: Sequence[Need]) -> Change | None:
    """Return one pair of bars; None where an end is open, the units differ or nothing is foretold.

    What the whole house gets counts; the kitchen tap only for what nothing else changes.
    """
    water = train.water or ()
    inside = sum(stage.place == "whole_house" for stage in train.stages)
    first, house, tap = (water[at].values.get(slug) for at in (0, inside, -1))
    at_tap = house == first
    last = tap if at_tap else house
    if first is None or last is None or (first.unit, first.basis) != (last.unit, last.basis):
        return None
    before, most = _end(first), _end(last)
    if before is None or most is None or _untold(first, last):
        return None
    least = last.low if last.low is not None else last.value or Decimal(0)
    goal = _goal(slug, first, needs)
    widest = max(before, most, goal or Decimal(0))
    if not widest:
        return None
    scale = _scale(first)
    return Change(
        name=analyte_name(slug),
        before=_percent(before, widest),
        before_words=_amount(first, scale),
        after=(_percent(least, widest), _percent(most, widest)),
        after_words=_amount(last, scale),
        goal=None if goal is None else _percent(goal, widest),
        where=word("bars_tap") if at_tap else word("bars_after"),
    )


def _end(quantity: Quantity) -> Decimal | None:
    return quantity.value if quantity.value is not None else quantity.high


def _untold(before: Quantity, after: Quantity) -> bool:
    """Whether all that is known of the water behind is that it has no more than the water ahead."""
    was, most = _end(before), _end(after)
    if was is None or most is None or after.low is None:
        return False
    return after.low < was and most >= was * _AS_BEFORE


def _goal(slug: str, like: Quantity, needs: Sequence[Need]) -> Decimal | None:
    """Return the value that the treatment has to reach, where it stands in the same unit."""
    for need in needs:
        goal = need.goal
        if slug in need.analytes and goal and (goal.unit, goal.basis) == (like.unit, like.basis):
            return goal.value
    return None


def _percent(value: Decimal, widest: Decimal) -> float:
    return round(float(100 * value / widest), 1)
