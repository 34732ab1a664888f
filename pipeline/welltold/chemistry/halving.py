"""Looks for the pH at which something turns true, for many waters at once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from .arrays import Array, Truth, power10


@dataclass(frozen=True, slots=True)
class PhSearch:
    """How wide and how closely a pH is looked for; each round begins at the pH of the last one."""

    widths: tuple[float, ...]
    """pH units on each side, round by round; the last holds for all later rounds."""
    halvings: int

    def near(self, too_high: Callable[[Array], Truth], around: Array, turn: int) -> Array:
        """Return the pH at which ``too_high``, asked with {H}, turns true; NaN stays NaN.

        ``turn`` counts the rounds from 0.
        """
        width = self.widths[min(turn, len(self.widths) - 1)]
        low, high = around - width, around + width
        for _ in range(self.halvings):
            middle = (low + high) / 2
            over = too_high(power10(-middle))
            high, low = np.where(over, middle, high), np.where(over, low, middle)
        return np.asarray((low + high) / 2)
