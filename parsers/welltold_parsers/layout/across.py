"""Reads a table whose columns are analytes and whose rows are samples.

Some rows are not samples: a row of units, of reporting limits, of methods, of levels.
"""

from __future__ import annotations

import re
from collections.abc import Container, Sequence
from dataclasses import dataclass

from .cells import Cell, Line, join
from .columns import Column
from .content import contents
from .context import Context
from .dates import is_date
from .empties import says_nothing
from .heads import SAMPLE_ROLES, head_analyte
from .metadata import facts_of
from .onward import goes_on
from .printed import Printed
from .roles import column_head
from .row_groups import whole_rows
from .samples import Draft, Facts, code_kind, control_kind, is_field_duplicate
from .sheet_roles import sign_columns
from .sheet_samples import coordinates, depth_column, sample_columns
from .short_names import short_name
from .tables import Table, joined
from .tokens import analyte_in, analytes_within, is_number, unit_of, value_of
from .unit_choice import fits
from .wide import Extra, companions, is_sheet, more_columns, seen, untold
from .words import head_key, head_of, split_unit

_STUB_ROLES = frozenset(
    [
        "unit",
        "reporting_limit",
        "detection_limit",
        "printed_limit",
        "goal",
        "method",
        "cas",
        "previous",
        "limit_low",
        "limit_high",
        "analyzed",
        "fraction",
    ]
)
_TELLING = frozenset({"qualifier", "sign", "detect_flag", "condition"})
_STANDARD = re.compile(
    r"(?i)\b(?:standard|limit|level|benchmark|guideline|criteri(?:a|on)|goal|advisory|objective)s?\b"
)
_COMPANIONS = frozenset(
    {"qualifier", "sign", "detect_flag", "unit", "reporting_limit", "detection_limit", "method"}
)


@dataclass(slots=True)
class AnalyteColumn:
    """One column of results."""

    index: int
    label: str
    name: str
    """The part of the label that names the analyte."""
    cell: Cell
    unit: str | None
    own: dict[str, int]
    sure: bool = True
    """The head names the analyte by itself; else it does so only beside the others."""


