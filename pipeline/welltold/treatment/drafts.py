"""A stage of a train that is being put together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from .knowledge import Place, stages


@dataclass(frozen=True, slots=True)
class Draft:
    """A stage, where it stands and what it is there for."""

    stage: str
    place: Place
    because: Mapping[str, str] = field(default_factory=dict)
    """By need: the code of the reason."""

    def cures(self, need: str) -> bool:
        """Return whether the water behind it is better in that respect."""
        return need in self.because or stages()[self.stage].treats[:1] == (need,)

    @property
    def key(self) -> tuple[str, str, tuple[str, ...]]:
        """What decides how it is judged and sized."""
        return self.stage, self.place, tuple(sorted(self.because))
