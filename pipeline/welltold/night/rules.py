"""The numbers of the worst night, read once, and the unit in which water is counted."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from functools import cache

from ..sizing.rules import needed
from ..tables import read_table


def number(name: str) -> Decimal:
    """Return one number by name; KeyError if the table has no such row."""
    return _rules()[name]


@cache
def _rules() -> Mapping[str, Decimal]:
    return {row.text("name"): needed(row, "value") for row in read_table("night_rules.csv")}


def asked(gallons: Decimal) -> int:
    """Return hundredths of a gallon, rounded up: what is needed is never made less.

    Whole hundredths keep the balance exact.
    """
    return int((gallons * 100).to_integral_value(ROUND_CEILING))


def given(gallons: Decimal) -> int:
    """Return hundredths of a gallon, rounded down: what there is, is never made more."""
    return int((gallons * 100).to_integral_value(ROUND_FLOOR))


def gallons(hundredths: int) -> Decimal:
    """Return gallons."""
    return Decimal(hundredths) / 100


def clock(minute: int) -> str:
    """Return a minute after midnight as a clock shows it; the day after begins at 00:00 again."""
    return f"{minute // 60 % 24:02}:{minute % 60:02}"
