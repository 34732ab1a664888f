"""Water in, stage by stage, water out."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..chemistry.arrays import Array
from ..site import Site
from ..treatment.water import Water
from .effects import LIBRARY
from .effects.run import Run
from .raw import batch_of
from .stages import effects_of
from .stream import Stream


def raw_stream(
    water: Water,
    *,
    draws: int | None = None,
    seed: int = 0,
    given: Mapping[str, Array] | None = None,
) -> Stream:
    """Return the raw water as a stream.

    Without more, the members are the corners of what the sheet leaves possible. ``draws``: so many
    random members instead, evenly from each range. ``given``: members by slug, in the unit and
    basis of the registry (``ph``; ``temperature`` in Celsius), all of one length.
    """
    return Stream(water, batch_of(water, draws, seed, given))


def after(
    stage: str,
    stream: Stream,
    size: Mapping[str, Any] | None = None,
    site: Site | None = None,
) -> Stream:
    """Return the water behind a stage.

    ``size``: quantities with the unit in their names, as far as the stage is sized. StageRefused
    where the least inputs are missing or the water lies outside of the checked region; KeyError for
    no such stage.
    """
    batch = stream.batch.copy()
    for row in effects_of(stage):
        LIBRARY[row.do](batch, Run(stage, row, size or {}, site or stream.raw.site))
    return Stream(stream.raw, batch, (*stream.through, stage))
