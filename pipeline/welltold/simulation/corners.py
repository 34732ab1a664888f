"""The corners of what is uncertain, or random draws of it.

A corner takes the low or the high end of each thing that is uncertain; things that push the same
way take their ends together.
"""

from __future__ import annotations

from itertools import product

import numpy as np

from ..chemistry.arrays import Array

EFFECTS, MANY = 8, 4
"""Effects that take an end of their own: what beds dissolve, and seven stages. More things than so
many that are uncertain at once: fewer rows of effects, or the members would be too many."""
Span = tuple[float, float]


class Corners:
    """The ends of each uncertain thing, and which member takes which."""

    def __init__(self) -> None:
        self.spans: dict[str, tuple[str, Span]] = {}

    def add(self, name: str, group: str, span: Span) -> None:
        """Note the range of a thing; those of one group take their ends together."""
        self.spans[name] = group, span

    def draw(self, count: int | None, seed: int) -> tuple[dict[str, Array], Array]:
        """Return 0 to 1 for each thing by member, and for the effects by effect and member.

        Every corner of the ranges, each with all rows of `rows_of_effects`; or ``count`` random
        draws.
        """
        if count is not None:
            chance = np.random.default_rng(seed)
            shares = {name: chance.random(count) for name in self.spans}
            return shares, chance.random((EFFECTS, count))
        groups = sorted({group for group, (low, high) in self.spans.values() if low != high})
        grid = (
            np.array(list(product((0.0, 1.0), repeat=len(groups))))
            .reshape(2 ** len(groups), len(groups))
            .T
        )
        rows = rows_of_effects(few=len(groups) > MANY)
        ends = dict(zip(groups, np.repeat(grid, rows.shape[1], axis=1), strict=True))
        effects = np.tile(rows, grid.shape[1])
        none = np.zeros(effects.shape[1])
        return {name: ends.get(group, none) for name, (group, _) in self.spans.items()}, effects


def rows_of_effects(*, few: bool) -> Array:
    """Return 0 or 1 for each of the `EFFECTS`, by column: which end of its range it takes.

    An orthogonal array: among the columns every choice of ends of any three effects occurs (of any
    two, with ``few`` columns); Hedayat, Sloane and Stufken 1999, Orthogonal Arrays.
    """
    bits = np.array(list(product((0, 1), repeat=3 if few else 4))).T
    if few:
        a, b, c = bits
        rows = [a, b, c, a ^ b ^ c, a ^ b, a ^ c, b ^ c]
    else:
        a, b, c, d = bits
        rows = [a, b, c, d, a ^ b ^ c, a ^ b ^ d, a ^ c ^ d, b ^ c ^ d]
    return np.array([rows[number % len(rows)] for number in range(EFFECTS)], dtype=float)
