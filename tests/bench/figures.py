"""One measured figure beside its goal."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure; ``goal`` is an upper bound, or a lower one when ``at_least`` is set."""

    name: str
    value: float
    unit: str
    goal: float | None = None
    at_least: bool = False

    @property
    def reached(self) -> bool:
        """Whether the goal is reached; a figure without a goal is only shown."""
        if self.goal is None:
            return True
        return self.value >= self.goal if self.at_least else self.value <= self.goal

    def __str__(self) -> str:
        shown = f"{self.name:<66} {self.value:>9.3f} {self.unit:<8}"
        if self.goal is None:
            return shown
        sign = ">=" if self.at_least else "<="
        return f"{shown} goal {sign} {self.goal:g}{'' if self.reached else '   MISSED'}"
