"""What the digits of the reporting limits say of the decimal points of values.

Many labs print a number with at least as many decimals as its limit, and some with just as many.
Where most numbers of a sheet are so, one that is not may have lost its point, or have it at another
place: the ink of a point that is gone leaves no other trace. Labs that print a fixed number of
figures tell nothing here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import eq, ge
from typing import Literal, NamedTuple

from welltold.reading import Result


@dataclass(frozen=True, slots=True)
class _Habit:
    """How a lab sets the decimals of numbers that have a limit."""

    kept: Callable[[int, int], bool]
    """Whether the decimals of a number and of its limit are as the lab sets them."""
    least: int
    """So many other numbers with a limit make a sheet tell something."""
    share: float
    """So many of them are set so."""


_HABITS = (_Habit(ge, 4, 0.85), _Habit(eq, 5, 0.9))
"""Of the bench's sheets 0.4 % of right results are doubted for these, and of lost points beside a
limit 54 % are."""


class Unlike(NamedTuple):
    """A result whose decimals are set otherwise than those of the others beside their limits."""

    result: Result
    limit: Decimal


def unlike_limits(results: Iterable[Result]) -> Iterator[Unlike]:
    """Yield the numbers of a sheet that have other decimals than their limits suggest.

    Looks at reporting limits and at detection limits, each by themselves. One may come twice.
    """
    numbers = [one for one in results if one.state == "value" and one.decimals is not None]
    for kind in ("reporting_limit", "detection_limit"):
        yield from _unlike(numbers, kind)


def _unlike(
    numbers: Sequence[Result], kind: Literal["reporting_limit", "detection_limit"]
) -> Iterator[Unlike]:
    told = [
        (one, one.decimals or 0, limit)
        for one in numbers
        if (limit := getattr(one, kind)) is not None
    ]
    others = len(told) - 1
    for habit in _HABITS:
        odd = [
            (one, limit)
            for one, decimals, limit in told
            if not habit.kept(decimals, decimals_of(limit))
        ]
        if others >= habit.least and len(told) - len(odd) >= habit.share * others:
            yield from (Unlike(one, limit) for one, limit in odd)


def decimals_of(number: Decimal) -> int:
    """Return how many digits were printed behind the point."""
    exponent = number.as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0
