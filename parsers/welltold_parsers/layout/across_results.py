"""The results of one row of a table with analytes across, with all that stands beside them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .across_columns import AnalyteColumn
from .cells import Cell
from .context import Context
from .doubt_columns import across_doubts
from .drafts import Draft
from .empties import says_nothing, stands_for_nothing
from .instruments import group_heads, instruments
from .open_flags import beside, take_open
from .printed import Printed
from .serving_rows import ServingRows
from .spans import spanned_fractions
from .tables import Table
from .tokens import label_of, unit_of
from .unit_choice import fits, settles

_TELLING = frozenset({"qualifier", "sign", "detect_flag", "condition"})


class AcrossResults:
    """Makes a result of each cell under an analyte's head."""

    def __init__(
        self,
        table: Table,
        columns: Sequence[AnalyteColumn],
        roles: Mapping[str, int],
        serving: ServingRows,
        context: Context,
    ) -> None:
        self.columns = columns
        self.roles = roles
        self.serving = serving
        self.context = context
        self.crowded = _crowded(table)
        own = {i for c in columns for i in c.own.values()}
        named = {c.index: c.name for c in columns}
        self.open = across_doubts(table, named, frozenset({*own, *roles.values()}))
        self.fractions = spanned_fractions(table)
        self.instruments = instruments(group_heads(table.heads), table.columns)
        known = {*own, *roles.values(), *named}
        self.stray = [i for i in range(len(table.columns)) if i not in known]

    def emit(
        self,
        column: AnalyteColumn,
        cells: Sequence[Cell | None],
        draft: Draft,
        *,
        unsure: bool,
    ) -> None:
        """Give the context the result in one column of a row, if the cell says something.

        ``unsure``: the row may be no sample.
        """
        cell = cells[column.index]
        if cell is None:
            return
        own = {
            r: c
            for r, i in column.own.items()
            if (c := cells[i]) is not None and not says_nothing(c.text)
        }
        if _is_blank(cell, own):
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
        if unsure:
            printed.doubt("sample_unsure")
        self._doubts(column, cells, printed)
        self.context.emit(printed)

    def _doubts(
        self, column: AnalyteColumn, cells: Sequence[Cell | None], printed: Printed
    ) -> None:
        """Note what the head of a result and the columns beside it leave open."""
        if self.crowded:
            printed.doubt("heads_crowded")
        if label_of(column.name).match is None:
            printed.doubt("column_unknown")
        for name, fields in self.open.get(column.index, {}).items():
            printed.doubt(name, **fields)
        at = beside(self.stray, [c.index for c in self.columns], column.index)
        take_open(printed, cells, at, alone=False)
        if not column.sure and not _settled(column, printed.cells):
            printed.doubt("label_fuzzy", label=column.label, analyte=column.name)

    def _serve(
        self, column: AnalyteColumn, cells: Sequence[Cell | None], own: dict[str, Cell]
    ) -> None:
        """Add what rows and columns that serve all samples or tests say of one result."""
        for role, row in self.serving.rows.items():
            if (found := row[column.index]) is not None:
                own.setdefault(role, found)
        for role in ("method", "matrix", "fraction", "analyzed", "unit"):
            at = self.roles.get(role)
            if at is None or (found := cells[at]) is None:
                continue
            if role != "unit" or _may_count(column.name, found.text):
                own.setdefault(role, found)
        if (group := self.instruments.get(column.index)) is not None:
            own.setdefault("method", group)
        if (fraction := self.fractions.get(column.index)) is not None:
            own.setdefault("fraction", fraction)

    def _title_unit(self, column: AnalyteColumn) -> str | None:
        """Return the unit that the title gives to its only analyte, if it is this column's."""
        title = self.context.title_analyte
        one = label_of(title.name).match if title is not None and title.unit else None
        other = label_of(column.name).match if one is not None else None
        return title.unit if title and one and other and one.slug == other.slug else None


def _is_blank(cell: Cell, own: Mapping[str, Cell]) -> bool:
    """Whether a cell says nothing, and nothing beside it tells that nothing was found."""
    blank = says_nothing(cell.text) and cell.text.strip("-.") and not own.keys() & _TELLING
    return bool(blank) or stands_for_nothing(cell.text)


def _may_count(name: str, spelled: str) -> bool:
    """Whether one unit of a whole row can be that of this test: no temperature is in ppm."""
    match = label_of(name).match
    return match is None or unit_of(spelled) is None or fits(match.slug, spelled)


def _crowded(table: Table) -> bool:
    """Whether heads stand so near each other that it is open which column a word belongs to."""
    return any(
        sum(c.left < x.right - 1 and x.left + 1 < c.right for c in table.columns) > 2
        for line in [max(table.heads, key=lambda line: len(line.cells))]
        for x in line.cells
        if x.words
    )


def _settled(column: AnalyteColumn, own: dict[str, Cell]) -> bool:
    """Whether the unit says which analyte a short name means: EC in uS/cm."""
    cell = own.get("unit")
    match = label_of(column.name).match
    spelled = column.unit or (cell.text if cell is not None else None)
    return match is not None and spelled is not None and settles(match.slug, spelled)
