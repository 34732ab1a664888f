"""The tables behind the verdicts: persons, consequence, steps, sums and core tests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Literal, cast, get_args

from ..interpretation import Person
from ..messages import Message, say
from ..tables import Row, read_table
from .doubt_tables import listed
from .names import group_of

On = Literal["health", "watch", "nuisance", "doubt"]
Missing = Literal["skip", "cant_tell"]


@dataclass(frozen=True, slots=True)
class Words:
    """What is said of one analyte whatever its value."""

    order: int
    """Position in the order of consequence."""
    bases: tuple[str, ...]
    bare_unit: str | None
    least: Decimal | None
    most: Decimal | None
    """Outside of these a number is a mistake."""
    persons: tuple[Person, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a total."""

    slug: str
    divide_by: Decimal
    unit: str
    basis: str | None
    covers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Total:
    """Several analytes that one level counts together."""

    slug: str
    parts: tuple[Part, ...]
    missing: Missing
    found: int
    """How many parts must be found before the total can be over its level."""


@dataclass(frozen=True, slots=True)
class CoreTest:
    """A test that a private well should usually have."""

    slug: str
    met_by: tuple[str, ...]
    when: tuple[str, ...]
    """Clauses that must hold; see ``facts``."""
    why: str
    how: str


NO_WORDS = Words(10_000, (), None, None, None, ())


def words(slug: str | None) -> Words:
    """Return what is said of an analyte; the same empty words for every one without a row."""
    return _words().get(slug or "", NO_WORDS)


def steps(slug: str | None, on: On) -> tuple[str, ...]:
    """Return the first steps for an analyte, by what its result means."""
    table = _steps()
    rows = (table.get((one, on)) for one in (slug or "", f"group:{group_of(slug)}", "*"))
    return next((row for row in rows if row), ())


def step(name: str, /, **fields: str) -> Message:
    """Return one step; ``args["when"]`` says how soon: today, this_week, this_month or later."""
    return say(f"verdict.do_{name}", when=_whens()[name], **fields)


@cache
def totals() -> tuple[Total, ...]:
    """Return every level that counts several analytes together."""
    rows: dict[str, list[Row]] = {}
    for row in read_table("sums.csv"):
        rows.setdefault(row.text("sum"), []).append(row)
    return tuple(_total(slug, parts) for slug, parts in rows.items())


def totals_with(slug: str | None) -> tuple[Total, ...]:
    """Return the totals that count an analyte as a part."""
    return tuple(t for t in totals() if slug in {part.slug for part in t.parts})


@cache
def core_tests() -> tuple[CoreTest, ...]:
    """Return what should be tested and when, most valuable first."""
    return tuple(
        CoreTest(
            row.text("slug"),
            listed(row, "met_by"),
            tuple(part.strip() for part in row.cells["when"].split("&") if part.strip()),
            row.text("why"),
            row.text("how"),
        )
        for row in read_table("core_tests.csv")
    )


@cache
def _words() -> Mapping[str, Words]:
    return {
        row.text("slug"): Words(
            order,
            listed(row, "bases"),
            row.optional("bare_unit"),
            row.number("least"),
            row.number("most"),
            _persons(row, "persons"),
        )
        for order, row in enumerate(read_table("analyte_words.csv"))
    }


@cache
def _steps() -> Mapping[tuple[str, On], tuple[str, ...]]:
    allowed = frozenset(get_args(On))
    return {
        (row.text("slug"), cast("On", row.choice("on", allowed))): listed(row, "steps")
        for row in read_table("first_steps.csv")
        if row.text("source")
    }


@cache
def _whens() -> Mapping[str, str]:
    allowed = frozenset({"today", "this_week", "this_month", "later"})
    return {row.text("step"): row.choice("when", allowed) for row in read_table("step_when.csv")}


def _total(slug: str, rows: list[Row]) -> Total:
    missing = cast("Missing", rows[0].choice("missing", frozenset(get_args(Missing))))
    for row in rows[1:]:
        if any(row.cells[name] != rows[0].cells[name] for name in ("missing", "found")):
            raise row.wrong("the rows of one sum differ in missing or found")
    return Total(slug, tuple(_part(row) for row in rows), missing, int(rows[0].text("found")))


def _part(row: Row) -> Part:
    divisor = row.number("divide_by")
    if not divisor:
        raise row.wrong("divide_by must be a number other than 0")
    return Part(
        row.text("part"), divisor, row.text("unit"), row.optional("basis"), listed(row, "covers")
    )


def _persons(row: Row, column: str) -> tuple[Person, ...]:
    named = listed(row, column)
    strange = set(named) - set(get_args(Person))
    if strange or (named and not row.cells["source"]):
        raise row.wrong(f"{column}: {', '.join(sorted(strange)) or 'no source'}")
    return cast("tuple[Person, ...]", named)
