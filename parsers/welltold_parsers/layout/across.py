"""Reads a table whose columns are analytes and whose rows are samples.

Some rows are not samples: a row of units, of reporting limits, of methods, of levels.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .across_columns import AnalyteColumn, result_columns
from .across_samples import columns_of_sample, site_column, year_column
from .cells import Cell, Line, join
from .context import Context
from .dates import is_date
from .doubt_columns import across_doubts
from .drafts import Draft, Facts
from .empties import says_nothing, stands_for_nothing
from .left_out import count_left_out, is_logged
from .metadata import facts_of
from .onward import goes_on
from .open_flags import beside, take_open
from .printed import Printed
from .row_groups import whole_rows
from .row_kinds import (
    are_units,
    is_earlier,
    named_blank,
    not_sampled,
    sums_up,
    undated_end,
)
from .sample_kinds import code_kind, control_kind, is_field_duplicate, kind_of_names
from .sheet_names import statistic
from .sheet_samples import (
    coordinates,
    depth_column,
    draws,
    kind_columns,
    kind_told,
)
from .spans import spanned_fractions
from .tables import Table
from .title_places import place_of_title
from .tokens import label_of, value_of
from .unit_choice import settles
from .wide import is_sheet, seen, untold
from .words import head_of, heading_region

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
_HALVES = frozenset({"limit_low", "limit_high"})
"""Told by "Low" and "High", which begin many names of places."""
_SURE = 0.95
_HEADING = 5
"""A line that begins another part of a table has no more words."""
_WORDS = 4
"""A line in one piece with so many words is a sentence."""
_TELLING = frozenset({"qualifier", "sign", "detect_flag", "condition"})
_STANDARD = re.compile(
    r"(?i)\b(?:standard|limit|level|benchmark|guideline|criteri(?:a|on)|goal|advisory|objective)s?\b"
)


class AcrossReader:
    """Reads the lines of one table with analytes across."""

    def __init__(self, table: Table, context: Context) -> None:
        self.table = table
        self.context = context
        self.columns = result_columns(table)
        own = {i for c in self.columns for i in c.own.values()}
        self.roles = columns_of_sample(table, {c.index for c in self.columns} | own)
        self.place = coordinates(table) if is_sheet(table) else None
        self.kinds = kind_columns(table) if is_sheet(table) else []
        self.draws = draws(table, [c.index for c in self.columns]) if is_sheet(table) else {}
        self.depth = depth_column(table) if is_sheet(table) else None
        self.site = site_column(table, self.roles)
        self.year = year_column(table, self.roles)
        self.titled = place_of_title(context.last_heading, table.heads[0])
        self.crowded = any(
            sum(c.left < x.right - 1 and x.left + 1 < c.right for c in table.columns) > 2
            for line in [max(table.heads, key=lambda line: len(line.cells))]
            for x in line.cells
            if x.words
        )
        """Heads so near each other that it is open which column each word belongs to."""
        named = {c.index: c.name for c in self.columns}
        self.open = across_doubts(table, named, frozenset({*own, *self.roles.values()}))
        self.fractions = spanned_fractions(table)
        known = {*own, *self.roles.values(), *named}
        self.stray = [i for i in range(len(table.columns)) if i not in known]
        self.doubtful: set[int] = set()
        """Lines that may be no samples."""
        self.outside = context.region
        """The part of the sheet that the table stands in; it may have parts of its own."""
        self.dated = False
        """A row with a day of collection was seen."""
        self.rows: dict[str, Sequence[Cell | None]] = {}
        """Rows that serve all samples: units, limits, methods."""

    def read(self) -> None:
        """Read all lines."""
        taken = {i for c in self.columns for i in (c.index, *c.own.values())}
        if not self.columns:
            for column in self.table.columns:
                if column.head and statistic(column.head):
                    self.context.lost(join(column.head_cells), "summary", column.head)
            return
        first = min(c.index for c in self.columns)
        lines = whole_rows(
            [(line, self.table.cells(line)) for line in self.table.lines],
            first,
            {c.index for c in self.columns},
        )
        late: list[tuple[Line, list[Cell | None]]] = []
        for line, cells in lines:
            if late and (kind := self._of_others(line, cells)):
                self.context.count(kind)
                self.context.accounts.settle(line)
                continue
            if self._serves_all(line, cells, first):
                continue
            late.append((line, cells))
        end = undated_end([cells for _, cells in late], self.roles.get("collected"))
        self.doubtful = {id(late[n][0]) for n in end}
        names = [c.name for c in self.columns]
        if is_logged(self.table, [cells for _, cells in late], self.roles, names, self.context):
            return
        for line, cells in late:
            self._line(line, cells, taken)
        self._untold(taken)

    def _untold(self, taken: set[int]) -> None:
        """Tell the columns of numbers that nothing explains."""
        if not self.context.closed:
            accounted = taken | set(self.roles.values()) | count_left_out(self.table, self.context)
            for cell, text in untold(self.table, seen(self.table), accounted):
                self.context.lost(cell, "column_unknown", text)

    def _of_others(self, line: Line, cells: Sequence[Cell | None]) -> str | None:
        """Return what a row is that is made of other samples or repeats earlier ones."""
        if sums_up(line.cells[0], cells, self.roles):
            return "statistics"
        return "history" if is_earlier(line.cells[0], cells, self.roles) else None

    def goes_on(self, lines: Sequence[Line]) -> bool:
        """Whether lines on a later page, without a head, are rows of this table."""
        named = {"lab_id", "sample_id", "client_id", "point"}
        samples = [i for role, i in self.roles.items() if role in named]
        return goes_on(lines, self.table, samples, [c.index for c in self.columns])

    def read_on(self, lines: Sequence[Line]) -> None:
        """Read further lines under the same columns."""
        self.table = Table("across", self.table.heads, list(lines), self.table.columns)
        self.read()

    def _serves_all(self, line: Line, cells: Sequence[Cell | None], first: int) -> bool:
        """Whether a row gives units, limits or methods for all samples; it is kept."""
        filled = [cells[c.index] for c in self.columns if cells[c.index] is not None]
        if not filled:
            return False
        if are_units([c for c in filled if c is not None], sheet=is_sheet(self.table)):
            self.rows.setdefault("unit", cells)
            return True
        day = cells[at] if (at := self.roles.get("collected")) is not None else None
        if day is not None and is_date(day.text):
            return False
        parts = [c.text for c in cells[:first] if c is not None]
        for text in (line.cells[0].text, *parts) if parts else ():
            head = head_of(text) if control_kind(text) is None else None
            half = head is not None and head.role in _HALVES
            if half and text is not line.cells[0].text:
                continue  # the upper of two wells, behind its name
            plainly = _SURE if half else 0.65
            if head and head.score >= plainly and head.role in _STUB_ROLES - {"analyzed"}:
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
        if self.context.closed and not self._part_begins(line):
            self.context.count(self.context.region or "")
        if self.context.closed:
            return
        filled = [
            c
            for c in self.columns
            if (cell := cells[c.index]) is not None
            and value_of(cell.text, letters=True, decimal_comma=self.context.decimal_comma)
        ]
        answers = [cell for c in self.columns if (cell := cells[c.index]) is not None]
        told = len(answers)
        if not told and self._part_begins(line):
            return
        if not_sampled(answers):
            self.context.accounts.settle(line)
            return
        if len(filled) < 0.5 * told or _is_sentence(line):
            pairs = facts_of(line)
            if pairs:
                self.context.facts(pairs)
            else:
                self._lost(line, cells)
                self.context.heading(line)
            return
        facts = self._facts(cells, taken)
        if self._control(facts, cells, taken):
            return
        draft = self._sample(facts)
        for column in self.columns:
            cell = cells[column.index]
            if cell is not None:
                own = (
                    self.context.samples.of(facts | {"taken": t})
                    if (t := self.draws.get(column.index))
                    else draft
                )
                self._emit(column, cell, cells, own)

    def _part_begins(self, line: Line) -> bool:
        """Take up a row without any result that begins a part of the table: "Quality control"."""
        if any(self.table.cells(line)[c.index] is not None for c in self.columns):
            return False
        over = self.context.region != self.outside and len(line.cells) == 1
        plain = len(line.text.split()) <= _HEADING and not line.text.endswith(".")
        if heading_region(line.text) is None and not (over and plain):
            return False
        self.context.region = self.outside
        self.context.heading(line)
        return True

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
        blank = says_nothing(cell.text) and cell.text.strip("-.") and not own.keys() & _TELLING
        if blank or stands_for_nothing(cell.text):
            return
        self._serve(column, cells, own)
        printed = Printed(
            label=column.label,
            name=column.name,
            label_cell=column.cell,
            text=cell.text,
            value_cell=cell,
            draft=draft,
            section=self.context.section,
            head=column.cell,
            head_unit=column.unit or self._title_unit(column),
            cells=own,
        )
        if id(cell.line) in self.doubtful:
            printed.doubt("sample_unsure")
        if self.crowded:
            printed.doubt("heads_crowded")
        if label_of(column.name).match is None:
            printed.doubt("column_unknown")
        for name, fields in self.open.get(column.index, {}).items():
            printed.doubt(name, **fields)
        at = beside(self.stray, [c.index for c in self.columns], column.index)
        take_open(printed, cells, at, alone=False)
        if not column.sure and not _settled(column, own):
            printed.doubt("label_fuzzy", label=column.label, analyte=column.name)
        self.context.emit(printed)

    def _serve(
        self, column: AnalyteColumn, cells: Sequence[Cell | None], own: dict[str, Cell]
    ) -> None:
        """Add what rows and columns that serve all samples or tests say of one result."""
        for role, row in self.rows.items():
            if (found := row[column.index]) is not None:
                own.setdefault(role, found)
        for role in ("method", "matrix", "fraction", "analyzed", "unit"):
            at = self.roles.get(role)
            if at is not None and (found := cells[at]) is not None:
                own.setdefault(role, found)
        if (fraction := self.fractions.get(column.index)) is not None:
            own.setdefault("fraction", fraction)

    def _title_unit(self, column: AnalyteColumn) -> str | None:
        """Return the unit that the title gives to its only analyte, if it is this column's."""
        title = self.context.title_analyte
        one = label_of(title.name).match if title is not None and title.unit else None
        other = label_of(column.name).match if one is not None else None
        return title.unit if title and one and other and one.slug == other.slug else None

    def _facts(self, cells: Sequence[Cell | None], taken: set[int]) -> Facts:
        facts: Facts = {}
        for role, index in self.roles.items():
            cell = cells[index]
            if cell is not None and (kept := self.context.samples.fact(role, cell.text)):
                facts[role] = kept
        if (kind := kind_told(cells, self.kinds)) is not None:
            facts["sample_type"] = kind
        site = cells[self.site] if self.site is not None else None
        if site is not None and "point" in facts:
            facts["point"] = f"{site.text}, {facts['point']}"
        if not facts.keys() & {"lab_id", "sample_id", "client_id", "point"}:
            facts.update(self._place(cells, taken))
        if self.year is not None and (year := cells[self.year[1]]) is not None:
            named = self.year[0]
            facts[named] = ", ".join(t for t in (facts.get(named), year.text) if t)
        if self.depth is not None and (deep := cells[self.depth]) is not None:
            facts["depth"] = deep.text
        heads = {self.table.columns[c.index].head.lower() for c in self.columns}
        if heads and all("first draw" in h or "1st draw" in h for h in heads):
            facts.setdefault("taken", "first draw")
        return facts

    def _place(self, cells: Sequence[Cell | None], taken: set[int]) -> Facts:
        """Return what stands for a name where no column is headed so."""
        if self.place is not None:
            at = [c.text for i in self.place if (c := cells[i]) is not None]
            if len(at) == 2 and not any(map(says_nothing, at)):
                return {"point": ", ".join(at)}
        if is_sheet(self.table):
            return {"point": self.titled} if self.titled else {}
        for index, cell in enumerate(cells):
            if cell is not None and index not in taken and index not in self.roles.values():
                return {"sample_id" if _is_id(cell.text) else "point": cell.text}
        return {"point": self.titled} if self.titled else {}

    def _control(self, facts: Facts, cells: Sequence[Cell | None], taken: set[int]) -> bool:
        code = facts.pop("sample_type", None)
        if code and is_field_duplicate(code):
            facts["duplicate"] = code
        kind = code_kind(code) if code else None
        kind = kind or kind_of_names(facts, self.context.report_id)
        kind = kind or named_blank([c for i, c in enumerate(cells) if i not in taken])
        if kind == "blank_sample":
            self.context.blanks.append(
                facts.get("client_id") or facts.get("sample_id") or facts.get("point") or ""
            )
        if kind:
            self.context.count("qc" if kind == "qc_sample" else "blank")
        return kind is not None


def _is_sentence(line: Line) -> bool:
    """Whether a line of a page is one run of words that only stands under the columns."""
    words = line.text.split()
    return line.sheet is None and len(line.cells) == 1 and sum(map(str.isalpha, words)) >= _WORDS


def _settled(column: AnalyteColumn, own: dict[str, Cell]) -> bool:
    """Whether the unit says which analyte a short name means: EC in uS/cm."""
    cell = own.get("unit")
    match = label_of(column.name).match
    spelled = column.unit or (cell.text if cell is not None else None)
    return match is not None and spelled is not None and settles(match.slug, spelled)


def _is_id(text: str) -> bool:
    return any(c.isdigit() for c in text) and " " not in text.strip()