class AcrossReader:
    """Reads the lines of one table with analytes across."""

    def __init__(self, table: Table, context: Context) -> None:
        self.table = table
        self.context = context
        self.columns = _analyte_columns(table)
        own = {i for c in self.columns for i in c.own.values()}
        self.roles = _sample_columns(table, {c.index for c in self.columns} | own)
        self.place = coordinates(table) if is_sheet(table) else None
        self.depth = depth_column(table) if is_sheet(table) else None
        self.crowded = any(
            sum(c.left < x.right - 1 and x.left + 1 < c.right for c in table.columns) > 2
            for line in table.heads
            for x in line.cells
            if x.words
        )
        """Heads so near each other that it is open which column each word belongs to."""
        self.dated = False
        """A row with a day of collection was seen."""
        self.rows: dict[str, Sequence[Cell | None]] = {}
        """Rows that serve all samples: units, limits, methods."""

    def read(self) -> None:
        """Read all lines."""
        taken = {i for c in self.columns for i in (c.index, *c.own.values())}
        first = min(c.index for c in self.columns)
        lines = whole_rows([(line, self.table.cells(line)) for line in self.table.lines], first)
        late = []
        for line, cells in lines:
            if self._serves_all(cells, first):
                continue
            late.append((line, cells))
        for line, cells in late:
            self._line(line, cells, taken)
        if is_sheet(self.table) and not self.context.closed:
            accounted = taken | set(self.roles.values())
            for cell, text in untold(self.table, seen(self.table), accounted):
                self.context.lost(cell, "column_unknown", text)

    def goes_on(self, lines: Sequence[Line]) -> bool:
        """Whether lines on a later page, without a head, are rows of this table."""
        named = {"lab_id", "sample_id", "client_id", "point"}
        samples = [i for role, i in self.roles.items() if role in named]
        return goes_on(lines, self.table, samples, [c.index for c in self.columns])

    def read_on(self, lines: Sequence[Line]) -> None:
        """Read further lines under the same columns."""
        self.table = Table("across", self.table.heads, list(lines), self.table.columns)
        self.read()

    def _serves_all(self, cells: Sequence[Cell | None], first: int) -> bool:
        """Whether a row gives units, limits or methods for all samples; it is kept."""
        filled = [cells[c.index] for c in self.columns if cells[c.index] is not None]
        if not filled:
            return False
        units = [c for c in filled if c and unit_of(c.text) and not is_number(c.text)]
        others = [c for c in filled if c and c not in units]
        most = is_sheet(self.table) and len(units) >= 0.6 * len(filled) and len(units) >= 3
        if not others or (most and not any(value_of(c.text) for c in others)):
            self.rows.setdefault("unit", cells)
            return True
        for cell in cells[:first]:
            head = head_of(cell.text) if cell is not None else None
            if head and head.score >= 0.65 and head.role in _STUB_ROLES and head.role != "analyzed":
                self.rows.setdefault(head.role, cells)
                return True
        return self._undated(cells, first)

    def _undated(self, cells: Sequence[Cell | None], first: int) -> bool:
        """Whether a row above the samples has words where each sample has its day: a standard's."""
        at = self.roles.get("collected")
        if at is None or self.dated:
            return False
        day = cells[at]
        self.dated = day is not None and is_date(day.text)
        words = [c.text for c in cells[:first] if c is not None]
        return not self.dated and len(words) == 1 and _STANDARD.search(words[0]) is not None

    def _line(self, line: Line, cells: Sequence[Cell | None], taken: set[int]) -> None:
        if self.context.closed:
            self.context.count(self.context.region or "")
            return
        filled = [
            c
            for c in self.columns
            if (cell := cells[c.index]) is not None and value_of(cell.text, letters=True)
        ]
        told = sum(cells[c.index] is not None for c in self.columns)
        if len(filled) < 0.5 * told:
            pairs = facts_of(line)
            if pairs:
                self.context.facts(pairs)
            else:
                self._lost(line, cells)
                self.context.heading(line)
            return
        facts = self._facts(cells, taken)
        if self._control(facts):
            return
        draft = self._sample(facts)
        for column in self.columns:
            cell = cells[column.index]
            if cell is not None:
                self._emit(column, cell, cells, draft)

    def _sample(self, facts: Facts) -> Draft:
        """Return the sample of a row; in a data file a row without a name is one of its own."""
        samples = self.context.samples
        placed = facts.keys() & {"lab_id", "sample_id", "client_id", "point"}
        if is_sheet(self.table) and not placed and len(self.table.lines) > 1:
            return samples.alone(facts)
        return samples.of(facts) if facts else samples.current()

    def _lost(self, line: Line, cells: Sequence[Cell | None]) -> None:
        numbers = [
            c
            for col in self.columns
            if (c := cells[col.index]) is not None and any(x.isdigit() for x in c.text)
        ]
        if len(numbers) >= 2 and len(line.cells) > 2:
            self.context.lost(join(line.cells), "not_understood")

    def _emit(
        self, column: AnalyteColumn, cell: Cell, cells: Sequence[Cell | None], draft: Draft
    ) -> None:
        own = {
            r: c
            for r, i in column.own.items()
            if (c := cells[i]) is not None and not says_nothing(c.text)
        }
        if says_nothing(cell.text) and cell.text.strip("-.") and not own.keys() & _TELLING:
            return
        for role, row in self.rows.items():
            if (found := row[column.index]) is not None:
                own.setdefault(role, found)
        for role in ("method", "matrix", "fraction", "analyzed"):
            at = self.roles.get(role)
            if at is not None and (found := cells[at]) is not None:
                own.setdefault(role, found)
        printed = Printed(
            label=column.label,
            name=column.name,
            label_cell=column.cell,
            text=cell.text,
            value_cell=cell,
            draft=draft,
            section=self.context.section,
            head=column.cell,
            head_unit=column.unit,
            cells=own,
        )
        if self.crowded:
            printed.doubt("heads_crowded")
        if not column.sure:
            printed.doubt("label_fuzzy", label=column.label, analyte=column.name)
        self.context.emit(printed)

    def _facts(self, cells: Sequence[Cell | None], taken: set[int]) -> Facts:
        facts: Facts = {}
        for role, index in self.roles.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        placed = facts.keys() & {"lab_id", "sample_id", "client_id", "point"}
        if not placed and self.place is not None:
            at = [c.text for i in self.place if (c := cells[i]) is not None]
            if len(at) == 2 and not any(map(says_nothing, at)):
                facts["point"] = ", ".join(at)
        elif not placed and not is_sheet(self.table):
            for index, cell in enumerate(cells):
                if cell is not None and index not in taken and index not in self.roles.values():
                    facts["sample_id" if _is_id(cell.text) else "point"] = cell.text
                    break
        if self.depth is not None and (deep := cells[self.depth]) is not None:
            facts["depth"] = deep.text
        heads = {self.table.columns[c.index].head.lower() for c in self.columns}
        if heads and all("first draw" in h or "1st draw" in h for h in heads):
            facts.setdefault("taken", "first draw")
        return facts

    def _control(self, facts: Facts) -> bool:
        code = facts.pop("sample_type", None)
        if code and is_field_duplicate(code):
            facts["duplicate"] = code
        kind = code_kind(code) if code else None
        for role in ("sample_id", "client_id", "point", "lab_id"):
            if kind is None and role in facts:
                kind = control_kind(facts[role])
        if kind == "blank_sample":
            self.context.blanks.append(
                facts.get("client_id") or facts.get("sample_id") or facts.get("point") or ""
            )
        if kind:
            self.context.count("qc" if kind == "qc_sample" else "blank")
        return kind is not None


