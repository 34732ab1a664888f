"""What a sheet is made of, before a press gives it a form."""

from __future__ import annotations

from dataclasses import dataclass, field

from .draw import Bottle, Habit


@dataclass(slots=True)
class Title:
    """The large line at the top."""

    text: str


@dataclass(slots=True)
class Line:
    """One line or paragraph of text."""

    text: str
    strong: bool = False


@dataclass(slots=True)
class Pairs:
    """Keys with their values, in one or two columns."""

    pairs: list[tuple[str, str]]
    columns: int = 1


@dataclass(slots=True)
class Grid:
    """A table: rows of heads, then rows of cells; a row that is one text goes over all columns."""

    heads: list[list[str]]
    rows: list[list[str] | str]
    right: set[int] = field(default_factory=set)
    """Columns set to the right."""
    results: set[int] = field(default_factory=set)
    """Columns that hold results."""

    @property
    def width(self) -> int:
        """Number of columns."""
        rows = [row for row in self.rows if isinstance(row, list)]
        return len((self.heads or rows)[0])


@dataclass(slots=True)
class Beside:
    """Two tables side by side."""

    left: Grid
    right: Grid


@dataclass(slots=True)
class Leaders:
    """Labels and values with dots between."""

    pairs: list[tuple[str, str]]


@dataclass(slots=True)
class Break:
    """A new page, or a new sheet of a workbook."""


Block = Title | Line | Pairs | Grid | Beside | Leaders | Break


@dataclass(slots=True)
class Leaf:
    """A whole document: its blocks and its truth."""

    lab: Habit
    blocks: list[Block]
    bottles: list[Bottle]
    wide: bool = False
    """Printed on landscape pages."""
    small: bool = False
    """A card or slip."""
