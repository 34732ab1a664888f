"""Where each formula may be used; outside of its range it is refused."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..tables import Row, read_table
from .arrays import Array, Given, array


@dataclass(frozen=True, slots=True)
class Formula:
    """One row of ``data/indices.csv``."""

    index: str
    unit: str
    digits: int
    formula: str
    ranges: Mapping[str, tuple[float, float]]
    """Lowest and highest value of each input."""
    citation: str
    verified: str


@cache
def formulas() -> Mapping[str, Formula]:
    """Return every formula by its index."""
    return {row.text("index"): _formula(row) for row in read_table("indices.csv")}


def inside(index: str, **values: Given) -> Array:
    """Return 1 where every value lies in its range, NaN elsewhere: multiply to refuse."""
    ok = np.ones(np.broadcast_shapes(*(array(one).shape for one in values.values())), dtype=bool)
    for name, (low, high) in formulas()[index].ranges.items():
        if name in values:
            value = array(values[name])
            ok &= (value >= low) & (value <= high)
    return np.where(ok, 1.0, np.nan)


def _formula(row: Row) -> Formula:
    row.choice("verified", frozenset({"yes", "practice", "no"}))
    row.text("range_from")  # nobody may widen a range that has no reason
    return Formula(
        row.text("index"),
        row.text("unit"),
        int(row.text("digits")),
        row.text("formula"),
        dict(_range(part, row) for part in row.text("ranges").split(";")),
        row.text("citation"),
        row.text("verified"),
    )


def _range(text: str, row: Row) -> tuple[str, tuple[float, float]]:
    try:
        name, low, high = text.split()
        return name, (float(low), float(high))
    except ValueError:
        raise row.wrong(f"ranges: {text!r} is not: name low high") from None
