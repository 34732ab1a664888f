"""Reads a table whose rows are analytes: one result a row, or one for each sample column."""

from __future__ import annotations

import re
from collections.abc import Sequence

from welltold.values import ParsedValue

from .cells import Cell, Line, join
from .context import Context
from .dates import is_date
from .day_blocks import named_by_blocks
from .empties import says_nothing
from .head_cells import SAMPLE_ROLES
from .metadata import facts_of
from .result_doubts import cut_short
from .roles import Plan
from .row_results import RowResults
from .row_samples import RowSamples
from .row_steps import RowSteps
from .same_rows import SameRows
from .sheet_names import measures_the_well
from .tables import Table
from .tokens import analyte_in, begun, is_cas, is_number, label_of, unit_of, value_of
from .two_in_row import is_pair
from .wide import is_sheet, seen, untold
from .words import head_of, heading_region
from .wraps import Step, join_wrapped

_LONG = 2000
"""A table of more rows is a data file, in which no name stands on two lines."""
_LIMITS = frozenset({"printed_limit", "goal", "reporting_limit", "detection_limit"})
_SURE = 0.9
_RECOVERED = re.compile(
    r"(?i)(?:%|percent|pct\.?) ?r(?:ec(?:\.|overy|overed)?)?|rec(?:\.|overy)? ?%|(?:% ?)?rpd"
)
"""A unit of rows of quality control: the share that was found again, or how far two differ."""


