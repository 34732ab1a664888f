"""A stage that cannot be worked out for a water."""

from __future__ import annotations

from ..messages import Message, say
from ..treatment.words import names_of, stage_name


class StageRefused(Exception):  # noqa: N818 - an answer, not a fault
    """What the stage does to this water cannot be told.

    ``missing``: the least inputs that nobody measured; empty where the water lies outside of the
    region in which the computation was checked.
    """

    def __init__(self, stage: str, missing: tuple[str, ...] = (), outside: str | None = None):
        super().__init__(stage, missing, outside)
        self.stage, self.missing, self.outside = stage, missing, outside

    @property
    def why(self) -> Message:
        """Return the sentence for the reader."""
        name = stage_name(self.stage)
        if self.missing:
            return say("simulation.missing", stage=name, names=names_of(self.missing))
        return say("simulation.outside", stage=name, name=names_of((self.outside or "ph",)))
