"""Which bottle a test takes, how it is filled, and how long it keeps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..analytes import registry
from ..tables import Row, read_table

TAPS = frozenset({"clean", "used", "raw"})
AERATORS = frozenset({"off", "on", "stays"})
DRAWS = frozenset({"flushed", "long", "first", "none"})
FILLS = frozenset({"line", "full", "brim", "first", "none"})
_ASK = "ask"
_ALL = "*"


@dataclass(frozen=True, slots=True)
class Bottle:
    """One kind of bottle; the words are those of ``sample_bottles.csv``."""

    name: str
    tap: str
    aerator: str
    draw: str
    fill: str
    chill: bool
    source: str


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long a bottle may wait until the test begins."""

    hours: Decimal | None
    """None: no time was read anywhere; ask the lab."""
    kept_hours: Decimal | None
    """Longer, where the lab's preservative is in the bottle."""
    verified: bool
    source: str


@dataclass(frozen=True, slots=True)
class Taken:
    """The bottle of one test and how long it keeps there."""

    bottle: Bottle
    keeping: Keeping


@cache
def bottles() -> Mapping[str, Bottle]:
    """Return the bottles by name, in the order of their cards."""
    return {row.text("bottle"): _bottle(row) for row in read_table("sample_bottles.csv")}


@cache
def taken_in(slug: str) -> Taken:
    """Return the bottle of an analyte; the row for all others has one for every name."""
    group = registry()[slug].group if slug in registry() else ""
    names = {slug, f"group:{group}", _ALL}
    row = next(row for row in _tests() if names & set(row.text("slugs").split("|")))
    return Taken(bottles()[row.choice("bottle", frozenset(bottles()))], _keeping(row))


@cache
def _tests() -> tuple[Row, ...]:
    return tuple(read_table("sample_tests.csv"))


@cache
def _rules() -> Mapping[str, Row]:
    return {row.text("hold"): row for row in read_table("hold_times.csv")}


def _bottle(row: Row) -> Bottle:
    return Bottle(
        row.text("bottle"),
        row.choice("tap", TAPS),
        row.choice("aerator", AERATORS),
        row.choice("draw", DRAWS),
        row.choice("fill", FILLS),
        row.choice("chill", frozenset({"yes", "no"})) == "yes",
        row.text("source"),
    )


def _keeping(row: Row) -> Keeping:
    """Return the time of a row: a rule's, its own, or none."""
    hold, source = row.text("hold"), row.text("source")
    if hold == _ASK:
        return Keeping(None, None, verified=True, source=source)
    rule = _rules().get(hold)
    if rule is None:
        return Keeping(row.number("hold"), None, verified=_was_read(source), source=source)
    verified = rule.text("verified") == "yes"
    return Keeping(rule.number("hours"), rule.number("kept_hours"), verified, rule.text("source"))


def _was_read(source: str) -> bool:
    return "unverified" not in source