class RowReader:
    """Reads the lines of one table in order."""

    def __init__(self, table: Table, plan: Plan, context: Context) -> None:
        self.table = table
        self.plan = plan
        self.context = context
        self.whose = RowSamples(table, plan, context)
        self.last_label: Cell | None = None
        self.sheet = is_sheet(table)
        self.steps = RowSteps(table, plan)
        self.controls = False
        """Rows below a head of recoveries within the table: "Surrogates | % Recovery | Limits"."""
        self.results = RowResults(table, plan, context, self.whose)

    def read(self) -> None:
        """Read all lines."""
        if self.sheet and len(self.table.lines) > _LONG:
            self._read_long()
            self._untold()
            return
        steps = [step for line in self.table.lines for step in self.steps.all_of(line)]
        if not self.sheet:
            steps = named_by_blocks(steps, self.plan)
        for step in join_wrapped(steps, self.plan.analyte):
            self._take(step)
        self._untold()

    def _read_long(self) -> None:
        """Read a data file, where most rows say what one before said of another sample."""
        alone = len(self.plan.results) == 1 and self.plan.analyte is not None
        known = SameRows(self.whose, self.context, len(self.table.columns)) if alone else None
        for line in self.table.lines:
            cells = self.table.cells(line)
            if known is not None and known.take(line, cells):
                self.last_label = self.steps.label(cells)
                continue
            step = self.steps.of(line, cells)
            self._take(step)
            if known is not None and step.kind == "row":
                known.keep(line, cells)

    def _untold(self) -> None:
        """Tell the columns of numbers of a data file that nothing explains."""
        if not self.sheet or self.context.closed or self.table.is_part or not self.plan.sure:
            return
        open_ = {i for i, role in enumerate(self.plan.roles) if role in {"", "unknown"}}
        if open_ and self.table.heads:
            accounted = set(range(len(self.table.columns))) - open_
            for cell, text in untold(self.table, seen(self.table), accounted):
                self.context.lost(cell, "column_unknown", text)

    def _take(self, step: Step) -> None:
        if _begins_controls(step.line):
            self.controls = True
            self.context.accounts.settle(step.line)
        elif step.kind == "facts":
            self.context.facts(step.facts)
        elif step.kind in {"label", "other"}:
            self._heading(step)
        elif step.kind == "nameless":
            if not self.context.closed:
                self.context.lost(join(step.line.cells), "no_label")
        elif step.kind == "value":
            self._without_label(step)
        else:
            self._row(step)

    def _heading(self, step: Step) -> None:
        if self._limit_ticked(step):
            step.line.answer = None  # the box judges the row, whose limit is no answer
        elif step.line.answer is not None:
            return  # a name with its ticked answer is read by itself
        if self.plan.sure and self.steps.only_limits(step):
            self.context.accounts.settle(step.line)  # a test of the form that was not done
            self.results.emit_second(step, self.steps.label(step.cells))
            return
        if self.steps.limit_alone(step):
            self.context.accounts.settle(step.line)
            return
        facts = facts_of(step.line)
        if facts and any(f.role != "other" for f in facts):
            self.context.facts(facts)
            return
        self.controls = False
        self.context.heading(step.line)

    def _value(self, cell: Cell) -> ParsedValue | None:
        return value_of(cell.text, decimal_comma=self.context.decimal_comma)

    def _without_label(self, step: Step) -> None:
        section = self.context.section
        named = self.whose.sample_columns
        if named and any(step.cells[i] is not None for i in named.values()):
            if self.last_label is not None:
                self.results.emit(step, self.last_label.text, self.last_label)
            elif section.analyte and section.analyte_cell:
                self.results.emit(
                    step, section.analyte, section.analyte_cell, "analyte_from_heading"
                )
            elif self.context.title_analyte:
                title = self.context.title_analyte
                self.results.emit(step, title.name, title.cell, title.how)
            return
        numbers = [
            c
            for r in self.plan.results
            if (c := step.cells[r.index]) and self._value(c) and not is_date(c.text)
        ]
        if (
            numbers
            and not self.context.closed
            and len(step.line.cells) > 1
            and self._has_unit(step)
        ):
            self.context.lost(join(step.line.cells), "no_label")

    def _has_unit(self, step: Step) -> bool:
        """Whether a row has a unit or a CAS number, as only a result has."""
        number = self.plan.shared.get("cas")
        cas = step.cells[number] if number is not None else None
        if cas is not None and is_cas(cas.text):
            return True
        at = self.plan.shared.get("unit")
        cell = step.cells[at] if at is not None else None
        return cell is not None and unit_of(cell.text) is not None

    def _row(self, step: Step) -> None:
        label = step.label or self.steps.label(step.cells)
        if label is None:
            return
        if self._column_row(step, label):
            return
        named = heading_region(label.text) == "qc" and analyte_in(label.text) is None
        named = named or self._recovered(step)
        if named or (self.controls and not self.context.closed):
            self.context.count("qc")
            self.context.accounts.settle(step.line)
            return
        at = self.plan.shared.get("cas")
        number = step.cells[at] if at is not None else None
        cas = number.text if number is not None and is_cas(number.text) else None
        known = (
            label_of(label.text, cas).match is not None
            or self.results.short(label.text) is not None
        )
        known = known or (cut_short(label.text) and begun(label.text) is not None)
        if not known and self._of_the_well(step, label):
            self.context.accounts.settle(step.line)
            return
        if not known and not self._plain_unknown(step):
            self._no_result(step, label)
            return
        self.last_label = label
        text = label.text
        if not known:
            for index in self.plan.labels:
                more = step.cells[index]
                if more is not None and label_of(more.text).match:
                    text, label = more.text, more
        self.results.emit(step, text, label)

    def _limit_ticked(self, step: Step) -> bool:
        """Whether what was taken for a ticked answer stands in a column of limits."""
        if step.line.answer is None:
            return False
        value = step.line.answer[1]
        return any(
            cell is not None
            and role in _LIMITS
            and value.left < cell.right
            and cell.left < value.right
            for cell, role in zip(step.cells, self.plan.roles, strict=True)
        )

    def _column_row(self, step: Step, label: Cell) -> bool:
        """Take up a row that says something of the sample columns: dates, places, numbers."""
        if len(self.plan.results) < 2:
            return False
        head = head_of(label.text)
        if head is None or head.score < 0.95 or analyte_in(label.text):
            return False
        if head.role in SAMPLE_ROLES:
            for result, facts in zip(self.plan.results, self.whose.columns, strict=True):
                cell = step.cells[result.index]
                if cell is not None and (kept := self.context.samples.fact(head.role, cell.text)):
                    facts[head.role] = kept
        return True

    def _recovered(self, step: Step) -> bool:
        """Whether a row gives the share of what was added, by its unit: "101.2 | %REC"."""
        at = self.plan.shared.get("unit")
        unit = step.cells[at] if at is not None else None
        return unit is not None and _RECOVERED.fullmatch(unit.text.strip()) is not None

    def _of_the_well(self, step: Step, label: Cell) -> bool:
        """Whether a row gives a length or a flow of the well, by the unit in its own column."""
        at = self.plan.shared.get("unit")
        unit = step.cells[at] if at is not None else None
        return unit is not None and measures_the_well(label.text, unit.text)

    def _plain_unknown(self, step: Step) -> bool:
        """Whether a row with an unknown label is a plain result: a value and a unit of its own."""
        for result in self.plan.results:
            cell = step.cells[result.index]
            if cell is None or (value := self._value(cell)) is None:
                continue
            at = self.plan.column("unit", result)
            unit = step.cells[at] if at is not None else None
            if value.unit_text or result.unit or (unit is not None and unit_of(unit.text)):
                return True
            if self.sheet and self.plan.sure and unit is not None and not says_nothing(unit.text):
                return True
            at = self.plan.shared.get("condition")
            if at is not None and step.cells[at] is not None:
                return True
        return False

    def _no_result(self, step: Step, label: Cell) -> None:
        """Account for a row that is none: a note, a key and its value, or something unread."""
        facts = facts_of(step.line)
        if facts:
            self.context.facts(facts)
            return
        cells = [c for r in self.plan.results if (c := step.cells[r.index]) is not None]
        numeric = any(is_number(c.text) for c in cells)
        apart = self.plan.sure and len(step.line.cells) > 1 and not self.context.closed
        if apart and any(is_pair(c.text) for c in cells):
            self.context.lost(join(step.line.cells), "not_understood")
            return
        told = self.plan.sure and any(map(self._value, cells))
        with_unit = (numeric or told) and label_of(label.text).unit is not None
        if not self.context.closed and ((told and self.sheet) or with_unit):
            self.context.lost(join(step.line.cells), "not_understood")
        elif len(step.line.cells) <= 2:
            self.context.heading(step.line)
        elif self._looks_told(label, cells):
            self.context.lost(join(step.line.cells), "not_understood")

    def _looks_told(self, label: Cell, cells: Sequence[Cell]) -> bool:
        """Whether a row has a name and a number in the right columns, though neither is clear."""
        named = any(c.isalpha() for c in label.text) and len(label.text.split()) <= 8
        values = [v for c in cells if (v := self._value(c)) is not None and v.value is not None]
        return bool(values) and named and self.plan.sure and not self.context.closed


def _begins_controls(line: Line) -> bool:
    """Whether a line within a table heads recoveries: "Surrogate compounds | % Recovery".

    A row with a number of its own is none, though its unit be "%REC".
    """
    if any(is_number(c.text) for c in line.cells[1:]):
        return False
    texts = [c.text for c in line.cells[1:] if not c.text[-1:].isdigit()]
    heads = [h for text in texts if (h := head_of(text)) and h.score > _SURE]
    return any(h.role == "recovery" for h in heads)
