"""What every effect is given."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from ...chemistry.arrays import Array
from ...site import Site
from ..batch import Batch
from ..stages import EffectRow


@dataclass(frozen=True, slots=True)
class Run:
    """One stage at work: its name, one line of its file, its size and the house it stands in."""

    stage: str
    row: EffectRow
    size: Mapping[str, Any]
    """Quantities with the unit in their names, as far as it has been sized."""
    site: Site

    def of(self) -> tuple[str, ...]:
        """Return the quantities that the line names."""
        return tuple(self.row.given.get("of", ()))

    def range(self, key: str) -> tuple[float, float]:
        """Return a low and a high number of the line."""
        low, high = self.row.given[key]
        return float(low), float(high)

    def left(self, batch: Batch, key: str = "left") -> Array:
        """Return by member what share is left: the most where removal is weakest."""
        low, high = self.range(key)
        return high + (low - high) * batch.remove

    def number(self, key: str) -> float | None:
        """Return a quantity of the size, None where it is not sized or open."""
        value = self.size.get(key)
        return None if value is None or value == "" else float(value)


Effect = Callable[[Batch, Run], None]
