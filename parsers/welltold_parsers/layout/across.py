"""Reads a table whose columns are analytes and whose rows are samples.

Some rows are not samples: a row of units, of reporting limits, of methods, of levels.
"""

from __future__ import annotations

from collections.abc import Sequence

from .across_columns import result_columns
from .across_results import AcrossResults
from .across_sample_columns import bottle_columns, columns_of_sample
from .across_samples import AcrossSamples
from .asked import is_minus
from .cells import Cell, Line, join
from .context import Context
from .day_blocks import with_places
from .drafts import Draft, Facts
from .left_out import count_left_out, is_logged
from .metadata import facts_of
from .onward import goes_on
from .row_groups import whole_rows
from .row_kinds import is_earlier, not_sampled, sums_up, undated_end
from .serving_rows import ServingRows
from .sheet_names import statistic
from .sheet_samples import draws
from .tables import Table
from .tokens import value_of
from .told import role_of_column
from .wide import is_sheet, seen, untold
from .words import heading_region

_HEADING = 5
"""A line that begins another part of a table has no more words."""
_BESIDE_REMARK = 4
"""So many cells has a row in which a remark may stand in the place of results."""
_FEW_WORDS = 3
_WORDS = 4
"""A line in one piece with so many words is a sentence."""


class AcrossReader:
    """Reads the lines of one table with analytes across."""

    def __init__(self, table: Table, context: Context) -> None:
        self.table = table
        self.context = context
        self.columns = result_columns(table)
        self.taken = {i for c in self.columns for i in (c.index, *c.own.values())}
        """The columns of results, and of what stands beside each."""
        self.draws = draws(table, [c.index for c in self.columns])
        self.bottles = bottle_columns(table, self.draws)
        """The column with the number of each result's bottle."""
        bottles = {*self.bottles.values()} if is_sheet(table) else set()
        self.roles = columns_of_sample(table, self.taken | bottles)
        self.samples = AcrossSamples(table, self.columns, self.roles, context)
        self.serving = ServingRows(table, self.columns, self.roles)
        self.results = AcrossResults(table, self.columns, self.roles, self.serving, context)
        self.doubtful: set[int] = set()
        """Lines that may be no samples."""
        self.outside = context.region
        """The part of the sheet that the table stands in; it may have parts of its own."""

    def read(self) -> None:
        """Read all lines."""
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
            if self.serving.takes(line, cells, first):
                if (role := role_of_column(self.serving.told)) == "limits":
                    self.context.accounts.leave(line, role)
                continue
            late.append((line, cells))
        late = with_places(late, self.roles)
        end = undated_end([cells for _, cells in late], self.roles.get("collected"))
        self.doubtful = {id(late[n][0]) for n in end}
        names = [c.name for c in self.columns]
        if is_logged(self.table, [cells for _, cells in late], self.roles, names, self.context):
            return
        for line, cells in late:
            self._line(line, cells)
        self._untold()

    def _untold(self) -> None:
        """Tell the columns of numbers that nothing explains."""
        if not self.context.closed:
            accounted = (
                self.taken | set(self.roles.values()) | count_left_out(self.table, self.context)
            )
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

    def _line(self, line: Line, cells: Sequence[Cell | None]) -> None:
        if self.context.closed and not self._part_begins(line):
            self.context.count(self.context.region or "")
        if self.context.closed:
            return
        cells = self._without_remark(line, cells)
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
        signs = self.context.minus and any(is_minus(c.text) for c in answers)
        if not_sampled(answers) and not signs:
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
        facts = self.samples.facts(cells)
        if self.samples.is_control(facts, cells):
            self.context.accounts.leave(line, "quality_control")
            return
        draft = self._sample(facts)
        for column in self.columns:
            cell = cells[column.index]
            if cell is not None:
                own = self._drawn(facts, column.index, cells) or draft
                self.results.emit(column, cells, own, unsure=id(cell.line) in self.doubtful)

    def _without_remark(self, line: Line, cells: Sequence[Cell | None]) -> Sequence[Cell | None]:
        """Tell a remark in the place of several results, and leave the others of its row.

        "70887 | Staff lounge | 0.6 | INVALID - bottle leaked, please resample | NT".
        """
        if line.sheet is not None or len(line.cells) < _BESIDE_REMARK or ":" in line.cells[0].text:
            return cells  # a key below the table, with what it says beside it
        for cell in line.cells[1:]:
            words = [w for w in cell.text.split() if any(map(str.isalpha, w))]
            if len(words) < _FEW_WORDS or value_of(cell.text, letters=True) is not None:
                continue
            over = [
                c.index
                for c in self.columns
                if min(cell.right, self.table.columns[c.index].right)
                > max(cell.left, self.table.columns[c.index].left)
            ]
            if len(over) > 1:
                self.context.lost(join(line.cells), "words_only")
                return [None if i in over else kept for i, kept in enumerate(cells)]
        return cells

    def _drawn(self, facts: Facts, index: int, cells: Sequence[Cell | None]) -> Draft | None:
        """Return the bottle of a column whose head says how the water was drawn."""
        taken = self.draws.get(index)
        if taken is None:
            return None
        at = self.bottles.get(index)
        bottle = cells[at] if at is not None else None
        own = {"sample_id": bottle.text} if bottle is not None else {}
        return self.context.samples.of(facts | own | {"taken": taken})

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
        alone = not is_sheet(self.table) and len(self.table.lines) == 1
        if alone and not placed and "collected" not in facts:
            draft = samples.current()  # what was measured at the tap, in a box of a form
            for role, text in facts.items():
                draft.facts.setdefault(role, text)
            return draft
        return samples.of(facts) if facts else samples.current()

    def _lost(self, line: Line, cells: Sequence[Cell | None]) -> None:
        numbers = [
            c
            for col in self.columns
            if (c := cells[col.index]) is not None and any(x.isdigit() for x in c.text)
        ]
        if len(numbers) >= 2 and len(line.cells) > 2:
            self.context.lost(join(line.cells), "not_understood")


def _is_sentence(line: Line) -> bool:
    """Whether a line of a page is one run of words that only stands under the columns."""
    words = line.text.split()
    return line.sheet is None and len(line.cells) == 1 and sum(map(str.isalpha, words)) >= _WORDS
