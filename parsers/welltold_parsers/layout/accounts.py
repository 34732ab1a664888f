"""Which lines of a page are accounted for, so that no line with a test and a number goes unsaid.

A line is accounted for when it gave a result, was left out for a reason, or belongs to a part of
the sheet that holds no results. What is left is told as unread, line by line; a number that is left
in a line that gave other results is found in `stranded`, when all of the file was read.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .cells import Cell, Line
from .printed import Printed
from .roles import Plan
from .tables import Free, Table
from .tokens import analyte_in, unit_of, value_of
from .told import Role, Told

_MANY = 2
_NAMES = 2
"""A test is named in one of so many first cells of its line."""


class Accounts:
    """The lines that are accounted for, and those at which a closed part begins or ends."""

    __slots__ = ("_closed", "_regions", "_seen", "_whole", "keys", "pieces", "plans", "told")

    def __init__(self) -> None:
        self._seen: set[int] = set()
        self._whole: set[int] = set()
        self._closed: dict[int, bool] = {}
        self._regions: dict[int, str | None] = {}
        self.told = Told()
        self.pieces: list[tuple[Table | Free, str | None]] = []
        """The parts of the pages in order; for one that begins in a part without results, which."""
        self.keys: list[Cell] = []
        """What stands behind keys: the day of collection, the number of the sample."""
        self.plans: list[tuple[Table, Plan]] = []
        """The tables, and those that free lines were found to be, with the roles of columns."""

    def settle(self, *lines: Line) -> None:
        """Note that these lines are accounted for, with all that they hold."""
        self._seen.update(map(id, lines))
        self._whole.update(map(id, lines))

    def plan(self, table: Table, plan: Plan) -> None:
        """Note what the columns of a table are."""
        self.plans.append((table, plan))

    def leave(self, line: Line, role: Role) -> None:
        """Note that a line is left out, and what its numbers are."""
        self.settle(line)
        for cell in line.cells:
            self.told.tell(role, cell)

    def result(self, printed: Printed) -> None:
        """Note the pieces of a result; what else stands on its lines may be left yet."""
        self._seen.update((id(printed.label_cell.line), id(printed.value_cell.line)))
        self.told.result(printed)

    def lost(self, cell: Cell) -> None:
        """Note a piece of a line that is told as unread."""
        self._seen.add(id(cell.line))
        self.told.tell("unread", cell)

    def is_seen(self, line: Line) -> bool:
        """Whether a line gave anything, or was left out for a reason."""
        return id(line) in self._seen

    def is_settled(self, line: Line) -> bool:
        """Whether a line is accounted for with all that it holds."""
        return id(line) in self._whole

    def regions(self, lines: Sequence[Line], region: str | None) -> Iterator[str | None]:
        """Yield for each line which part without results it stands in, None for none."""
        for line in lines:
            region = self._regions.get(id(line), region)
            yield region

    def unanswered(self, lines: Sequence[Line]) -> Iterator[Line]:
        """Yield the lines with a name and its answer that no table took up."""
        for line in lines:
            if line.answer is not None and id(line) not in self._seen:
                yield line

    def turn(self, line: Line, region: str | None, *, closed: bool) -> None:
        """Note whether what follows a line holds results, and if not, what."""
        self._closed[id(line)] = closed
        self._regions[id(line)] = region if closed else None
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
