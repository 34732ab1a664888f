"""The results of one row of a table of analytes in rows, with all that stands beside them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from ..answers import OPPOSITE, kind_of
from .asides import lab_limit, least_counted
from .astray_flags import doubt_odd, headless_columns, odd_columns, take_headless
from .cells import Cell, join
from .context import Context
from .doubt_columns import calculated, row_doubts
from .drafts import Facts
from .empties import says_nothing, stands_for_nothing
from .headings import cell_of
from .open_flags import stray_columns, take_open
from .printed import ROW_ROLES, Printed
from .roles import Plan
from .row_samples import RowSamples
from .sample_heads import guessed_heads, head_cell, unnumbered
from .short_names import Named, by_valence, short_name
from .tables import Table
from .tokens import analyte_in, is_number, label_of, unit_of
from .unit_choice import fits
from .wide import is_sheet
from .wraps import Step

_TELLING = frozenset({"condition", "qualifier", "detect_flag"})
"""What may say in place of a number that nothing was found."""
_OPEN = frozenset({"", "unknown", "empty", "unit"})
_LIMITS = frozenset({"printed_limit", "limit_low", "limit_high", "limit_unit"})
_EDGE = 2.6
"""A name that ends so near the next column is cut off there; a whole one ends anywhere."""


class RowResults:
    """Makes results of the rows of one table: one a row, or one for each column of a sample."""

    def __init__(self, table: Table, plan: Plan, context: Context, whose: RowSamples) -> None:
        self.table = table
        self.plan = plan
        self.context = context
        self.whose = whose
        self.sheet = is_sheet(table)
        unsure = unnumbered(whose.columns, table, plan) or [False] * len(plan.results)
        self.guessed = [a or b for a, b in zip(guessed_heads(table, plan), unsure, strict=True)]
        self.unknown = [i for i, role in enumerate(plan.roles) if role == "unknown"]
        self.flag_head = head_cell(table, plan, "detect_flag")
        self.beside = [
            [(r, i) for r in ROW_ROLES if (i := plan.column(r, result)) is not None]
            + plan.more_flags(result)
            for result in plan.results
        ]
        """For each result column, where the rest of its row stands."""
        self.stray = stray_columns(plan)
        self.odd, self.headless = odd_columns(plan), headless_columns(plan, table.columns)
        self.open = row_doubts(table, plan)
        self.calculated = calculated(table, plan)

    def emit(self, step: Step, text: str, label: Cell, how: str | None = None) -> None:
        """Give the context a result for each result column of a row that says something.

        ``text`` is the name as printed and ``label`` its cell; ``how``: the doubt that a name from
        elsewhere brings.
        """
        facts = self.whose.facts(step.cells)
        for number, result in enumerate(self.plan.results):
            cell = step.cells[result.index] or self._answer(step)
            own = self._own(step, number)
            if self._says_nothing(cell, own) or self._left_out(step, cell, facts, number):
                continue
            printed = Printed(
                label=text,
                label_cell=label,
                text=cell.text if cell is not None else "",
                value_cell=cell or own.get("condition") or label,
                draft=self.whose.draft(facts, number),
                section=self.context.section,
                head=result.head,
                head_unit=result.unit,
                cells=own,
            )
            if how:
                printed.doubt(how, analyte=text)
            self._beside(step, printed)
            self._take_stray(step, printed, number)
            self._doubts(step, printed, number)
            self.context.emit(printed)

    def emit_second(self, step: Step, label: Cell | None) -> None:
        """Give the context a result that stands in a column of other units alone: a sum in meq/L.

        Without a unit of that column it is told as not understood.
        """
        roles = enumerate(self.plan.roles)
        at = next((i for i, r in roles if r == "second_value" and step.cells[i] is not None), None)
        cell = step.cells[at] if at is not None else None
        if at is None or cell is None or label is None:
            return
        unit = next((t for t in self._heads_of(at) if unit_of(t) is not None), None)
        match = analyte_in(label.text)
        fitting = unit is not None and match is not None and fits(match.slug, unit)
        facts = self.whose.facts(step.cells)
        if not fitting or len(self.plan.results) > 1:
            self.context.lost(join(step.line.cells), "not_understood")
        elif not self._left_out(step, cell, facts, 0):
            draft, head = self.whose.draft(facts, 0), join(self.table.columns[at].head_cells)
            section = replace(self.context.section, unit=None, unit_cell=None)
            printed = Printed(label.text, label, cell.text, cell, draft, section, head, unit)
            self.context.emit(printed)

    def _heads_of(self, at: int) -> list[str]:
        """Return the head of a column, and each of its cells, without brackets."""
        column = self.table.columns[at]
        return [column.head, *(c.text.strip("()[] ") for c in reversed(column.head_cells))]

    def _own(self, step: Step, number: int) -> dict[str, Cell]:
        """Return what the row says of one result, by role."""
        return {
            r: c
            for r, i in self.beside[number]
            if (c := step.cells[i]) is not None and not says_nothing(c.text)
        }

    def _says_nothing(self, cell: Cell | None, own: Mapping[str, Cell]) -> bool:
        """Whether neither the cell of a result nor what stands beside it says anything."""
        if cell is None:
            return len(self.plan.results) > 1 or own.keys().isdisjoint(_TELLING)
        return self.sheet and stands_for_nothing(cell.text)

    def _left_out(self, step: Step, cell: Cell | None, facts: Facts, number: int) -> bool:
        """Account for a result that is no client's water, or whose tick nobody sees."""
        if self.whose.skipped(facts, number):
            self.context.accounts.settle(step.line)
            return True
        if cell is not None and self._offers_both(step, cell):
            self.context.lost(join(step.line.cells), "ticks_unclear")
            return True
        return False

    def _take_stray(self, step: Step, printed: Printed, number: int) -> None:
        """Take up what stands beside a result in columns that no head explains."""
        alone, stray = len(self.plan.results) == 1, self.stray[number]
        take_open(printed, step.cells, stray, alone=alone)
        take_headless(printed, step.cells, stray & self.headless, alone=alone)
        doubt_odd(printed, step.cells, self.odd)

    def _offers_both(self, step: Step, value: Cell) -> bool:
        """Whether "Absent" and "Present" stand in one row as on a form whose tick nobody sees.

        "Absent" may be the limit of a result; "Present" never is.
        """
        kind = kind_of(value.text) if len(self.plan.results) == 1 else None
        if kind not in {"absent", "present"} or step.line.answer is not None:
            return False
        open_ = _OPEN if kind == "present" else _OPEN | _LIMITS
        return any(
            cell is not None and kind_of(cell.text) == OPPOSITE[kind] and role in open_
            for cell, role in zip(step.cells, self.plan.roles, strict=True)
        )

    def _answer(self, step: Step) -> Cell | None:
        """Return the answer in a column for germs, where the column for numbers is empty."""
        at = self.plan.shared.get("presence")
        return step.cells[at] if at is not None and len(self.plan.results) == 1 else None

    def _beside(self, step: Step, printed: Printed) -> None:
        """Take up what else the row and the heads say: a short name, a number that is open."""
        named = self.short(printed.label)
        if named is not None:
            printed.name = named.name
            printed.head_unit = printed.head_unit or named.unit
            if not named.sure:
                printed.doubt("label_fuzzy", label=printed.label, analyte=named.name)
        unknown = [c for i in self.unknown if (c := step.cells[i]) is not None]
        if unknown and is_number(unknown[0].text):
            printed.cells["unknown"] = unknown[0]
        for cell in unknown:
            if (told := lab_limit(cell.text)) is not None:
                printed.cells.setdefault(told[0], cell_of(cell, told[1]))
            elif (least := least_counted(f"{printed.text} {cell.text}", "")) is not None:
                printed.cells.setdefault("detection_limit", cell_of(cell, least))
        if self.flag_head is not None:
            printed.cells["detect_flag_head"] = self.flag_head

    def _doubts(self, step: Step, printed: Printed, number: int) -> None:
        """Note what the place of a result leaves open."""
        if self._cut_off(printed.label_cell):
            printed.doubt("label_cut")
        if step.joined:
            printed.doubt("label_joined")
        if len(self.plan.results) > 1 and self.guessed[number]:
            printed.doubt("sample_unsure")
        if not self.plan.sure:
            printed.doubt("column_unsure")
        if number in self.calculated:
            printed.doubt("column_calculated")
        for name, fields in self.open.items():
            printed.doubt(name, **fields)

    def _cut_off(self, label: Cell) -> bool:
        """Whether a name runs into the next column, so that its end may be missing."""
        at = self.plan.analyte
        if at is None or not label.words or at + 1 >= len(self.table.columns):
            return False
        if label.text.endswith(")") and label.text.count("(") == label.text.count(")"):
            return False  # nobody cuts a name there
        edge = self.table.columns[at + 1].left
        return abs(label.right - edge) < _EDGE and label.top == label.words[0].top

    def short(self, text: str) -> Named | None:
        """Return what a name means that is known only as the short form of data files."""
        if not self.sheet:
            return None
        if (species := by_valence(text)) is not None:
            return species
        if label_of(text).match is not None:
            return None
        named = short_name(text)
        return named if named is not None and named.slug else None
