"""Compares an amount with a level, and judges one analyte from all of its levels."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from ..interpretation import Urgency, Verdict
from ..levels import Level, Role
from .amounts import Amount

Outcome = Literal["over", "under", "maybe"]
GRAVITY: tuple[tuple[Verdict, Urgency | None], ...] = (
    ("health_concern", "now"),
    ("health_concern", "soon"),
    ("cant_tell", "now"),
    ("cant_tell", "soon"),
    ("watch", None),
    ("cant_tell", None),
    ("nuisance_only", None),
    ("no_concern_found", None),
    ("not_tested", None),
)
"""From the gravest to the least: the order in which findings are told."""
NEAR = Decimal("0.9")
"""Common practice, no source: what reaches this share of a level for health is watched, because
another test of the same water can fall on the other side."""


@dataclass(frozen=True, slots=True)
class Compared:
    """One level, the amount in the level's own unit, and how they compare."""

    level: Level
    amount: Amount
    outcome: Outcome


@dataclass(frozen=True, slots=True)
class Judged:
    """What one amount means."""

    verdict: Verdict
    urgency: Urgency | None
    decided: Compared | None
    """The level that decided, or that came nearest to deciding; None: there is no level."""
    told: Compared | None = None
    """The level whose number is told: the deciding one; for a watch band the level behind it."""
    people: tuple[Compared, ...] = ()
    """Levels made for some people only that the amount is over."""
    health_beside: bool = False
    """Whether the analyte has a level for health."""

    @property
    def gravity(self) -> int:
        """Position in GRAVITY; 0 is the gravest."""
        return GRAVITY.index((self.verdict, self.urgency))


def outcome(amount: Amount, level: Level) -> Outcome:
    """Return how the possible amounts lie to the level; both in the level's own unit."""
    if level.op == "absent":
        return {True: "over", False: "under", None: "maybe"}[amount.found]  # type: ignore[return-value]  # the three words above
    return _combined(_sides(amount, level))


def judge(compared: Sequence[Compared], persons: Iterable[str] = ()) -> Judged:
    """Return the verdict of one amount; ``persons`` are the people known to live there."""
    people = tuple(c for c in compared if c.level.role == "person" and c.outcome == "over")
    verdict, urgency, decided = _by_role(compared)
    if verdict in {"nuisance_only", "no_concern_found"}:
        near = _near(compared)
        verdict, decided = ("watch", near) if near else (verdict, decided)
    at_home = [c for c in people if set(c.level.persons) & set(persons)]
    if at_home and verdict in {"nuisance_only", "no_concern_found"}:
        verdict, decided = "watch", at_home[0]
    told = decided
    if decided is not None and (decided.level.form == "watch_band" or is_goal(decided.level)):
        told = next((c for c in compared if c.level.role == "health"), decided)
    health = any(c.level.role == "health" for c in compared)
    return Judged(verdict, urgency, decided, told, people, health)


def is_goal(level: Level) -> bool:
    """Whether a level is a goal that can be compared with: a number above zero."""
    return level.status == "goal" and level.op == "max" and bool(level.value) and level.verified


def _near(compared: Sequence[Compared]) -> Compared | None:
    """Return the health level that is nearly reached, or the goal that is passed."""
    for one in compared:
        level, amount = one.level, one.amount
        if level.op != "max" or not level.value or not amount.found:
            continue
        if level.role == "health" and amount.low >= level.value * NEAR:
            return one
        if is_goal(level) and one.outcome == "over":
            return one
    return None


def together(judged: Sequence[Judged]) -> Judged:
    """Return what several possible readings of one result mean together.

    Where they differ nobody can tell, but a step that the gravest of them asks for stays.
    """
    gravest = min(judged, key=lambda one: one.gravity)
    if len({(one.verdict, one.urgency) for one in judged}) == 1:
        return gravest
    return replace(gravest, verdict="cant_tell")


_RULES: tuple[tuple[Role, Outcome, Verdict], ...] = (
    ("health", "over", "health_concern"),
    ("health", "maybe", "cant_tell"),
    ("watch", "over", "watch"),
    ("watch", "maybe", "cant_tell"),
    ("nuisance", "over", "nuisance_only"),
    ("nuisance", "maybe", "cant_tell"),
)
"""The first rule that holds decides."""


def _by_role(compared: Sequence[Compared]) -> tuple[Verdict, Urgency | None, Compared | None]:
    for role, wanted, verdict in _RULES:
        hits = [c for c in compared if c.level.role == role and c.outcome == wanted]
        if (role, wanted) == ("watch", "maybe"):  # nothing found is no reason to watch
            hits = [c for c in hits if c.amount.found is not False]
        if hits:
            decided = min(hits, key=lambda c: not c.level.acute)
            return verdict, _urgency(role, decided), decided
    told = [c for c in compared if c.level.role in {"health", "nuisance", "watch"}]
    told.sort(key=lambda c: c.level.status == "proposed")
    return "no_concern_found", None, told[0] if told else None


def _urgency(role: Role, decided: Compared) -> Urgency | None:
    if role == "health" and decided.outcome == "over":
        return "now" if decided.level.acute else "soon"
    return _doubt_urgency(decided) if role == "health" else None


def _doubt_urgency(maybe: Compared) -> Urgency | None:
    """Return how soon to act while nobody can tell.

    Nothing found with an unknown limit is less pressing than a limit that is too high for an
    acute matter; nothing found is no reason to hurry for what harms over years.
    """
    found, acute = maybe.amount.found is not False, maybe.level.acute
    if acute and maybe.level.op == "absent":
        return "now" if found else None
    if found:
        return "now" if acute else "soon"
    if not acute:
        return None
    return "now" if maybe.amount.high is not None else "soon"


def _sides(amount: Amount, level: Level) -> tuple[Outcome, ...]:
    ends: list[Outcome] = []
    if level.op in {"max", "range"} and level.value is not None:
        ends.append(_above(amount, level.value))
    if level.op == "range" and level.low is not None:
        ends.append(_beneath(amount, level.low))
    if level.op == "min" and level.value is not None:
        ends.append(_beneath(amount, level.value))
    return tuple(ends)


def _combined(ends: tuple[Outcome, ...]) -> Outcome:
    if "over" in ends:
        return "over"
    return "maybe" if "maybe" in ends else "under"


def _above(amount: Amount, limit: Decimal) -> Outcome:
    if amount.low > limit or (amount.more_than_low and amount.low == limit):
        return "over"
    if amount.high is not None and amount.high <= limit:
        return "under"
    return "maybe"


def _beneath(amount: Amount, limit: Decimal) -> Outcome:
    if amount.high is not None and amount.high < limit:
        return "over"
    return "under" if amount.low >= limit else "maybe"
