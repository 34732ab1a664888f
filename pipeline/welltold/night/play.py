"""One night played through: washes at their clocks, a toilet flushed, what falls short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from .balance import Minute, balance
from .rules import asked, number
from .supply import Supply
from .washes import Wash


@dataclass(frozen=True, slots=True)
class Placed:
    """One wash at its clock."""

    wash: Wash
    start: int
    """Minutes after midnight."""

    @property
    def end(self) -> int:
        """The first minute after it."""
        return self.start + self.wash.minutes


@dataclass(frozen=True, slots=True)
class Played:
    """What came of it."""

    placed: tuple[Placed, ...]
    minutes: tuple[Minute, ...]
    short: tuple[int, ...]
    """The minutes in which a bed was lifted by less than its rate."""
    flushed: int

    @property
    def lasting(self) -> bool:
        """Whether more than the one minute of the toilet falls short."""
        return any(minute != self.flushed for minute in self.short)


def play(supply: Supply, placed: Sequence[Placed]) -> Played:
    """Return the night with these washes; whatever else runs gets its water before a bed does.

    The toilet is flushed in the last minute of the largest backwash, when the least is left.
    """
    length = max((int(number("latest_end")), *(one.end for one in placed)))
    needed, lifting = [0] * length, [False] * length
    for one in placed:
        for minute, (rate, lifts) in enumerate(one.wash.rates(), start=one.start):
            needed[minute] += rate
            lifting[minute] = lifting[minute] or lifts
    largest = max(placed, key=lambda one: one.wash.backwash.rate)
    flushed = largest.start + largest.wash.backwash.minutes - 1
    needed[flushed] += asked(number("toilet"))
    minutes = tuple(balance(supply, needed))
    short = tuple(
        number
        for number, (minute, lifts) in enumerate(zip(minutes, lifting, strict=True))
        if lifts and minute.gets < minute.needed
    )
    return Played(tuple(placed), minutes, short, flushed)


def together(washes: Sequence[Wash]) -> tuple[Placed, ...]:
    """Return the worst night: every valve still at the clock of the factory."""
    return tuple(Placed(wash, int(number("start"))) for wash in washes)
