"""The tables of the treatment room, read once and checked row by row."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Literal, cast

from ..tables import Row, read_table
from .stage_rows import Beyond, ConditionRow, Op, Place, StageRow, conditions, stages

__all__ = [
    "NOT_EQUIPMENT",
    "Beyond",
    "ConditionRow",
    "Exposure",
    "Limit",
    "NeedRow",
    "Op",
    "Option",
    "Place",
    "StageRow",
    "WaitRow",
    "conditions",
    "needs",
    "options",
    "parts",
    "stages",
    "wait_first",
]

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
class Option:
    """One answer to a need, as in ``stage_choice.csv``."""

    need: str
    rank: int
    stages: tuple[str, ...]
    place: Place
    tests: tuple[Limit, ...]
    with_needs: tuple[str, ...]
    """Needs that must be wanted too."""
    without_needs: tuple[str, ...]
    """Needs whose stages would do this too, so that none of them may be wanted."""
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
    watched: tuple[str, ...] = ()
    """Persons for whom a result to watch asks for something too."""


@dataclass(frozen=True, slots=True)
class WaitRow:
    """What is settled before any equipment is proposed, as in ``wait_first.csv``."""

    event: str
    stage: str
    because: str


@cache
def wait_first() -> tuple[WaitRow, ...]:
    """Return what holds every train back."""
    return tuple(_wait(row) for row in read_table("wait_first.csv"))


def _wait(row: Row) -> WaitRow:
    row.text("citation")
    return WaitRow(row.text("event"), row.text("stage"), row.text("because"))


def parts(text: str) -> tuple[str, ...]:
    """Return the parts of a cell that are separated by semicolons."""
    return tuple(part.strip() for part in text.split(";") if part.strip())


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


def _option(row: Row) -> Option:
    tests, with_needs, without, never = [], [], [], False
    for part in parts(row.cells["when"]):
        if part == "never":
            never = True
        elif part.startswith("no need "):
            without.append(part.removeprefix("no need "))
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
        without_needs=tuple(without),
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
        watched=parts(row.cells["watched"]),
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
