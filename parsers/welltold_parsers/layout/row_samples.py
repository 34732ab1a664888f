"""Which sample a result of a table of analytes in rows belongs to: by its row or its column."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell
from .context import Context
from .drafts import Draft, Facts
from .head_cells import SAMPLE_ROLES
from .roles import Plan
from .sample_heads import by_year, column_facts, this_day, this_year, without_column
from .sample_kinds import code_kind, control_kind, is_field_duplicate, kind_of_names
from .sheet_samples import PLACED, coordinates, kind_columns, kind_told
from .tables import Table
from .wide import is_sheet


class RowSamples:
    """What the rows and the heads of one table say of samples."""

    def __init__(self, table: Table, plan: Plan, context: Context) -> None:
        self.context = context
        self.results = plan.results
        heads = column_facts(table, plan)
        self.columns = [
            {r: k for r, t in facts.items() if (k := context.samples.fact(r, t))} for facts in heads
        ]
        years = by_year(self.columns, context.samples.place())
        yearly, self.columns = years != self.columns, years
        if not context.closed:
            lone = without_column(table, plan, heads)
            context.samples.headed.update(n for n in lone if control_kind(n) is None)
        day = context.samples.day()
        self.now = this_year(self.columns, day) if yearly else this_day(self.columns, day)
        """The column of this sample, where the others are of earlier or later days."""
        if yearly and self.now is None:
            context.samples.place_told()
        self.sample_columns = {r: i for r, i in plan.shared.items() if r in SAMPLE_ROLES}
        self.sheet = is_sheet(table)
        self.place = coordinates(table) if self.sheet else None
        self.kinds = kind_columns(table) if self.sheet else []
        self.control = [i for i, r in enumerate(plan.roles) if r in {"recovery", "spike", "rpd"}]
        """Columns that are filled only in rows of quality control."""
        self.telling = sorted(
            {*self.sample_columns.values(), *(self.place or ()), *self.kinds, *self.control}
        )
        self.last_key: tuple[str | None, ...] | None = None
        self.last_facts: Facts = {}
        self.drawn: tuple[Facts, int, Draft] | None = None
        """The last sample that was found by its names, and for what."""
        self.clients: tuple[Facts, int, str | None] | None = None
        """What was last found to be a client's water, and under which report."""

    def facts(self, cells: Sequence[Cell | None]) -> Facts:
        """Return what a row says of its sample; the same for rows that say the same."""
        key = tuple([c.text if (c := cells[i]) is not None else None for i in self.telling])
        if key != self.last_key:
            self.last_key, self.last_facts = key, self._told(cells)
        return self.last_facts

    def _told(self, cells: Sequence[Cell | None]) -> Facts:
        facts: Facts = {}
        for role, index in self.sample_columns.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        if (kind := kind_told(cells, self.kinds)) is not None:
            facts["sample_type"] = kind
        elif self.sheet and any(cells[i] is not None for i in self.control):
            facts["sample_type"] = "LCS"
        if self.place is not None and not facts.keys() & PLACED:
            at = [c.text for i in self.place if (c := cells[i]) is not None]
            if len(at) == 2:
                facts["point"] = ", ".join(at)
        return facts

    def skipped(self, facts: Facts, number: int) -> bool:
        """Whether the row belongs to quality control, a blank, or a closed part of the sheet."""
        context = self.context
        if context.closed and not context.reopens(facts):
            context.count(context.region or "")
            return True
        if self.now is not None and number != self.now:
            context.count("history")
            return True
        known = self.clients
        if known is not None and known[0] is facts and known[1:] == (number, context.report_id):
            return False
        kind = None
        code = facts.get("sample_type")
        for told in (code, context.samples.listed.code_of(facts)):
            if kind is None and told:
                kind = code_kind(told)
        names = {**(self.columns[number] if self.columns else {}), **facts}
        kind = kind or kind_of_names(names, context.report_id)
        if kind == "blank_sample":
            context.blanks.append(
                names.get("client_id") or names.get("sample_id") or names.get("point") or code or ""
            )
        if kind:
            context.count("qc" if kind == "qc_sample" else "blank")
        else:
            self.clients = facts, number, context.report_id
        return kind is not None

    def draft(self, facts: Facts, number: int) -> Draft:
        """Return the sample of a result: by its row, by its column, or the current one."""
        samples = self.context.samples
        if number == self.now:
            return samples.current()
        if self.drawn is not None and self.drawn[0] is facts and self.drawn[1] == number:
            return self.drawn[2]
        merged = {**(self.columns[number] if self.columns else {}), **facts}
        code = merged.pop("sample_type", None)
        if code and is_field_duplicate(code):
            merged["duplicate"] = code
        if merged.keys() & {"lab_id", "sample_id", "client_id", "point"} or len(self.results) > 1:
            draft = samples.of(merged)
            self.drawn = None if self.columns else (facts, number, draft)
            return draft
        if self.sheet and "collected" in merged:
            return samples.dated(merged)
        draft = samples.current()
        for role, text in merged.items():
            draft.facts.setdefault(role, text)
        return draft