def _is_id(text: str) -> bool:
    return any(c.isdigit() for c in text) and " " not in text.strip()


def _analyte_columns(table: Table) -> list[AnalyteColumn]:
    found: list[AnalyteColumn] = []
    serving = companions(table) if is_sheet(table) else {}
    for index, column in enumerate(table.columns):
        if not column.head_cells or index in serving:
            continue
        made = _analyte_column(index, column)
        if made:
            found.append(made)
    if is_sheet(table):
        found.extend(AnalyteColumn(*e[:5], {}, e.sure) for e in _short(table, found, serving))
    found.extend(_unknown_columns(table, {c.index for c in found} | serving.keys()))
    found.sort(key=lambda c: c.index)
    owners = {c.index: c for c in found}
    for index, (role, at) in serving.items():
        if at in owners:
            owners[at].own.setdefault(role, index)
    _companions(table, found, serving.keys())
    return found


def _short(table: Table, found: Sequence[AnalyteColumn], serving: Container[int]) -> list[Extra]:
    known = {c.index: c.name for c in found}
    left = {i for i in range(len(table.columns)) if i not in known and i not in serving}
    return more_columns(table, seen(table), known, left)


def _unknown_columns(table: Table, taken: set[int]) -> list[AnalyteColumn]:
    """Return columns of numbers with a unit whose head is no known analyte and no other role."""
    content = contents([table.cells(line) for line in table.lines[:60]], len(table.columns))
    found = []
    for index, (column, facts) in enumerate(zip(table.columns, content, strict=True)):
        cells = column.head_cells
        if index in taken or not cells or column_head(column) or not facts.numeric_results():
            continue
        units = [c.text.strip("()[]") for c in cells if unit_of(c.text.strip("()[]"))]
        unit = units[0] if units else split_unit(column.head)[1]
        label = joined([c.text for c in cells if unit_of(c.text.strip("()[]")) is None])
        if unit and any(c.isalpha() for c in label):
            short = short_name(label)
            fitting = short is not None and short.slug is not None and fits(short.slug, unit)
            name = short.name if short is not None and fitting else label
            found.append(AnalyteColumn(index, label, name, join(cells), unit, {}))
    return found


def _analyte_column(index: int, column: Column) -> AnalyteColumn | None:
    cells = column.head_cells
    for parts in ([*cells], *([c] for c in reversed(cells)), cells[:2], cells[-2:]):
        text = joined([c.text for c in parts])
        if head_analyte(text) is None:
            continue
        unit = None
        for cell in cells:
            if unit_of(cell.text.strip("()[]")):
                unit = cell.text.strip("()[]")
        label = text
        spelled = split_unit(text)[1]
        named = [c for c in parts if unit_of(c.text.strip("()[]")) is None]
        if named:
            label = joined([c.text for c in named])
        return AnalyteColumn(index, label, reading_name(label), join(parts), unit or spelled, {})
    return None


def reading_name(label: str) -> str:
    """Return the part of a head that names its analyte, for heads that say more."""
    bare, _ = split_unit(label)
    if analyte_in(bare) is not None:
        return label
    within = analytes_within(bare)
    if len(within) == 1:
        start, end, _match = within[0]
        return " ".join(bare.split()[start:end])
    return label


def _companions(table: Table, found: list[AnalyteColumn], told: Container[int]) -> None:
    """Give columns of flags, signs and limits to the analyte column before them."""
    rows = [table.cells(line) for line in table.lines[:60]]
    content = contents(rows, len(table.columns))
    indices = {c.index for c in found}
    signs = sign_columns(table, indices) if is_sheet(table) else {}
    owner: AnalyteColumn | None = None
    for index, column in enumerate(table.columns):
        if index in indices:
            owner = next(c for c in found if c.index == index)
            continue
        if index in signs:
            next(c for c in found if c.index == signs[index]).own.setdefault("sign", index)
            continue
        if owner is None or index in told:
            continue
        head = column_head(column)
        role = head.role if head else ""
        if not role and content[index].filled and content[index].flag == content[index].filled:
            role = "qualifier"
        if role in _COMPANIONS:
            owner.own.setdefault(role, index)


def _sample_columns(table: Table, taken: set[int]) -> dict[str, int]:
    if is_sheet(table):
        return sample_columns(table, [table.cells(x) for x in table.lines[:200]], taken)
    roles: dict[str, int] = {}
    for index, column in enumerate(table.columns):
        head = column_head(column)
        if index in taken or not head:
            continue
        if head.role in SAMPLE_ROLES | {"report_id", "method", "fraction", "analyzed"}:
            roles.setdefault(head.role, index)
        elif head_key(column.head) == "date":  # one date a sample is the day it was taken
            roles.setdefault("collected", index)
    return roles
