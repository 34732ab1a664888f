"""Published levels for drinking water, as of a date.

A pack is a table of levels from one authority. One row is one level over one span of time, so the
level that counts, and what its status was, follow from the date alone. Rows that were not read in
a source, and rows that were only proposed or were withdrawn, can never decide about health: the
loader refuses such a row.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from types import MappingProxyType
from typing import Literal, cast, get_args

from .errors import UnitMismatchError, UnknownLevelsError
from .interpretation import LevelKind, Person
from .tables import Row, read_table

Op = Literal["max", "min", "range", "absent", "none"]
Role = Literal["health", "watch", "nuisance", "person", "none"]
"""What it means to be over a level; ``person``: only for the people it was made for."""
Status = Literal[
    "in_force",
    "adopted_not_applying",
    "proposed_withdrawal",
    "proposed",
    "withdrawn",
    "advisory",
    "goal",
    "no_limit",
]
Dated = Literal["rule", "read", "memory"]

MAY_DECIDE: frozenset[str] = frozenset(
    {"in_force", "adopted_not_applying", "proposed_withdrawal", "advisory", "goal"}
)
ROLES: tuple[Role, ...] = get_args(Role)
KINDS: tuple[LevelKind, ...] = get_args(LevelKind)


@dataclass(frozen=True, slots=True)
class Pack:
    """One authority's table and the first day that it serves."""

    name: str
    table: str
    since: date


PACKS: Mapping[str, Pack] = MappingProxyType(
    {"us_federal": Pack("us_federal", "levels_us_federal.csv", date(2006, 1, 23))}
)


@dataclass(frozen=True, slots=True)
class Level:
    """One published level over one span of time."""

    slug: str
    programme: str
    """Who set it and what it is called."""
    kind: LevelKind
    form: str
    """The finer kind: lifetime_advisory, ten_day_child, screening, watch_band ..."""
    op: Op
    low: Decimal | None
    """Lower end of a range; for ``max`` the lower end of a grey zone that is not compared."""
    value: Decimal | None
    """In ``unit`` and ``basis``; None where the rule gives no number."""
    unit: str
    basis: str | None
    role: Role
    acute: bool
    """Whether the effect can follow within days."""
    persons: tuple[Person, ...]
    """Whom the level itself was made for; empty: everybody."""
    effect: str
    """Completes "it is there to guard against ..."."""
    status: Status
    effective: date
    until: date | None
    """First day on which the row no longer holds."""
    dated: Dated
    verified: bool
    """Whether the number was read in a source; an unverified one decides nothing."""
    citation: str
    source: str

    def holds(self, day: date) -> bool:
        """Whether the row is true on that day."""
        return self.effective <= day and (self.until is None or day < self.until)


@dataclass(frozen=True, slots=True)
class Levels:
    """The levels of some packs as of one day."""

    packs: tuple[str, ...]
    as_of: date
    by_slug: Mapping[str, tuple[Level, ...]]

    def of(self, slug: str | None) -> tuple[Level, ...]:
        """Return the levels of one analyte, those that decide first; empty when it has none."""
        return self.by_slug.get(slug or "", ())


def load_levels(packs: Sequence[str], as_of: date) -> Levels:
    """Return the levels of ``packs`` that hold on ``as_of``.

    UnknownLevelsError for a pack that is not known, and for a day before a pack begins.
    """
    return _levels(tuple(packs), as_of)


def printed_limits(slug: str) -> frozenset[Decimal]:
    """Return the numbers a lab may print as this analyte's limit, outdated ones included.

    In the analyte's own unit and basis; levels in a unit that cannot become it are left out.
    """
    return _printed_limits().get(slug, frozenset())


@cache
def all_rows(pack: str) -> tuple[Level, ...]:
    """Return every row of one pack, whatever its dates; DataFileError names a wrong row."""
    return tuple(_level(row) for row in read_table(PACKS[pack].table))


@cache
def _levels(packs: tuple[str, ...], as_of: date) -> Levels:
    by_slug: dict[str, list[Level]] = {}
    for name in packs:
        for level in _pack_on(name, as_of):
            by_slug.setdefault(level.slug, []).append(level)
    ordered = {slug: tuple(sorted(rows, key=_importance)) for slug, rows in by_slug.items()}
    return Levels(packs, as_of, MappingProxyType(ordered))


