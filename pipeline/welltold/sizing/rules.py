"""The tables of the sizing room, read once and checked row by row."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import Row, read_table


@dataclass(frozen=True, slots=True)
class Rule:
    """One number of ``sizing_rules.csv`` with where it comes from."""

    name: str
    value: Decimal
    unit: str
    citation: str


@dataclass(frozen=True, slots=True)
class Point:
    """One row of a table between whose rows a straight line is drawn."""

    x: Decimal
    y: Decimal
    citation: str


def rule(name: str) -> Rule:
    """Return one number by name; KeyError if the table has no such row."""
    return _rules()[name]


def number(name: str) -> Decimal:
    """Return the value of a rule."""
    return _rules()[name].value


@cache
def _rules() -> Mapping[str, Rule]:
    rows = read_table("sizing_rules.csv")
    return {
        row.text("name"): Rule(
            row.text("name"), needed(row, "value"), row.text("unit"), row.text("citation")
        )
        for row in rows
    }


@cache
def line(table: str, x: str, y: str) -> tuple[Point, ...]:
    """Return the points of one table in the order of its rows."""
    return tuple(
        Point(needed(row, x), needed(row, y), row.text("citation")) for row in read_table(table)
    )


def between(points: tuple[Point, ...], x: Decimal) -> Decimal | None:
    """Return y on the straight line between two rows; None outside of the table."""
    if not points[0].x <= x <= points[-1].x:
        return None
    low = max((point for point in points if point.x <= x), key=lambda point: point.x)
    high = min((point for point in points if point.x >= x), key=lambda point: point.x)
    if low.x == high.x:
        return low.y
    return low.y + (high.y - low.y) * (x - low.x) / (high.x - low.x)


def needed(row: Row, column: str) -> Decimal:
    """Return a number that must not be missing."""
    value = row.number(column)
    if value is None:
        raise row.wrong(f"{column} is empty")
    return value
