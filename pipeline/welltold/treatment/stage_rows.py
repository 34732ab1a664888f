"""The stages and their inlet conditions, from the stage files (``data/stages/``)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any, Literal, get_args

from ..errors import DataFileError
from ..stage_files import MEMORY, stage_file, stage_names

Op = Literal["<=", ">=", "<", ">", "absent", "check"]
Beyond = Literal["refuse", "ahead", "look"]
Place = Literal["whole_house", "point_of_use"]
Status = Literal["verified", "practice", "memory"]
"""Read in the source; common practice in the trade; from memory."""


@dataclass(frozen=True, slots=True)
class StageRow:
    """One stage."""

    stage: str
    treats: tuple[str, ...]
    raises: tuple[str, ...]
    backwash: bool
    salt: bool
    chemical: bool
    waste: str
    standard: str | None
    cautions: tuple[str, ...]
    order: int
    """Place in the train; smaller is met first."""
    place: Place
    """Where it usually stands."""
    citation: str
    status: Status


@dataclass(frozen=True, slots=True)
class ConditionRow:
    """One condition that must hold in the water that reaches a stage, or in the house."""

    stage: str
    need: str | None
    """The condition counts only while the stage is there for this need."""
    fact: str
    op: Op
    value: Decimal | None
    unit: str | None
    basis: str | None
    beyond: Beyond
    ask: str | None
    citation: str
    status: Status


@cache
def stages() -> Mapping[str, StageRow]:
    """Return every stage by name, in the order in which the water meets them; DataFileError."""
    rows = (_stage(name, stage_file(name)) for name in stage_names())
    return {row.stage: row for row in sorted(rows, key=lambda row: (row.order, row.stage))}


@cache
def conditions(stage: str) -> tuple[ConditionRow, ...]:
    """Return the conditions of one stage, in the file's order; none for no such stage."""
    if stage not in stage_names():
        return ()
    return tuple(_condition(stage, raw) for raw in stage_file(stage).get("condition", ()))


def _stage(name: str, raw: Mapping[str, Any]) -> StageRow:
    _choice(name, raw, "place", get_args(Place))
    return StageRow(
        stage=name,
        treats=tuple(raw["treats"]),
        raises=tuple(raw["raises"]),
        backwash=raw["backwash"],
        salt=raw["salt"],
        chemical=raw["chemical"],
        waste=raw["waste"],
        standard=raw.get("standard"),
        cautions=tuple(raw["cautions"]),
        order=int(raw["order"]["number"]),
        place=raw["place"],
        citation=raw["citation"],
        status=raw["status"],
    )


def _condition(stage: str, raw: Mapping[str, Any]) -> ConditionRow:
    _choice(stage, raw, "op", get_args(Op))
    _choice(stage, raw, "beyond", get_args(Beyond))
    compares = raw["op"] not in {"absent", "check"}
    if compares != ("value" in raw):
        raise _wrong(stage, "a comparison needs a value, and only a comparison has one")
    if raw["op"] == "check" and "ask" not in raw:
        raise _wrong(stage, "a check needs its sentence in ask")
    if raw["citation"] == MEMORY and raw["beyond"] != "look":
        raise _wrong(stage, "a number from memory never refuses a stage")
    return ConditionRow(
        stage=stage,
        need=raw.get("for"),
        fact=raw["fact"],
        op=raw["op"],
        value=Decimal(raw["value"]) if compares else None,
        unit=raw.get("unit"),
        basis=raw.get("basis"),
        beyond=raw["beyond"],
        ask=raw.get("ask"),
        citation=raw["citation"],
        status=raw["status"],
    )


def _choice(stage: str, raw: Mapping[str, Any], key: str, allowed: tuple[str, ...]) -> None:
    if raw[key] not in allowed:
        raise _wrong(stage, f"{key}: {raw[key]!r} is not one of {', '.join(sorted(allowed))}")


def _wrong(stage: str, problem: str) -> DataFileError:
    return DataFileError(f"stages/{stage}.toml", 1, problem)
