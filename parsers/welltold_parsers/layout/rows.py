"""Reads a table whose rows are analytes: one result a row, or one for each sample column."""

from __future__ import annotations

from collections.abc import Sequence

from welltold.values import ParsedValue

from ..answers import OPPOSITE, kind_of
from .asides import lab_limit
from .astray_flags import doubt_odd, headless_columns, odd_columns, take_headless
from .build import cut_short
from .cells import Cell, Line, join
from .context import Context
from .dates import is_date
from .doubt_columns import calculated, row_doubts
from .empties import says_nothing, stands_for_nothing
from .head_cells import SAMPLE_ROLES
from .headings import cell_of
from .metadata import facts_of
from .open_flags import stray_columns, take_open
from .printed import ROW_ROLES, Printed
from .roles import Plan, is_no_result
from .row_samples import RowSamples
from .sample_heads import guessed_heads, head_cell
from .sheet_names import measures_the_well
from .short_names import Named, short_name
from .signs_before import with_signs
from .tables import Table
from .tokens import analyte_in, begun, is_cas, is_number, label_of, unit_of, value_of
from .wide import is_sheet, seen, untold
from .words import head_of, heading_region
from .wraps import Step, join_wrapped

_TELLING = frozenset({"condition", "qualifier", "detect_flag"})
"""What may say in place of a number that nothing was found."""
_OPEN = frozenset({"", "unknown", "empty", "unit"})
_LIMITS = frozenset({"printed_limit", "limit_low", "limit_high", "limit_unit"})
_EDGE = 2.6
"""A name that ends so near the next column is cut off there; a whole one ends anywhere."""
_LONG = 2000
"""A table of more rows is a data file, in which no name stands on two lines."""


