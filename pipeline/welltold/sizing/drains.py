"""The drain flow control that belongs to a tank."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cache

from ..tables import read_table
from .bed import Bed
from .rules import needed
from .sized import PRACTICE

_PUBLISHED = {
    Decimal(5): "resin_5",
    Decimal(10): "bed_10",
    Decimal("2.8"): "fine_2.8",
}


@cache
def _published() -> Mapping[tuple[str, Decimal], tuple[Decimal, str]]:
    rows = (row for row in read_table("sizing_drains.csv") if row.text("medium") != "stock")
    return {
        (row.text("medium"), needed(row, "diameter_in")): (needed(row, "gpm"), row.text("citation"))
        for row in rows
    }


@cache
def stock() -> tuple[Decimal, ...]:
    """Return the drain flow controls on the market in gpm, smallest first."""
    rows = (row for row in read_table("sizing_drains.csv") if row.text("medium") == "stock")
    return tuple(sorted(needed(row, "gpm") for row in rows))


def published_drain(rate: Decimal, diameter_in: Decimal) -> tuple[Decimal, str] | None:
    """Return the drain control in gpm that a valve manual prints for a tank, and its source."""
    return _published().get((_PUBLISHED.get(rate, ""), diameter_in))


def drain_control(bed: Bed, rate: Decimal) -> tuple[Decimal, str, str]:
    """Return the drain control of one tank in gpm, the code of its sentence and its source.

    What a valve manual prints for the tank goes first. Else it is the smallest in stock that lets
    the whole backwash pass: through a smaller one the bed is not washed, while a somewhat larger
    one passes what the pump gives.
    """
    found = published_drain(rate, bed.tank.diameter_in)
    if found:
        return found[0], "drain_printed", found[1]
    passing = (size for size in stock() if size >= bed.backwash_gpm)
    return next(passing, bed.backwash_gpm), "drain", PRACTICE
