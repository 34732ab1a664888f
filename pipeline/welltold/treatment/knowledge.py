"""The tables of the treatment room, read once and checked row by row."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Literal, cast

from ..tables import Row, read_table

Op = Literal["<=", ">=", "<", ">", "absent", "check"]
Beyond = Literal["refuse", "ahead", "look"]
Place = Literal["whole_house", "point_of_use"]
Exposure = Literal["drunk", "breathed", "house"]

NOT_EQUIPMENT = "shock_chlorination"
"""Opens a train, but is done once and not bought."""
_TEST = re.compile(
    r"(?P<fact>\w+) (?P<op><=|>=|<|>) (?P<value>[\d.]+) (?P<unit>\S+)"
    r"(?: as (?P<basis>\w+))?(?P<open> \?)?"
)
_GOAL = re.compile(r"(?P<value>[\d.]+) (?P<unit>\S+)(?: as (?P<basis>\w+))?")
_PLACES = frozenset({"whole_house", "point_of_use"})
_STATUS = frozenset({"verified", "practice"})


@dataclass(frozen=True, slots=True)
class Limit:
    """A number that must hold: ``fact op value unit``, on the raw water."""

    fact: str
    op: Op
    value: Decimal
    unit: str
    basis: str | None
    open_will_do: bool = False
    """True: a number that is not known counts as holding."""


@dataclass(frozen=True, slots=True)
class StageRow:
    """One stage as in ``stages.csv``."""

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
    """Place in the train, from ``stage_order.csv``."""


@dataclass(frozen=True, slots=True)
class ConditionRow:
    """One condition as in ``stage_conditions.csv``."""

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


@dataclass(frozen=True, slots=True)
class Option:
    """One answer to a need, as in ``stage_choice.csv``."""

    need: str
    rank: int
    stages: tuple[str, ...]
    place: Place
    tests: tuple[Limit, ...]
    with_needs: tuple[str, ...]
    """Needs that must be wanted too."""
    never: bool
    tell: bool
    because: str


@dataclass(frozen=True, slots=True)
class NeedRow:
    """What one analyte's finding asks for, as in ``needs.csv``."""

    need: str
    rank: int
    test: Limit | None
    otherwise: Literal["other", "none"] | None
    """What follows where the test does not hold."""
    exposure: Exposure
    goal: tuple[Decimal, str, str | None] | None


def parts(text: str) -> tuple[str, ...]:
    """Return the parts of a cell that are separated by semicolons."""
    return tuple(part.strip() for part in text.split(";") if part.strip())


@cache
def stages() -> Mapping[str, StageRow]:
    """Return every stage by name."""
    order = {row.text("stage"): int(row.text("place")) for row in read_table("stage_order.csv")}
    return {row.text("stage"): _stage(row, order) for row in read_table("stages.csv")}


@cache
def conditions(stage: str) -> tuple[ConditionRow, ...]:
    """Return the conditions of one stage, in the table's order."""
    return tuple(row for row in _all_conditions() if row.stage == stage)


@cache
def options(need: str) -> tuple[Option, ...]:
    """Return the answers to one need, best first."""
    rows = (_option(row) for row in read_table("stage_choice.csv") if row.text("need") == need)
    return tuple(sorted(rows, key=lambda option: option.rank))


@cache
def needs() -> Mapping[str, NeedRow]:
    """Return, by analyte or ``group:NAME``, what its finding asks for."""
    return {
        row.text("analyte"): _need(row, rank) for rank, row in enumerate(read_table("needs.csv"))
    }


@cache
def _all_conditions() -> tuple[ConditionRow, ...]:
    return tuple(_condition(row) for row in read_table("stage_conditions.csv"))


def _stage(row: Row, order: Mapping[str, int]) -> StageRow:
    name = row.text("stage")
    row.choice("status", _STATUS)
    row.text("citation")
    row.choice("place", _PLACES)
    if name not in order:
        raise row.wrong(f"{name} has no place in stage_order.csv")
    return StageRow(
        stage=name,
        treats=parts(row.cells["treats"]),
        raises=parts(row.cells["raises"]),
        backwash=row.choice("backwash", frozenset({"yes", "no"})) == "yes",
        salt=row.choice("salt", frozenset({"yes", "no"})) == "yes",
        chemical=row.choice("chemical", frozenset({"yes", "no"})) == "yes",
        waste=row.text("waste"),
        standard=row.optional("standard"),
        cautions=parts(row.cells["cautions"]),
        order=order[name],
    )


def _condition(row: Row) -> ConditionRow:
    op = row.choice("op", frozenset({"<=", ">=", "<", ">", "absent", "check"}))
    beyond = row.choice("beyond", frozenset({"refuse", "ahead", "look"}))
    value = row.number("value")
    if (value is None) != (op in {"absent", "check"}):
        raise row.wrong("a comparison needs a value, and only a comparison has one")
    if op == "check" and row.optional("ask") is None:
        raise row.wrong("a check needs its sentence in ask")
    if row.text("citation") == "from memory, unverified" and beyond != "look":
        raise row.wrong("a number from memory never refuses a stage")
    return ConditionRow(
        stage=row.text("stage"),
        need=row.optional("for"),
        fact=row.text("fact"),
        op=cast("Op", op),
        value=value,
        unit=row.optional("unit"),
        basis=row.optional("basis"),
        beyond=cast("Beyond", beyond),
        ask=row.optional("ask"),
        citation=row.text("citation"),
    )


def _option(row: Row) -> Option:
    tests, with_needs, never = [], [], False
    for part in parts(row.cells["when"]):
        if part == "never":
            never = True
        elif part.startswith("need "):
            with_needs.append(part.removeprefix("need "))
        else:
            tests.append(_test(row, part))
    row.choice("status", _STATUS)
    row.text("citation")
    return Option(
        need=row.text("need"),
        rank=int(row.text("rank")),
        stages=parts(row.text("stages")),
        place=cast("Place", row.choice("place", _PLACES)),
        tests=tuple(tests),
        with_needs=tuple(with_needs),
        never=never,
        tell=row.choice("tell", frozenset({"yes", "no"})) == "yes",
        because=row.text("because"),
    )


def _need(row: Row, rank: int) -> NeedRow:
    when, goal = row.optional("when"), row.optional("goal")
    otherwise = row.choice("otherwise", frozenset({"other", "none"} if when else {""}))
    exposures = frozenset({"drunk", "breathed", "house"})
    return NeedRow(
        need=row.text("need"),
        rank=rank,
        test=_test(row, when) if when else None,
        otherwise=cast("Literal['other', 'none']", otherwise) if when else None,
        exposure=cast("Exposure", row.choice("exposure", exposures)),
        goal=_goal(row, goal) if goal else None,
    )


def _test(row: Row, text: str) -> Limit:
    found = _TEST.fullmatch(text)
    if not found:
        raise row.wrong(f"{text!r} is no test")
    return Limit(
        fact=found["fact"],
        op=cast("Op", found["op"]),
        value=Decimal(found["value"]),
        unit=found["unit"],
        basis=found["basis"],
        open_will_do=found["open"] is not None,
    )


def _goal(row: Row, text: str) -> tuple[Decimal, str, str | None]:
    found = _GOAL.fullmatch(text)
    if not found:
        raise row.wrong(f"{text!r} is no goal")
    return Decimal(found["value"]), found["unit"], found["basis"]