class RowReader:
    """Reads the lines of one table in order."""

    def __init__(self, table: Table, plan: Plan, context: Context) -> None:
        self.table = table
        self.plan = plan
        self.context = context
        self.whose = RowSamples(table, plan, context)
        self.guessed = guessed_heads(table, plan)
        self.last_label: Cell | None = None
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
        self.sheet = is_sheet(table)
        self.open = row_doubts(table, plan)
        self.calculated = calculated(table, plan)

    def read(self) -> None:
        """Read all lines."""
        if self.sheet and len(self.table.lines) > _LONG:
            for line in self.table.lines:
                self._take(self._step(line))
            self._untold()
            return
        steps = [self._step(line) for line in self.table.lines]
        for step in join_wrapped(steps, self.plan.analyte):
            self._take(step)
        self._untold()

    def _untold(self) -> None:
        """Tell the columns of numbers of a data file that nothing explains."""
        if not self.sheet or self.context.closed or self.table.is_part or not self.plan.sure:
            return
        open_ = {i for i, role in enumerate(self.plan.roles) if role in {"", "unknown"}}
        if open_ and self.table.heads:
            accounted = set(range(len(self.table.columns))) - open_
            for cell, text in untold(self.table, seen(self.table), accounted):
                self.context.lost(cell, "column_unknown", text)

    def _step(self, line: Line) -> Step:
        cells = with_signs(self.table.cells(line), [r.index for r in self.plan.results])
        if any(":" in c.text for c in line.cells):
            facts = facts_of(line)
            if facts and any(f.role != "other" for f in facts) and not self._is_row(cells):
                return Step("facts", line, cells, facts=facts)
        return Step(self._kind(line, cells), line, cells)

    def _is_row(self, cells: Sequence[Cell | None]) -> bool:
        label = self._label(cells)
        if self.sheet and self.plan.sure and label is not None and len(self.table.columns) > 4:
            found = [c for r in self.plan.results if (c := cells[r.index]) is not None]
            return any(is_number(c.text) for c in found)
        return (
            label is not None
            and analyte_in(label.text) is not None
            and any(cells[r.index] is not None for r in self.plan.results)
        )

    def _kind(self, line: Line, cells: Sequence[Cell | None]) -> str:
        label = self._label(cells)
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

    def _only_limits(self, step: Step) -> bool:
        """Whether a row names a test and has numbers only in columns that hold no results."""
        label = self._label(step.cells)
        if label is None or analyte_in(label.text) is None:
            return False
        filled = [i for i, c in enumerate(step.cells) if c is not None and c is not label]
        return bool(filled) and all(is_no_result(self.plan.roles[i]) for i in filled)

    def _label(self, cells: Sequence[Cell | None]) -> Cell | None:
        return cells[self.plan.analyte] if self.plan.analyte is not None else None

    def _take(self, step: Step) -> None:
        if step.kind == "facts":
            self.context.facts(step.facts)
        elif step.kind in {"label", "other"}:
            self._heading(step)
        elif step.kind == "value":
            self._without_label(step)
        else:
            self._row(step)

    def _heading(self, step: Step) -> None:
        if self.plan.sure and self._only_limits(step):
            self.context.accounts.settle(step.line)  # a test of the form that was not done
            if any(
                c and r == "second_value" for c, r in zip(step.cells, self.plan.roles, strict=True)
            ):
                self.context.lost(join(step.line.cells), "not_understood")
            return
        facts = facts_of(step.line)
        if facts and any(f.role != "other" for f in facts):
            self.context.facts(facts)
            return
        self.context.heading(step.line)

    def _value(self, cell: Cell) -> ParsedValue | None:
        return value_of(cell.text, decimal_comma=self.context.decimal_comma)

    def _without_label(self, step: Step) -> None:
        section = self.context.section
        named = self.whose.sample_columns
        if named and any(step.cells[i] is not None for i in named.values()):
            if self.last_label is not None:
                self._results(step, self.last_label.text, self.last_label)
            elif section.analyte and section.analyte_cell:
                self._results(step, section.analyte, section.analyte_cell, "analyte_from_heading")
            elif self.context.title_analyte:
                title = self.context.title_analyte
                self._results(step, title.name, title.cell, title.how)
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
        label = step.label or self._label(step.cells)
        if label is None:
            return
        if self._column_row(step, label):
            return
        if heading_region(label.text) == "qc" and analyte_in(label.text) is None:
            self.context.count("qc")
            self.context.accounts.settle(step.line)
            return
        at = self.plan.shared.get("cas")
        number = step.cells[at] if at is not None else None
        cas = number.text if number is not None and is_cas(number.text) else None
        known = label_of(label.text, cas).match is not None or self._short(label.text) is not None
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
        self._results(step, text, label)

    def _short(self, text: str) -> Named | None:
        """Return what a name means that is known only as the short form of data files."""
        if not self.sheet or label_of(text).match is not None:
            return None
        named = short_name(text)
        return named if named is not None and named.slug else None

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

    def _results(self, step: Step, text: str, label: Cell, how: str | None = None) -> None:
        facts = self.whose.facts(step.cells)
        for number, result in enumerate(self.plan.results):
            cell = step.cells[result.index] or self._answer(step)
            own = {
                r: c
                for r, i in self.beside[number]
                if (c := step.cells[i]) is not None and not says_nothing(c.text)
            }
            if cell is None and (len(self.plan.results) > 1 or own.keys().isdisjoint(_TELLING)):
                continue
            if self.sheet and cell is not None and stands_for_nothing(cell.text):
                continue
            if self.whose.skipped(facts, number):
                self.context.accounts.settle(step.line)
                continue
            if cell is not None and self._offers_both(step, cell):
                self.context.lost(join(step.line.cells), "ticks_unclear")
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
            alone = len(self.plan.results) == 1
            take_open(printed, step.cells, self.stray[number], alone=alone)
            take_headless(printed, step.cells, self.stray[number] & self.headless, alone=alone)
            doubt_odd(printed, step.cells, self.odd)
            self._doubts(step, printed, number)
            self.context.emit(printed)

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
        named = self._short(printed.label)
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
