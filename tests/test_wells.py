"""The worked wells: what an expert expects of each is what the program says."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from wells_cases import Case, Told, cases, tell
from wells_names import QUANTITIES, STEPS, is_about, told_codes

from welltold.interpretation import Quantity, Stage, Train

ASIDE = frozenset({"sediment_filter", "shock_chlorination"})
"""Left aside where a case does not list them."""
Trains = Sequence[Train]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("wells")


@pytest.mark.parametrize("case", cases(), ids=lambda case: str(case["name"]))
def test_well(case: Case, folder: Path) -> None:
    told = tell(case, folder)
    wrong = [line for key, wanted in case["expect"].items() for line in CHECKS[key](told, wanted)]
    assert not wrong, "\n".join([*wrong, *_shown(told)])


def _shown(told: Told) -> list[str]:
    if told.view is None:
        return [f"refused: {told.refused}"]
    return [
        *(f"train: {_names(train)} left {train.left}" for train in told.sample.trains),
        *(f"refused: {no.stage}: {[w.text for w in no.why]}" for no in told.sample.refused),
        f"steps: {[step.step for step in told.sample.steps]}",
    ]


def _names(train: Train) -> list[str]:
    return [stage.stage for stage in train.stages]


def _trains(told: Told) -> Trains:
    return told.sample.trains if told.view else ()


def _any_of(entry: str, names: Sequence[str]) -> bool:
    return any(name in names for name in entry.split("|"))


def _equipment(train: Train, listed: Sequence[str] = ()) -> list[str]:
    aside = ASIDE - {name for entry in listed for name in entry.split("|")}
    return [name for name in _names(train) if name not in aside]


def trains_none(told: Told, _: bool) -> Iterator[str]:
    for train in _trains(told):
        if set(_names(train)) - {"shock_chlorination"}:
            yield f"a train of equipment: {_names(train)}"


def first_train(told: Told, wanted: list[str]) -> Iterator[str]:
    trains = _trains(told)
    first = _equipment(trains[0], wanted) if trains else []
    alike = len(first) == len(wanted) and all(
        _any_of(entry, [name]) for entry, name in zip(wanted, first, strict=True)
    )
    if not alike:
        yield f"the first train is {first}, not {wanted}"


def first_train_has(told: Told, wanted: list[str]) -> Iterator[str]:
    trains = _trains(told)
    names = _names(trains[0]) if trains else []
    yield from (f"the first train lacks {entry}" for entry in wanted if not _any_of(entry, names))


def one_train_has(told: Told, wanted: list[str]) -> Iterator[str]:
    lines = [_names(train) for train in _trains(told)]
    if not any(all(_any_of(entry, names) for entry in wanted) for names in lines):
        yield f"no train holds {wanted}"


def no_train_has(told: Told, wanted: list[str]) -> Iterator[str]:
    for train in _trains(told):
        yield from (f"{entry} stands" for entry in wanted if _any_of(entry, _names(train)))


def before(told: Told, wanted: list[list[str]]) -> Iterator[str]:
    for names in map(_names, _trains(told)):
        for first, second in wanted:
            ones = [names.index(name) for name in first.split("|") if name in names]
            others = [names.index(name) for name in second.split("|") if name in names]
            if ones and others and max(ones) > min(others):
                yield f"{first} does not stand before {second} in {names}"


def refused(told: Told, wanted: list[str]) -> Iterator[str]:
    reasons = {no.stage for no in told.sample.refused if no.why}
    yield from (f"{stage} is not refused" for stage in wanted if stage not in reasons)
    yield from no_train_has(told, wanted)


def place(told: Told, wanted: Mapping[str, str]) -> Iterator[str]:
    for stage in _stages(told):
        if wanted.get(stage.stage, stage.place) != stage.place:
            yield f"{stage.stage} stands at {stage.place}"


def _stages(told: Told) -> Iterator[Stage]:
    for train in _trains(told):
        yield from train.stages


def steps_have(told: Told, wanted: list[str]) -> Iterator[str]:
    assert told.view is not None
    codes = told_codes(told.view, told.sample)
    yield from (
        f"{name} is not told: {sorted(codes)}" for name in wanted if not codes & set(STEPS[name])
    )


def conditions(told: Told, wanted: list[Mapping[str, Any]]) -> Iterator[str]:
    for one in wanted:
        for train in _trains(told):
            yield from _condition(train, one)


def _condition(train: Train, wanted: Mapping[str, Any]) -> Iterator[str]:
    names = _names(train)
    for number, stage in enumerate(train.stages):
        ahead = {
            *names[:number],
            *(["storage_tank"] if "storage_gal" in (stage.size or {}) else []),
        }
        if not _any_of(wanted["stage"], [stage.stage]) or ahead & set(
            wanted.get("with_none_of", ())
        ):
            continue
        found = [c for c in stage.conditions if is_about(wanted["about"], c.asks)]
        yield from _judged(wanted, stage, [c.holds for c in found])


def _judged(wanted: Mapping[str, Any], stage: Stage, found: list[bool | None]) -> Iterator[str]:
    holds, said = wanted["holds"], f"{stage.stage}: {wanted['about']}"
    if wanted["about"] == "iron_form" and "iron" not in stage.for_:
        return  # it is only asked where the stage is to take the iron
    if holds is False:
        if found and False not in found:
            yield f"{said} is {found}, not failing"
        if not found:
            yield f"{said} is not asked"
    elif holds is True:
        if not found or set(found) != {True}:
            yield f"{said} is {found}, not holding"
    else:
        allowed = {"true": True, "unknown": None, "false": False}
        if not {allowed[word] for word in holds.split("|")} & set(found):
            yield f"{said} is {found}, not {holds}"


def sizes(told: Told, wanted: list[Mapping[str, Any]]) -> Iterator[str]:
    for one in wanted:
        yield from _size(told, one)


def _size(told: Told, wanted: Mapping[str, Any]) -> Iterator[str]:
    low, high = wanted.get("between") or (
        wanted["equals"] - wanted["within"],
        wanted["equals"] + wanted["within"],
    )
    for train in _trains(told):
        if wanted.get("with", _names(train)[0]) not in _names(train):
            continue
        for stage in train.stages:
            if _any_of(wanted["stage"], [stage.stage]):
                value = _figure(stage, wanted["quantity"])
                if value is None:
                    continue
                if not Decimal(str(low)) <= value <= Decimal(str(high)):
                    yield f"{stage.stage} {wanted['quantity']} is {value}, not {low} to {high}"
                return


def _figure(stage: Stage, quantity: str) -> Decimal | None:
    for name in QUANTITIES.get(quantity, (quantity,)):
        for part in (stage.size, stage.settings, stage.use_per_year):
            value = (part or {}).get(name)
            if isinstance(value, Decimal):
                return value
    return None


def water(told: Told, wanted: list[Mapping[str, Any]]) -> Iterator[str]:
    for one in wanted:
        low, high = one["between"]
        for train in _trains(told):
            for after in train.water or ():
                shown = after.values.get(one["analyte"])
                if after.after == one["after"] and shown and not _inside(shown, low, high):
                    yield f"{one['analyte']} after {after.after} is {shown}"


def _inside(shown: Quantity, low: float, high: float) -> bool:
    ends = [end for end in (shown.low, shown.high) if end is not None]
    return all(Decimal(str(low)) <= end <= Decimal(str(high)) for end in ends)


def flow(told: Told, wanted: Mapping[str, Any]) -> Iterator[str]:
    for train in _trains(told):
        shown = train.flow
        assert shown is not None
        if "pump_gpm" in wanted and (
            shown.pump_gpm is None
            or abs(shown.pump_gpm - Decimal(str(wanted["pump_gpm"]))) > Decimal("0.01")
        ):
            yield f"pump_gpm is {shown.pump_gpm}"
        at_most = wanted.get("backwash_at_most")
        if at_most is not None and shown.fits and (shown.backwash_gpm or 0) > at_most:
            yield f"{shown.backwash_gpm} gpm is said to fit"
        fits = {True: True, False: False, "unknown": None}.get(wanted.get("fits", shown.fits))
        if shown.backwash_gpm is not None and fits is not shown.fits:
            yield f"fits is {shown.fits}"
        if wanted.get("fits_not") and shown.fits:
            yield "a train is said to fit"


def left(told: Told, wanted: list[str]) -> Iterator[str]:
    first = _trains(told)[0]
    for slug in wanted:
        if slug not in first.left or not any(m.code.endswith("left") for m in first.against):
            yield f"{slug} is not told as left: {first.left}"


def no_sizes(told: Told, _: bool) -> Iterator[str]:
    yield from (f"{stage.stage} is sized" for stage in _stages(told) if stage.size)


def site_doubt(told: Told, wanted: list[str]) -> Iterator[str]:
    if told.view is None:
        if not any(key in (told.refused or "") for key in wanted):
            yield f"refused for {told.refused}"
        return
    asked = " ".join(f"{c.asks} {c.has}" for s in _stages(told) for c in s.conditions)
    if not ("pump tests agree" in asked or "timed again" in asked):
        yield "nobody doubts the pump"


def existing(told: Told, wanted: list[Mapping[str, str]]) -> Iterator[str]:
    said = {one.stage: one.do for one in told.sample.existing or ()}
    for one in wanted:
        if said.get(one["stage"]) not in one["advice"].split("|"):
            yield f"{one['stage']}: {said.get(one['stage'])}, not {one['advice']}"


CHECKS = {
    check.__name__: check
    for check in (
        trains_none, first_train, first_train_has, one_train_has, no_train_has, before, refused,
        place, steps_have, conditions, sizes, water, flow, left, no_sizes, site_doubt, existing,
    )
}  # fmt: skip
