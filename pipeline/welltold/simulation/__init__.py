"""What each stage does to the water, as far as the sheet and the sources let us say.

    stream = raw_stream(water)
    for stage in ("calcite_neutralizer", "softener"):
        stream = after(stage, stream)
    stream.amount("hardness", "mg/L", "CaCO3")

Nothing here decides: it says what reaches a stage. A figure is an interval that holds every water
that the sheet leaves possible; what nobody may predict is not there.
"""

from __future__ import annotations

from .refusal import StageRefused
from .run import after, oxidant_demand, raw_stream
from .stages import EffectRow, effects_of, least_inputs
from .stream import How, Stream

__all__ = [
    "EffectRow",
    "How",
    "StageRefused",
    "Stream",
    "after",
    "effects_of",
    "least_inputs",
    "oxidant_demand",
    "raw_stream",
]
