"""Whose water each row of a table with analytes across is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .across_columns import AnalyteColumn
from .across_sample_columns import site_column, year_column
from .cells import Cell
from .context import Context
from .dates import is_date, is_hour
from .drafts import IDENTITY, NUMBERS, Facts
from .empties import says_nothing
from .row_kinds import named_blank
from .sample_kinds import code_kind, is_field_duplicate, kind_of_names, measured_again
from .sheet_samples import coordinates, depth_column, kind_columns, kind_told
from .split_days import day_columns, day_in
from .tables import Table
from .title_places import place_of_title
from .told_apart import columns_apart, of_names, with_parts
from .wide import is_sheet


class AcrossSamples:
    """What the rows of one table say of their samples."""

    def __init__(
        self,
        table: Table,
        columns: Sequence[AnalyteColumn],
        roles: Mapping[str, int],
        context: Context,
    ) -> None:
        self.table = table
        self.columns = columns
        self.taken = {i for c in columns for i in (c.index, *c.own.values())}
        self.roles = roles
        self.context = context
        self.place = coordinates(table) if is_sheet(table) else None
        self.kinds = kind_columns(table) if is_sheet(table) else []
        self.depth = depth_column(table) if is_sheet(table) else None
        self.site = site_column(table, roles)
        self.year = year_column(table, roles)
        self.day = day_columns(table, self.taken) if self._undated() else ()
        self.apart = self._apart() if is_sheet(table) else []
        named = [i for r, i in roles.items() if r in IDENTITY] if is_sheet(table) else []
        rows = [table.cells(line) for line in table.lines] if named else []
        self.names = {c.text for row in rows for i in named if (c := row[i]) is not None}
        """All names and numbers of samples in a data file."""
        self.titled = place_of_title(context.last_heading, table.heads[0])

    def _undated(self) -> bool:
        return is_sheet(self.table) and "collected" not in self.roles

    def _apart(self) -> list[int]:
        """Return the columns that tell rows apart where their names and days do not."""
        known = [*of_names(self.roles), *self.day, *self.kinds]
        known += [i for i in (self.depth, self.site, self.year and self.year[1]) if i is not None]
        return columns_apart(self.table, known, self.taken) if self.taken else []

    def facts(self, cells: Sequence[Cell | None]) -> Facts:
        """Return what a row says of its sample."""
        facts: Facts = {}
        for role, index in self.roles.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        self._day_of_page(facts)
        if (kind := kind_told(cells, self.kinds)) is not None:
            facts["sample_type"] = kind
        site = cells[self.site] if self.site is not None else None
        if site is not None and "point" in facts:
            facts["point"] = f"{site.text}, {facts['point']}"
        if not facts.keys() & {"lab_id", "sample_id", "client_id", "point"}:
            facts.update(self._place(cells))
        self._more(facts, cells)
        heads = {self.table.columns[c.index].head.lower() for c in self.columns}
        if heads and all("first draw" in h or "1st draw" in h for h in heads):
            facts.setdefault("taken", "first draw")
        return facts

    def _more(self, facts: Facts, cells: Sequence[Cell | None]) -> None:
        """Add the day that several columns make, and what tells rows of one place apart."""
        if self.day and (day := day_in(cells, self.day)) is not None:
            facts["collected"] = day
        elif self.year is not None and (year := cells[self.year[1]]) is not None:
            told = self.year[0]
            facts[told] = ", ".join(t for t in (facts.get(told), year.text) if t)
        named = next((r for r in ("point", *NUMBERS) if r in facts), None)
        if self.apart and named is not None:
            facts[named] = with_parts(facts[named], self.roles.get(named), cells, self.apart)
        if self.depth is not None and (deep := cells[self.depth]) is not None:
            facts["depth"] = deep.text

    def _day_of_page(self, facts: Facts) -> None:
        """Add the day that stands above the table to a row that has only its hour."""
        if is_sheet(self.table) or "collected" in self.roles or "collected_time" not in facts:
            return
        if (day := self.context.samples.day()) is not None:
            facts["collected"] = day

    def _place(self, cells: Sequence[Cell | None]) -> Facts:
        """Return what stands for a name where no column is headed so."""
        if self.place is not None:
            at = [c.text for i in self.place if (c := cells[i]) is not None]
            if len(at) == 2 and not any(map(says_nothing, at)):
                return {"point": ", ".join(at)}
        if is_sheet(self.table):
            return {"point": self.titled} if self.titled else {}
        for index, cell in enumerate(cells):
            known = index in self.taken or index in self.roles.values()
            if cell is not None and not known and not (is_date(cell.text) or is_hour(cell.text)):
                return {"sample_id" if _is_id(cell.text) else "point": cell.text}
        return {"point": self.titled} if self.titled else {}

    def is_control(self, facts: Facts, cells: Sequence[Cell | None]) -> bool:
        """Whether a row is no client's water; it is counted. A bottle drawn twice is told so."""
        code = facts.pop("sample_type", None)
        if code and is_field_duplicate(code):
            facts["duplicate"] = code
        kind = code_kind(code) if code else None
        kind = kind or kind_of_names(facts, self.context.report_id)
        if kind is None and any(
            measured_again(facts[r], self.names) for r in facts if r in IDENTITY
        ):
            kind = "qc_sample"
        kind = kind or named_blank([c for i, c in enumerate(cells) if i not in self.taken])
        if kind == "blank_sample":
            self.context.blanks.append(
                facts.get("client_id") or facts.get("sample_id") or facts.get("point") or ""
            )
        if kind:
            self.context.count("qc" if kind == "qc_sample" else "blank")
        return kind is not None


def _is_id(text: str) -> bool:
    return any(c.isdigit() for c in text) and " " not in text.strip()
