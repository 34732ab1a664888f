"""What every effect is given."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...chemistry.arrays import Array
from ...site import Site
from ..batch import CARBON, Batch
from ..carbonate import ph_of
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

    def left(self, batch: Batch, key: str = "left", amount: Array | None = None) -> Array:
        """Return by member what share is left: the most where removal is weakest.

        Where the inlet is not what the line asks for (``at_ph``, or ``amount`` over ``up_to``) the
        most is all of it.
        """
        low, high = self.range(key)
        most = np.full_like(batch.celsius, high)
        if "up_to" in self.row.given and amount is not None:
            most = np.where(amount <= float(self.row.given["up_to"]), most, 1.0)
        if "at_ph" in self.row.given:
            known = CARBON in batch.values
            ph = ph_of(batch) if known else np.full_like(most, np.nan)
            most = np.where(ph >= float(self.row.given["at_ph"]), most, 1.0)
        return most + (low - most) * batch.remove

    def number(self, key: str) -> float | None:
        """Return a quantity of the size, None where it is not sized or open."""
        value = self.size.get(key)
        return None if value is None or value == "" else float(value)


Effect = Callable[[Batch, Run], None]
