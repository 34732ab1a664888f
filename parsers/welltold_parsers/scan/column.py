"""What the column of a value says of its decimal point.

Many labs print a column with one number of decimals. Where all but a value or two have it, a whole
number may have lost its point; the ink of the point may be gone altogether, so that no look at the
value alone can tell.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from welltold_parsers.geometry import Box

_NEAR = 0.8
"""Heights of a line by which the edges of values in one column differ at most."""
_LEAST = 5
"""So many others make a column tell something."""
_ALSO = 1
"""So many others that are whole numbers too tell nothing against it."""
_SHARE = 0.9
"""So many of them have the same number of decimals."""


class Printed(NamedTuple):
    """A number as it stands on a page."""

    page: int
    box: Box
    text: str


def out_of_step(numbers: Sequence[Printed]) -> Iterator[int]:
    """Yield the places of whole numbers of two digits or more in columns with decimals."""
    for at, one in enumerate(numbers):
        if not one.text.isdigit() or len(one.text) < 2:
            continue
        column = [
            other.text
            for place, other in enumerate(numbers)
            if place != at and _one_column(one, other)
        ]
        # Another of its kind, in a long column, may have lost its point too.
        lone = [text for text in column if text.isdigit() and len(text) > 1]
        few = len(lone) <= _ALSO and len(column) - len(lone) >= _LEAST
        others = [_decimals(text) for text in column if not few or text not in lone]
        if len(others) < _LEAST:
            continue
        decimals, count = Counter(others).most_common(1)[0]
        if decimals > 0 and count >= _SHARE * len(others):
            yield at


def _decimals(text: str) -> int:
    """Return how many digits stand behind the point or comma; 0 for a whole number."""
    bare = text.lstrip("<>\u2264\u2265 ").replace(",", ".")
    return len(bare.rpartition(".")[2]) if "." in bare else 0


def _one_column(one: Printed, other: Printed) -> bool:
    near = _NEAR * (one.box[3] - one.box[1])
    left, right = abs(one.box[0] - other.box[0]), abs(one.box[2] - other.box[2])
    return one.page == other.page and min(left, right) < near
