"""The tables of this room: signs of each stage, shares, words of places, next looks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Literal, cast, get_args

from ..analytes import registry
from ..behind import OutletOutcome
from ..tables import Row, read_table

Role = Literal["job", "extra", "mark", "side"]
Way = Literal["falls", "rises", "within", "absent"]
AHEAD, TAP, RAW = "ahead", "tap", "raw"
_BAD = frozenset({"exhausted", "wrongly_set"})


@dataclass(frozen=True, slots=True)
class Meaning:
    """What it means that a stage does too little, or too much."""

    outcome: OutletOutcome
    reason: str
    """``reason_NAME`` of the catalogue."""


@dataclass(frozen=True, slots=True)
class SignRow:
    """One result by which a stage is known; amounts in ``unit`` and ``basis``."""

    stage: str
    analyte: str
    role: Role
    way: Way
    good: Decimal | None
    top: Decimal | None
    unit: str
    basis: str | None
    partly: Meaning | None
    more: Meaning | None
    ahead: str | None
    """It counts only where this stage stands ahead."""
    source: str


@cache
def rule(name: str) -> Decimal:
    """Return one number of ``outlet_rules.csv``; KeyError."""
    return {row.text("rule"): _needed(row) for row in read_table("outlet_rules.csv")}[name]


@cache
def signs(stage: str) -> tuple[SignRow, ...]:
    """Return the signs of a stage, the first ones first; a group is spread over its analytes."""
    return _signs().get(stage, ())


@cache
def look(stage: str) -> str:
    """Return the name of the cheapest next look at a stage."""
    looks = {row.text("stage"): row.text("look") for row in read_table("outlet_looks.csv")}
    return looks.get(stage, "plain")


@cache
def witnesses() -> Mapping[str, bool]:
    """Return what shows whether two bottles hold one water, and whether it shows a membrane."""
    return {
        row.text("analyte"): row.text("thins") == "yes"
        for row in read_table("outlet_witnesses.csv")
    }


@cache
def point_words() -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the words of sampling places and what each can mean, the longest first."""
    rows = [
        (row.text("words"), tuple(row.text("means").split("|")))
        for row in read_table("outlet_points.csv")
    ]
    return tuple(sorted(rows, key=lambda one: -len(one[0])))


@cache
def _signs() -> Mapping[str, tuple[SignRow, ...]]:
    found: dict[str, tuple[SignRow, ...]] = {}
    for row in read_table("outlet_signs.csv"):
        stage = row.text("stage")
        found[stage] = (*found.get(stage, ()), *_rows(row, stage))
    return found


def _rows(row: Row, stage: str) -> tuple[SignRow, ...]:
    named = row.text("analyte")
    group = named.removeprefix("group:")
    slugs = [named] if named == group else _members(group)
    if not slugs or not set(slugs) <= set(registry()):
        raise row.wrong(f"{named} is not in the registry")
    return tuple(
        SignRow(
            stage,
            slug,
            cast("Role", row.choice("role", frozenset(get_args(Role)))),
            cast("Way", row.choice("way", frozenset(get_args(Way)))),
            row.number("good"),
            row.number("top"),
            row.optional("unit") or registry()[slug].unit,
            row.optional("basis") or registry()[slug].basis,
            _meaning(row, "partly"),
            _meaning(row, "more"),
            row.optional("ahead"),
            row.text("source"),
        )
        for slug in slugs
    )


def _members(group: str) -> list[str]:
    return [slug for slug, own in registry().items() if own.group == group]


def _meaning(row: Row, column: str) -> Meaning | None:
    text = row.optional(column)
    if text is None:
        return None
    outcome, _, reason = text.partition(":")
    if outcome not in _BAD or not reason:
        raise row.wrong(f"{column}: {text!r} is not exhausted:REASON or wrongly_set:REASON")
    return Meaning(cast("OutletOutcome", outcome), reason)


def _needed(row: Row) -> Decimal:
    value = row.number("value")
    if value is None:
        raise row.wrong("value is empty")
    return value
