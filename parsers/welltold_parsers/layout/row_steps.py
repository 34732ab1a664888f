"""What each line of a table of analytes in rows is: a row, a name alone, keys, a heading."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, Line
from .metadata import facts_of
from .roles import Plan, is_no_result
from .signs_before import with_signs
from .tables import Table
from .tokens import analyte_in, is_number
from .two_in_row import in_second_unit, rows_of_two
from .wide import is_sheet
from .wraps import Step

LIMITS = frozenset({"printed_limit", "goal", "reporting_limit", "detection_limit"})


class RowSteps:
    """Takes the lines of one table for what they are, by its plan."""

    def __init__(self, table: Table, plan: Plan) -> None:
        self.table = table
        self.plan = plan
        self.sheet = is_sheet(table)
        self.results = [r.index for r in plan.results]

    def of(self, line: Line, cells: list[Cell | None] | None = None) -> Step:
        """Return a line with its cells by column, where they are known, and what it is."""
        cells = with_signs(cells or self.table.cells(line), self.results)
        if not self.sheet and "second_value" in self.plan.roles:
            cells = in_second_unit(cells, self.table, self.plan)
        if any(":" in c.text for c in line.cells):
            facts = facts_of(line)
            if facts and any(f.role != "other" for f in facts) and not self._is_row(cells):
                return Step("facts", line, cells, facts=facts)
        return Step(self._kind(line, cells), line, cells)

    def all_of(self, line: Line) -> list[Step]:
        """Return what a line of a page is; it may be two rows: "Calcium / Magnesium  54 / 14"."""
        step = self.of(line)
        if step.kind != "row":
            return [step]
        return [Step("row", line, cells) for cells in rows_of_two(step.cells, self.plan)]

    def _is_row(self, cells: Sequence[Cell | None]) -> bool:
        label = self.label(cells)
        if self.sheet and self.plan.sure and label is not None and len(self.table.columns) > 4:
            found = [c for r in self.plan.results if (c := cells[r.index]) is not None]
            return any(is_number(c.text) for c in found)
        return (
            label is not None
            and analyte_in(label.text) is not None
            and any(cells[r.index] is not None for r in self.plan.results)
        )

    def _kind(self, line: Line, cells: Sequence[Cell | None]) -> str:
        label = self.label(cells)
        filled = any(cells[r.index] is not None for r in self.plan.results)
        if label is not None and not filled:
            return "row" if self._told_otherwise(cells) else "label"
        if label is not None:
            return "row"
        if filled:
            return "value"
        return "label" if len(line.cells) == 1 and not self.table.is_part else "other"

    def _told_otherwise(self, cells: Sequence[Cell | None]) -> bool:
        """Whether a row without a result says in another column that nothing was found."""
        for role in ("condition", "qualifier", "detect_flag", "presence"):
            at = self.plan.shared.get(role)
            if at is not None and (cell := cells[at]) is not None and cell.text.strip():
                return True
        return False

    def only_limits(self, step: Step) -> bool:
        """Whether a row names a test and has numbers only in columns that hold no results."""
        label = self.label(step.cells)
        if label is None or analyte_in(label.text) is None:
            return False
        filled = [i for i, c in enumerate(step.cells) if c is not None and c is not label]
        return bool(filled) and all(is_no_result(self.plan.roles[i]) for i in filled)

    def limit_alone(self, step: Step) -> bool:
        """Whether a line is one number under limits, set in the middle of several rows."""
        at = [i for i, c in enumerate(step.cells) if c is not None]
        alone = len(at) == len(step.line.cells) == 1 and self.plan.roles[at[0]] in LIMITS
        return alone and not self.sheet and is_number(step.line.cells[0].text)

    def label(self, cells: Sequence[Cell | None]) -> Cell | None:
        """Return the name in the column of analytes, or None: it is empty, or there is none."""
        return cells[self.plan.analyte] if self.plan.analyte is not None else None
