"""Whether a stage does its work, a part of it, or nothing, by one result behind it.

All that the two results leave possible is weighed: the best corner and the worst. Where they say
different things the sign stays open; a doubt never makes a stage look better.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from ..checks.sheet import Span
from ..messages import Message, say
from .tables import SignRow, rule

State = Literal["done", "partly", "undone", "over", "open"]
"""For what a stage puts in, done: risen as predicted; undone: not risen; over: more than that."""
ORDER: tuple[State, ...] = ("done", "partly", "undone", "over")


@dataclass(frozen=True, slots=True)
class Seen:
    """What is known of one sign, in the unit and basis of its row."""

    row: SignRow
    inlet: Span | None
    expected: tuple[Decimal | None, Decimal | None] | None
    found: Span | None
    level: Decimal | None = None
    """The strictest level for health."""
    germs: tuple[bool | None, bool | None] = (None, None)
    """Found in front of the stage, and behind it."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """A sign with what it tells."""

    seen: Seen
    state: State
    why: tuple[Message, ...] = ()
    bottle: int = 0
    """Which of the bottles it was found in."""

    @property
    def little(self) -> bool:
        """Whether there was too little ahead of the stage for it to have work."""
        return any(one.code == "outlet.open_little" for one in self.why)

    @property
    def row(self) -> SignRow:
        """The row of the table."""
        return self.seen.row

    @property
    def told(self) -> bool:
        """Whether it tells anything."""
        return self.state != "open"

    def opened(self, why: Message) -> Weighed:
        """Return it as a sign that tells nothing, with the reason."""
        return replace(self, state="open", why=(*self.why, why))


def weigh(seen: Seen) -> Weighed:
    """Return what one sign tells."""
    if seen.row.way == "absent":
        return _germs(seen)
    if seen.found is None:
        return _open(seen, "no_number")
    if seen.row.way == "within":
        return Weighed(seen, _within(seen.row, seen.found))
    if seen.inlet is None:
        return _open(seen, "no_inlet")
    return (_falls if seen.row.way == "falls" else _rises)(seen, seen.inlet, seen.found)


def _germs(seen: Seen) -> Weighed:
    before, behind = seen.germs
    if behind:
        return Weighed(seen, "over" if before is False else "undone")
    if behind is None:
        return _open(seen, "no_number")
    return Weighed(seen, "done") if before else _open(seen, "little")


def _within(row: SignRow, found: Span) -> State:
    good, top = row.good or Decimal(0), row.top
    if top is not None and found.low > top:
        return "over"
    if found.high is None or (top is not None and found.high > top):
        return "open"
    if found.high < good:
        return "undone"
    return "done" if found.low >= good else "open"


def _falls(seen: Seen, inlet: Span, found: Span) -> Weighed:
    """Weigh what a stage takes out."""
    good = seen.row.good
    if good is not None and inlet.high is not None and inlet.high <= good:
        over = found.low > rule("more") * good
        return Weighed(seen, "over") if over else _open(seen, "little")
    best = _left(seen, found.low, inlet.high)
    worst = _left(seen, found.high, inlet.low)
    return Weighed(seen, best) if _agree(best, worst) else _open(seen, "wide")


def _left(seen: Seen, found: Decimal | None, inlet: Decimal | None) -> State:
    """Weigh one corner of what a stage takes out; None: without any upper end."""
    if found is None:
        return "over"
    bound = _bound(seen, inlet)
    if (bound is None or found <= bound) and (seen.level is None or found <= seen.level):
        return "done"
    if inlet is None or found < rule("unchanged") * inlet:
        return "partly"
    return "over" if found > rule("more") * inlet else "undone"


def _bound(seen: Seen, inlet: Decimal | None) -> Decimal | None:
    """Return up to which amount a stage does its work."""
    most = seen.expected[1] if seen.expected else None
    ends = [seen.row.good, None if most is None else most * rule("near")]
    known = [end for end in ends if end is not None]
    if known:
        return max(known)
    return None if inlet is None else inlet * rule("least_taken")


def _agree(best: State, worst: State) -> bool:
    """Whether both corners say that a stage does its work, or both that it does not."""
    return (best == "done") == (worst == "done")


def _rises(seen: Seen, inlet: Span, found: Span) -> Weighed:
    """Weigh what a stage puts in."""
    least, most = seen.expected or (None, None)
    if seen.row.role == "job" and seen.row.good is not None and inlet.low >= seen.row.good:
        over = seen.row.top is not None and found.low > max(seen.row.top, most or seen.row.top)
        return Weighed(seen, "over") if over else _open(seen, "little")
    if least is None or inlet.high is None or least <= inlet.high * rule("near"):
        least, most = _unpredicted(seen.row, inlet), None
    if least is None:
        return _open(seen, "not_promised")
    low = _risen(seen.row, found.low, inlet.high or inlet.low, (least, most))
    high = _risen(seen.row, found.high, inlet.low, (least, most))
    states = {low, high}
    if len(states) == 1:
        return Weighed(seen, low)
    if states == {"undone", "partly"}:
        return Weighed(seen, "partly")
    return Weighed(seen, "done") if states == {"done", "over"} else _open(seen, "wide")


def _unpredicted(row: SignRow, inlet: Span) -> Decimal | None:
    """Return what the water should come to, where nothing may be predicted."""
    if row.good is None:
        return None
    return row.good if row.role == "job" else (inlet.high or inlet.low) + row.good


def _risen(
    row: SignRow, found: Decimal | None, inlet: Decimal, ends: tuple[Decimal, Decimal | None]
) -> State:
    """Weigh one corner of what a stage puts in."""
    least, most = ends
    if found is None:
        return "over"
    if row.top is not None and found > max(row.top, most or row.top):
        return "over"
    if row.top is None and row.more and most is not None and _beyond(found, inlet, most):
        return "over"
    if least <= inlet:
        return "done" if found >= least else "undone"
    share = (found - inlet) / (least - inlet)
    if share <= rule("rise_none"):
        return "undone"
    return "done" if share >= rule("rise_enough") else "partly"


def _beyond(found: Decimal, inlet: Decimal, most: Decimal) -> bool:
    return found - inlet > rule("rise_beyond") * max(most - inlet, Decimal(0))


def _open(seen: Seen, why: str) -> Weighed:
    return Weighed(seen, "open", (say(f"outlet.open_{why}"),))


@dataclass(frozen=True, slots=True)
class Later:
    """What the stages behind one do to the same analyte, up to the tap."""

    lowered: bool
    raised: bool


def hidden(one: Weighed, later: Later) -> bool:
    """Whether what is found at the tap may be the work of a stage further on."""
    row, state = one.row, one.state
    if row.way in {"falls", "absent"}:
        return (later.lowered and state == "done") or (later.raised and state != "done")
    if row.way == "within":
        return later.lowered and state == "undone"
    lacking = state in {"undone", "partly"}
    return (later.lowered and lacking) or (later.raised and not lacking)


def states(signs: Sequence[Weighed], role: str) -> tuple[State, ...]:
    """Return what the signs of a role tell, those that tell anything."""
    return tuple(one.state for one in signs if one.row.role == role and one.told)
