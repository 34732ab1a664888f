"""Media and tanks: what equipment is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..tables import Row, read_table
from .rules import needed


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
    name: str = ""
    """The dealer's name for it, if it stands on the shelf."""
    most_gpm: Decimal | None = None
    """The service flow claimed for it."""
    wash_gpm: Decimal | None = None
    """The backwash flow claimed for it; the larger one of this and the reckoned one counts."""
    only: str | None = None
    """The one medium that it is filled with; None: any."""


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
