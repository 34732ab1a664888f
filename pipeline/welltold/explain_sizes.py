"""How each figure of a train was reached: the formula with its numbers, and the source.

Where a bottle was filled behind the equipment, what it tells of each stage stands below.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from difflib import get_close_matches
from typing import TYPE_CHECKING

from .explain_outlet import explain_outlet
from .messages import Message, say, speaking
from .sizing.written import shown
from .stage_files import stage_names

if TYPE_CHECKING:
    from .interpretation import Interpretation, SampleView, Stage, Worked

SIZES = "size"
"""Asks for every stage of the first train; a stage's name asks for that one, in any train."""


def explain_sizes(view: Interpretation, sample_index: int, what: str) -> tuple[Message, ...]:
    """Return each figure of a stage or of the whole first train, in the order of the water.

    Samples count from 0. IndexError where there is no such sample.
    """
    with speaking(view.language):
        sample = view.samples[sample_index]
        later = explain_outlet(sample, None if what == SIZES else what)
        told = (*_stages(sample, what), *later)
        return told or (say("explain.no_stage", name=_name(what)),)


def stage_asked(what: str) -> str | None:
    """Return what a person asks for: ``size``, or a stage by its own or its printed name."""
    return _asked().get(_plain(what))


def nearest_asked(what: str) -> tuple[str, ...]:
    """Return the stages whose names are nearest to what was written, best first."""
    near = get_close_matches(_plain(what), _asked(), n=3, cutoff=0.7)
    return tuple(dict.fromkeys(_asked()[name] for name in near))


def _asked() -> dict[str, str]:
    """Return by every name that a stage goes by, in the language spoken, its own name."""
    own = {_plain(stage): stage for stage in stage_names()}
    printed = {_plain(_name(stage)): stage for stage in stage_names()}
    return {**printed, **own, SIZES: SIZES}


def _plain(name: str) -> str:
    return " ".join(name.replace("_", " ").replace("-", " ").casefold().split())


def _stages(sample: SampleView, what: str) -> Iterator[Message]:
    if what == SIZES:
        stages = list(sample.trains[0].stages if sample.trains else ())
    else:
        named = (one for train in sample.trains for one in train.stages if one.stage == what)
        stages = [stage for stage in [next(named, None)] if stage is not None]
    for stage in stages:
        yield say("explain.stage", name=_name(stage.stage))
        yield from _figures(stage)


def _figures(stage: Stage) -> Iterator[Message]:
    if not stage.worked:
        yield say("explain.no_size")
    for worked in stage.worked or ():
        yield _figure(worked)


def _figure(worked: Worked) -> Message:
    value = shown(worked.value) if isinstance(worked.value, Decimal) else str(worked.value)
    return say(
        "explain.figure",
        of=worked.of,
        value=f"{value} {worked.unit}".rstrip(),
        how=worked.how.text,
        source=worked.citation,
    )


def _name(what: str) -> str:
    return say("explain.any_stage" if what == SIZES else f"treatment.name_{what}").text
