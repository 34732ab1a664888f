"""The cheap tests, from ``data/cheap_tests.csv``."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import Row, read_table


@dataclass(frozen=True, slots=True)
class Cheap:
    """One cheap test, with how far off the answer may be until it is made."""

    test: str
    low: Decimal | None
    """None: the sheet itself gives the range."""
    high: Decimal | None
    unit: str
    range_citation: str
    citation: str

    def at(self, share: float) -> float:
        """Return the value at a share of the way; ValueError where the table gives no range."""
        if self.low is None or self.high is None:
            raise ValueError(f"{self.test} has no range of its own")
        return float(self.low) + share * float(self.high - self.low)


@cache
def cheap_tests() -> Mapping[str, Cheap]:
    """Return every test by name."""
    return {row.text("test"): _cheap(row) for row in read_table("cheap_tests.csv")}


def _cheap(row: Row) -> Cheap:
    return Cheap(
        row.text("test"),
        row.number("low"),
        row.number("high"),
        row.cells["unit"],
        row.text("range_citation"),
        row.text("citation"),
    )
