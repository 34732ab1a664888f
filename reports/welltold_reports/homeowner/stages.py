"""Treatment stages to consider, other steps, and what was left out."""

from __future__ import annotations

from decimal import Decimal

from welltold.interpretation import Need, SampleView, Stage, Train
from welltold.messages import say
from welltold.sizing.rules import rule

from ..numbers import plain, rounded
from ..wording import analyte_names, counted, in_sentence, listed, stage_name, texts, word
from .model import Entry, StageBlock, TrainBlock
from .train_pictures import change_bars, train_picture

_INTRO = ("nothing_needed", "nothing_told", "professional")
"""Steps that say what the section on stages begins with."""


GRAVE = frozenset({"treatment.caution_dumping"})
"""Cautions about health, which are told of a choice whose stages are only named too."""
_ADDS_SODIUM = "treatment.caution_sodium"
_SODIUM = "size.sodium_added_mg_l"


def stage_intro(sample: SampleView) -> tuple[str, ...]:
    """Return what is said before the trains: nothing is needed, or nothing is an order."""
    said = texts(why for step in sample.steps if step.step in _INTRO for why in step.why)
    if said:
        return said
    if sample.trains:
        return (word("stages_intro"),)
    needed = sample.needs or any(f.verdict == "health_concern" for f in sample.findings)
    return (word("stages_none_named" if needed else "stages_none"),)


def train_blocks(sample: SampleView) -> tuple[TrainBlock, ...]:
    """Return the trains in order of preference."""
    needs = sample.needs
    return tuple(_train(n, train, needs) for n, train in enumerate(sample.trains, start=1))


def step_lines(sample: SampleView) -> tuple[str, ...]:
    """Return the steps that are not equipment, each as its sentences; what to measure is first."""
    tests = [one.why for one in sample.measure_first or ()]
    steps = [one.why for one in sample.steps if one.step not in _INTRO]
    return tuple(" ".join(texts(why)) for why in (*tests, *steps))


def refused_entries(sample: SampleView) -> tuple[Entry, ...]:
    """Return the stages that were considered and left out."""
    return tuple(Entry(stage_name(one.stage), texts(one.why)) for one in sample.refused)


def train_heading(number: int) -> str:
    """Return "First choice", "Choice 2" ..."""
    return word("train_first") if number == 1 else word("train_other", n=number)


def _train(number: int, train: Train, needs: tuple[Need, ...]) -> TrainBlock:
    brief = number > 1
    grave = (one for stage in train.stages for one in stage.cautions if one.code in GRAVE)
    left = "" if brief or not train.left else word("train_left", names=analyte_names(train.left))
    names = listed([in_sentence(stage_name(stage.stage)) for stage in train.stages])
    return TrainBlock(
        heading=train_heading(number),
        names=word("train_stages", names=names[:1].upper() + names[1:]),
        stages=() if brief else _stages(train),
        left=left,
        for_=texts(train.for_),
        against=(*texts(train.against), *(texts(grave) if brief else ())),
        picture=None if brief else train_picture(train),
        bars=None if brief else change_bars(train, needs),
    )


def _stages(train: Train) -> tuple[StageBlock, ...]:
    """Return the stages in full; a caution that several of them share stands at the first."""
    said: set[str] = set()
    blocks = []
    for stage in train.stages:
        cautions = [text for text in _cautions(stage) if text not in said]
        said.update(cautions)
        blocks.append(_stage(stage, tuple(cautions)))
    return tuple(blocks)


def _stage(stage: Stage, cautions: tuple[str, ...]) -> StageBlock:
    """Return one stage; what has to be measured first is counted here, listed on the work sheet."""
    unknown = sum(one.holds is None for one in stage.conditions)
    place = word(f"stage_place_{stage.place}")
    purpose = word("stage_for", names=analyte_names(stage.for_)) if stage.for_ else ""
    return StageBlock(
        name=f"{stage_name(stage.stage)}, {place}",
        purpose=purpose,
        because=texts(stage.because),
        open_=counted("conditions_open", unknown) if unknown else "",
        against=_failing(stage),
        cautions=cautions,
    )


def _cautions(stage: Stage) -> tuple[str, ...]:
    """Return the cautions of a stage; how much sodium it adds where that was worked out."""
    added = next((one for one in stage.worked or () if one.of == _SODIUM), None)
    if added is None or not isinstance(added.value, Decimal):
        return texts(stage.cautions)
    amount = plain(rounded(added.value, 2))
    advised = rule("sodium_advised_mg_l")
    grains = added.how.args.get("gpg")
    told = word("stage_sodium", amount=amount)
    if grains is not None:
        hard = plain(rounded(Decimal(grains.replace(",", "")), 2))
        told = word("stage_sodium_hardness", amount=amount, grains=hard)
    diet = word("stage_sodium_diet", advised=plain(advised.value))
    return tuple(
        text
        for one in stage.cautions
        for text in ((told, diet) if one.code == _ADDS_SODIUM else (one.text,))
    )


def _failing(stage: Stage) -> tuple[str, ...]:
    """Return what the stage asks for and the water does not have; the shelf is the dealer's."""
    shelf = say("sizing.asks_shelf").text
    return tuple(
        word("condition_line", asks=one.asks.rstrip("."), has=one.has)
        for one in stage.conditions
        if one.holds is False and one.asks != shelf
    )
