"""Water in, stage by stage, water out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from ..chemistry.arrays import Array
from ..site import Site
from ..treatment.water import Amount, Water
from .effects import LIBRARY
from .effects.dose import demand
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
    drawn = draws is not None or bool(given)
    return Stream(water, batch_of(water, draws, seed, given), drawn=drawn)


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
    batch.stage = len(stream.through) + 1
    for row in effects_of(stage):
        LIBRARY[row.do](batch, Run(stage, row, size or {}, site or stream.raw.site))
    return replace(stream, batch=batch, through=(*stream.through, stage), _known={})


def oxidant_demand(stream: Stream, oxidant: str) -> Amount:
    """Return the mg/L of ``chlorine`` (as Cl2), ``peroxide``, ``permanganate`` or ``oxygen``.

    What iron, manganese, sulfide, ammonia (chlorine only) and arsenic(III) use up, as far as they
    were tested; sulfide counts from sulfur up to sulfate. KeyError for another oxidant.
    """
    needed = demand(stream.batch, oxidant)
    low, high = (Decimal(str(round(float(end), 4))) for end in (needed.min(), needed.max()))
    return Amount(low, high, sure=False)
