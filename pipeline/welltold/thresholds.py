"""The numbers by which welltold itself decides, from ``data/thresholds.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cache

from .tables import read_table


@cache
def _table() -> Mapping[str, Decimal]:
    rows = {row.text("name"): row.number("value") for row in read_table("thresholds.csv")}
    return {name: value for name, value in rows.items() if value is not None}


def threshold(name: str) -> Decimal:
    """Return one number by name, a share as a part of 1; KeyError if the table has no such row."""
    return _table()[name]


def sure(confidence: float) -> bool:
    """Whether a value was read well enough to decide something."""
    return confidence >= float(threshold("sure_reading"))
