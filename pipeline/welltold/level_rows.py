"""One published level, and how it is read from a row of a table.

Rows that were not read in a source, and rows that were only proposed or were withdrawn, can never
decide about health: such a row is refused here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, cast, get_args

from .interpretation import LevelKind, Person
from .messages import say
from .speech import phrase
from .tables import Row

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

FEDERAL = "us_federal"
OWN_FORM = "own"
"""The form of a level in a user's own file."""
MAY_DECIDE: frozenset[str] = frozenset(
    {"in_force", "adopted_not_applying", "proposed_withdrawal", "advisory", "goal"}
)
ROLES: tuple[Role, ...] = get_args(Role)
KINDS: tuple[LevelKind, ...] = get_args(LevelKind)
_WHO = {"primary_limit": "who_limit", "secondary": "who_secondary"}


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
    pack: str = FEDERAL
    """The pack that it stands in, as it was asked for."""

    def holds(self, day: date) -> bool:
        """Whether the row is true on that day."""
        return self.effective <= day and (self.until is None or day < self.until)

    def held_back(self, day: date) -> bool:
        """Whether the row could be true on that day, but nobody read when it began."""
        return self.dated == "read" and self.verified and day < self.effective

    @property
    def who(self) -> str | None:
        """Who set it, as the beginning of a sentence; None: federal, which has its own words."""
        if self.pack == FEDERAL:
            return None
        code = _WHO.get(self.kind, "who_advice")
        if self.form == OWN_FORM:
            code = "who_own"
        elif self.status == "adopted_not_applying":
            code = "who_adopted"
        return say(f"levels.{code}", programme=phrase(self.programme)).text


def level_of_row(row: Row, pack: str = FEDERAL) -> Level:
    """Return the level in one row of a table; DataFileError names a wrong row."""
    low, value = row.number("low"), row.number("value")
    op = cast("Op", row.choice("op", frozenset(get_args(Op))))
    if not _numbers_fit(op, low, value):
        raise row.wrong(f"op {op} does not fit the numbers")
    persons = tuple((row.optional("persons") or "").split("|")) if row.cells["persons"] else ()
    level = Level(
        slug=row.text("slug"),
        programme=row.text("programme"),
        kind=cast("LevelKind", row.choice("kind", frozenset(KINDS))),
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
        pack=pack,
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
    if level.until is not None and level.until <= level.effective:
        raise row.wrong("until is not after effective")
    if level.role == "none":
        return level
    if (level.role == "person") > bool(level.persons) or (
        level.persons and level.role not in {"person", "watch"}
    ):
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
