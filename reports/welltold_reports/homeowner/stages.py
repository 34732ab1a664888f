"""Treatment stages to consider, other steps, and what was left out."""

from __future__ import annotations

from welltold.interpretation import Condition, SampleView, Stage, Train

from ..wording import analyte_names, has_word, stage_name, texts, word
from .model import ConditionRow, Entry, StageBlock, TrainBlock

_HOLDS = {True: "holds_yes", False: "holds_no", None: "holds_unknown"}


def stage_intro(sample: SampleView) -> tuple[str, ...]:
    """Return what is said before the trains: that nothing is needed, or that nothing is an order."""
    return (word("stages_intro") if sample.trains else word("stages_none"),)


def train_blocks(sample: SampleView) -> tuple[TrainBlock, ...]:
    """Return the trains in order of preference."""
    return tuple(_train(number, train) for number, train in enumerate(sample.trains, start=1))


def step_entries(sample: SampleView) -> tuple[Entry, ...]:
    """Return the steps that are not equipment."""
    return tuple(Entry(step_name(one.step), texts(one.why)) for one in sample.steps)


def refused_entries(sample: SampleView) -> tuple[Entry, ...]:
    """Return the stages that were considered and left out."""
    return tuple(Entry(stage_name(one.stage), texts(one.why)) for one in sample.refused)


def step_name(slug: str) -> str:
    """Return the plain name of a step."""
    return word(f"step_{slug}") if has_word(f"step_{slug}") else stage_name(slug)


def train_heading(number: int) -> str:
    """Return "First choice", "Choice 2" ..."""
    return word("train_first") if number == 1 else word("train_other", n=number)


def _train(number: int, train: Train) -> TrainBlock:
    return TrainBlock(
        heading=train_heading(number),
        stages=tuple(_stage(stage) for stage in train.stages),
        left=word("train_left", names=analyte_names(train.left)) if train.left else "",
        for_=texts(train.for_),
        against=texts(train.against),
    )


def _stage(stage: Stage) -> StageBlock:
    place = word(f"stage_place_{stage.place}")
    purpose = word("stage_for", names=analyte_names(stage.for_)) if stage.for_ else ""
    return StageBlock(
        name=f"{stage_name(stage.stage)}, {place}",
        purpose=purpose,
        because=texts(stage.because),
        conditions=tuple(_condition(one) for one in stage.conditions),
        cautions=texts(stage.cautions),
    )


def _condition(one: Condition) -> ConditionRow:
    return ConditionRow(one.asks, one.has, word(_HOLDS[one.holds]), one.citation)


