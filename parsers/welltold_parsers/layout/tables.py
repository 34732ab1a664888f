"""A table of a page or a sheet, and the lines that belong to none."""

from __future__ import annotations

from .cells import Cell, Line
from .column import Column
from .heads import Kind
from .placed_cells import assign


class Table:
    """A head, its columns, and the lines under it up to the next head."""

    __slots__ = ("_placed", "_places", "_whole", "columns", "heads", "kind", "lines")

    def __init__(
        self, kind: Kind, heads: list[Line], lines: list[Line], columns: list[Column]
    ) -> None:
        self.kind = kind
        self.heads = heads
        self.lines = lines
        self.columns = columns
        self._places = {c.left: i for i, c in enumerate(columns)}
        self._placed: dict[int, list[Cell | None]] = {}
        self._whole: tuple[Table, int] | None = None

    @property
    def is_part(self) -> bool:
        """Whether this is one of several tables side by side."""
        return self._whole is not None

    def part(self, start: int, end: int) -> Table:
        """Return the table made of some of the columns, where several stand side by side."""
        part = Table(self.kind, self.heads, self.lines, self.columns[start:end])
        part._whole = (self, start)
        return part

    def settle(self, line: Line, cells: list[Cell | None]) -> None:
        """Say which cells a line has, where the columns' extents do not tell."""
        self._placed[id(line)] = cells

    def cells(self, line: Line) -> list[Cell | None]:
        """Return a line's cells by column of this table."""
        if self._whole is not None:
            whole, start = self._whole
            return whole.cells(line)[start : start + len(self.columns)]
        if line.sheet is None:
            placed = self._placed.get(id(line))
            if placed is None:
                placed = self._placed[id(line)] = assign(line, self.columns)
            return list(placed)
        row: list[Cell | None] = [None] * len(self.columns)
        for cell in line.cells:
            at = self._places.get(cell.left)
            if at is not None:
                row[at] = cell
        return row


class Free:
    """Lines that belong to no table."""

    __slots__ = ("lines",)

    def __init__(self, lines: list[Line]) -> None:
        self.lines = lines
