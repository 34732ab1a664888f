"""Reads a list of places with one result each: the analyte stands in the title or the text above.

Places are nested by their indentation; the full place is the path from the outermost one.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line, join
from .context import Context
from .drafts import Draft, Facts
from .head_cells import SAMPLE_ROLES
from .metadata import facts_of
from .printed import Printed
from .roles import Plan
from .signs_before import with_signs
from .tables import Table
from .tokens import value_of

_PLACES = frozenset({"point", "client_id", "sample_id", "lab_id"})
_STEP = 3.0
"""Points of indentation that make a level of its own."""


class ListReader:
    """Reads the lines of a list; keeps its place in the nesting over page breaks."""

    def __init__(self, table: Table, plan: Plan, context: Context) -> None:
        self.table = table
        self.plan = plan
        self.context = context
        self.path: list[tuple[float, str]] = []
        self.waiting: list[tuple[Printed, Facts, tuple[str, ...], str]] = []
        """Results with their sample's facts, the path to the place and its own name."""
        result = plan.results[0].index
        self.places = [i for i, r in enumerate(plan.roles) if r in _PLACES and i < result]
        self.facts = {r: i for r, i in plan.shared.items() if r in SAMPLE_ROLES - _PLACES}

    def read(self, lines: Sequence[Line]) -> None:
        """Read these lines under the list's columns."""
        for line in lines:
            self._line(line)

    def fits(self, lines: Sequence[Line]) -> bool:
        """Whether some of these lines have a place and a result under the list's columns."""
        return any(self._value(self.table.cells(line)) and len(line.cells) <= 4 for line in lines)

    def _value(self, cells: Sequence[Cell | None]) -> Cell | None:
        cell = cells[self.plan.results[0].index]
        return cell if cell is not None and value_of(cell.text) is not None else None

    def _line(self, line: Line) -> None:
        cells = with_signs(list(self.table.cells(line)), [self.plan.results[0].index])
        value = self._value(cells)
        if value is not None:
            self._result(cells, value)
            return
        facts = facts_of(line)
        if any(f.role != "other" for f in facts):
            self.context.facts(facts)
        elif len(line.text.split()) <= 8:
            self._place(join(line.cells))

    def _place(self, cell: Cell) -> None:
        while self.path and self.path[-1][0] >= cell.left - _STEP:
            self.path.pop()
        self.path.append((cell.left, cell.text))

    def _result(self, cells: Sequence[Cell | None], value: Cell) -> None:
        if self.context.closed or self.context.title_analyte is None:
            self.context.lost(value, "no_label", " ".join(c.text for c in cells if c is not None))
            return
        title = self.context.title_analyte
        facts, path, place = self._sample(cells)
        result = self.plan.results[0]
        own = {
            role: c
            for role in ("unit", "qualifier", "method", "analyzed", "reporting_limit")
            if (i := self.plan.shared.get(role)) is not None and (c := cells[i]) is not None
        }
        printed = Printed(
            title.name,
            title.cell,
            value.text,
            value,
            Draft(),
            self.context.section,
            result.head,
            result.unit or title.unit,
            cells=own,
        )
        printed.doubt(title.how, analyte=title.name)
        self.waiting.append((printed, facts, path, place))

    def finish(self) -> None:
        """Add the results; the path to a place is named where places of one name occur."""
        names = [place for _, _, _, place in self.waiting]
        nested = len(set(names)) < len(names)
        for printed, facts, path, place in self.waiting:
            whole = " ".join([*path, place]) if nested else place
            if whole:
                facts["point"] = whole.rstrip("*† ")
            printed.draft = self.context.samples.of(facts)
            self.context.emit(printed)
        self.waiting = []

    def _sample(self, cells: Sequence[Cell | None]) -> tuple[Facts, tuple[str, ...], str]:
        facts: Facts = {}
        for role, index in self.facts.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        named = [c for i in self.places if (c := cells[i]) is not None]
        ids = [i for i in self.places if self.plan.roles[i] != "point" and cells[i] is not None]
        if len(self.places) > 1 and ids and (first := cells[ids[0]]) is not None:
            facts[self.plan.roles[ids[0]]] = first.text
            named = [c for c in named if c is not first]
        if not named:
            return facts, (), ""
        while self.path and self.path[-1][0] >= named[0].left - _STEP:
            self.path.pop()
        return facts, tuple(t for _, t in self.path), " ".join(c.text for c in named)