def _pack_on(name: str, day: date) -> tuple[Level, ...]:
    known = ", ".join(f"{pack.name} from {pack.since}" for pack in PACKS.values())
    if name not in PACKS:
        raise UnknownLevelsError(name, known)
    if day < PACKS[name].since:
        raise UnknownLevelsError(f"{name} on {day}", known)
    return tuple(level for level in all_rows(name) if level.holds(day))


def _importance(level: Level) -> tuple[int, bool, Decimal, int]:
    """Health levels first, of those the one with the smallest number, and rules before advice."""
    number = level.value or Decimal(0)
    return ROLES.index(level.role), level.value is None, number, KINDS.index(level.kind)


def _level(row: Row) -> Level:
    low, value = row.number("low"), row.number("value")
    op = cast("Op", row.choice("op", frozenset(get_args(Op))))
    if not _numbers_fit(op, low, value):
        raise row.wrong(f"op {op} does not fit the numbers")
    persons = tuple((row.optional("persons") or "").split("|")) if row.cells["persons"] else ()
    level = Level(
        slug=row.text("slug"),
        programme=row.text("programme"),
        kind=cast("LevelKind", row.choice("kind", frozenset(get_args(LevelKind)))),
        form=row.text("form"),
        op=op,
        low=low,
        value=value,
        unit=row.cells["unit"],
        basis=row.optional("basis"),
        role=cast("Role", row.choice("role", frozenset(ROLES))),
        acute=_yes(row, "acute"),
        persons=cast("tuple[Person, ...]", persons),
        effect=row.text("effect"),
        status=cast("Status", row.choice("status", frozenset(get_args(Status)))),
        effective=_day(row, "effective"),
        until=_day(row, "until") if row.cells["until"] else None,
        dated=cast("Dated", row.choice("dated", frozenset(get_args(Dated)))),
        verified=_yes(row, "verified"),
        citation=row.cells["citation"],
        source=row.text("source"),
    )
    return _checked(row, level)


def _numbers_fit(op: Op, low: Decimal | None, value: Decimal | None) -> bool:
    if op == "none":
        return value is None
    return op == "absent" or (value is not None and (op != "range" or low is not None))


def _checked(row: Row, level: Level) -> Level:
    """Return the level; DataFileError where it must not do what its role says."""
    strange = set(level.persons) - set(get_args(Person))
    if strange:
        raise row.wrong(f"persons: {', '.join(sorted(strange))} not known")
    if level.role == "none":
        return level
    if (level.role == "person") != bool(level.persons):
        raise row.wrong("persons and role do not fit")
    if not (level.verified and level.citation):
        raise row.wrong("a level that was not read in a source cannot decide")
    if level.role == "health" and level.status not in MAY_DECIDE:
        raise row.wrong(f"a level that is {level.status} cannot decide about health")
    if level.role == "health" and level.kind == "goal" and level.op != "absent":
        raise row.wrong("a goal cannot decide about health")
    return level


def _yes(row: Row, column: str) -> bool:
    return row.choice(column, frozenset({"yes", "no"})) == "yes"


def _day(row: Row, column: str) -> date:
    try:
        return date.fromisoformat(row.text(column))
    except ValueError:
        raise row.wrong(f"{column}: {row.cells[column]!r} is not a date") from None


@cache
def _printed_limits() -> Mapping[str, frozenset[Decimal]]:
    """Collect them once; the units room is needed only by those who ask."""
    found: dict[str, set[Decimal]] = {}
    for pack in PACKS:
        for level in all_rows(pack):
            for number in _own_unit(level):
                found.setdefault(level.slug, set()).add(number)
    return {slug: frozenset(numbers) for slug, numbers in found.items()}


def _own_unit(level: Level) -> tuple[Decimal, ...]:
    from .analytes import analyte
    from .units import convert

    if level.form == "watch_band" or level.value is None:
        return ()
    own = analyte(level.slug)
    numbers = (level.value,) if level.low is None else (level.low, level.value)
    try:
        return tuple(
            convert(number, level.slug, level.unit, level.basis, own.unit, own.basis)
            for number in numbers
        )
    except UnitMismatchError:
        return ()
