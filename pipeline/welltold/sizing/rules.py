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
class Medium:
    """One medium; rates in US gallons a minute for each square foot, at 50 F."""

    medium: str
    service: Decimal | None
    """None: sized by volume, not by area."""
    peak: Decimal | None
    backwash: Decimal
    backwash_low: Decimal
    backwash_high: Decimal
    expansion: Decimal
    """Share of its depth by which the bed lifts."""
    bed_low_in: Decimal
    bed_high_in: Decimal
    citation: str


@dataclass(frozen=True, slots=True)
class Tank:
    """One tank that is on the market."""

    diameter_in: Decimal
    height_in: Decimal
    media_ft3: Decimal
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
def media() -> Mapping[str, Medium]:
    """Return every medium by name."""
    return {row.text("medium"): _medium(row) for row in read_table("sizing_media.csv")}


@cache
def stage_media(stage: str, needs: frozenset[str]) -> tuple[Medium, ...]:
    """Return what a stage is built with when it is there for these needs, the usual one first."""
    rows = [row for row in read_table("sizing_stage_media.csv") if row.text("stage") == stage]
    picked = [row for row in rows if row.optional("need") is None or row.text("need") in needs]
    if any(row.optional("need") for row in picked):
        picked = [row for row in picked if row.optional("need")]
    return tuple(media()[row.text("medium")] for row in sorted(picked, key=_rank))


@cache
def tanks() -> tuple[Tank, ...]:
    """Return the tanks, smallest first."""
    return tuple(
        Tank(
            needed(row, "diameter_in"),
            needed(row, "height_in"),
            needed(row, "media_ft3"),
            row.text("citation"),
        )
        for row in read_table("sizing_tanks.csv")
    )


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


def _rank(row: Row) -> Decimal:
    return needed(row, "rank")


def _medium(row: Row) -> Medium:
    return Medium(
        row.text("medium"),
        row.number("service"),
        row.number("peak"),
        needed(row, "backwash"),
        needed(row, "backwash_low"),
        needed(row, "backwash_high"),
        needed(row, "expansion_percent") / 100,
        needed(row, "bed_low_in"),
        needed(row, "bed_high_in"),
        row.text("citation"),
    )
