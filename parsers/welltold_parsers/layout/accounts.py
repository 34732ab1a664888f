"""Which lines of a page are accounted for, so that no line with a test and a number goes unsaid.

A line is accounted for when it gave a result, was left out for a reason, or belongs to a part of
the sheet that holds no results. What is left is told as unread.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .cells import Line
from .tokens import analyte_in, unit_of, value_of

_MANY = 2
_NAMES = 2
"""A test is named in one of so many first cells of its line."""


class Accounts:
    """The lines that are accounted for, and those at which a closed part begins or ends."""

    __slots__ = ("_closed", "_seen")

    def __init__(self) -> None:
        self._seen: set[int] = set()
        self._closed: dict[int, bool] = {}

    def settle(self, *lines: Line) -> None:
        """Note that these lines are accounted for."""
        self._seen.update(map(id, lines))

    def unanswered(self, lines: Sequence[Line]) -> Iterator[Line]:
        """Yield the lines with a name and its answer that no table took up."""
        for line in lines:
            if line.answer is not None and id(line) not in self._seen:
                yield line

    def turn(self, line: Line, *, closed: bool) -> None:
        """Note whether what follows a line holds results."""
        self._closed[id(line)] = closed
        self._seen.add(id(line))

    def missing(self, lines: Sequence[Line], *, closed: bool) -> Iterator[Line]:
        """Yield the lines of a page with a test and a number that nothing was made of."""
        if not lines or lines[0].sheet is not None:
            return
        for line in lines:
            closed = self._closed.get(id(line), closed)
            told = _names_result(line) or _many_limits(line)
            if not closed and id(line) not in self._seen and told:
                self._seen.add(id(line))
                yield line


def _names_result(line: Line) -> bool:
    for at, cell in enumerate(line.cells[:_NAMES]):
        if analyte_in(cell.text) is not None:
            return any(_numeric(c.text) for c in line.cells[at + 1 :])
    return False


def _many_limits(line: Line) -> bool:
    """Whether a line behind a name or a number has two results below or above a limit.

    Nothing but a row of results looks so, though no head says of what: "8814  Barn  <1  <1".
    """
    if len(line.cells) < _MANY + 1:
        return False
    values = [value_of(c.text) for c in line.cells[1:] if c.text[:1] in "<>"]
    return sum(v is not None and v.state in {"below", "above"} for v in values) >= _MANY


def _numeric(text: str) -> bool:
    value = value_of(text)
    return value is not None and value.value is not None and unit_of(text) is None
