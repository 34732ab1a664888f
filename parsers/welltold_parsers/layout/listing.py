"""Reads a list of places with one result each: the analyte stands in the title or the text above.

Places are nested by their indentation; the full place is the path from the outermost one.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line, join
from .context import Context
from .heads import SAMPLE_ROLES
from .metadata import facts_of
from .printed import Printed
from .roles import Plan
from .samples import Facts
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
        cells = self.table.cells(line)
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
        name, label, how = self.context.title_analyte
        draft = self.context.samples.of(self._sample(cells))
        result = self.plan.results[0]
        own = {
            role: c
            for role in ("unit", "qualifier", "method", "analyzed", "reporting_limit")
            if (i := self.plan.shared.get(role)) is not None and (c := cells[i]) is not None
        }
        printed = Printed(
            name,
            label,
            value.text,
            value,
            draft,
            self.context.section,
            result.head,
            result.unit,
            cells=own,
        )
        printed.doubt(how, analyte=name)
        self.context.emit(printed)

    def _sample(self, cells: Sequence[Cell | None]) -> Facts:
        facts: Facts = {}
        for role, index in self.facts.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        named = [c for i in self.places if (c := cells[i]) is not None]
        ids = [i for i in self.places if self.plan.roles[i] != "point" and cells[i] is not None]
        if len(self.places) > 1 and ids:
            facts[self.plan.roles[ids[0]]] = join([c for c in (cells[ids[0]],) if c]).text
            named = [c for i in self.places if i != ids[0] and (c := cells[i]) is not None]
        if named:
            left = named[0].left
            while self.path and self.path[-1][0] >= left - _STEP:
                self.path.pop()
            facts["point"] = " ".join(
                [*(t for _, t in self.path), *(c.text for c in named)]
            ).rstrip("*† ")
        return facts
