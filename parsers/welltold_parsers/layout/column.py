"""One column of a table, and how far a cell reaches into it."""

from __future__ import annotations

from .cells import Cell


class Column:
    """One column: its extent, the cells of its head, and the head's text."""

    __slots__ = ("head", "head_cells", "left", "right")

    def __init__(self, left: float, right: float) -> None:
        self.left = left
        self.right = right
        self.head_cells: list[Cell] = []
        self.head = ""

    def __repr__(self) -> str:
        return f"Column({self.left:.0f}-{self.right:.0f}, {self.head!r})"


def overlap(cell: Cell, column: Column) -> float:
    """Return how far a cell reaches into a column, in points or columns; below 0 it is beside."""
    return min(cell.right, column.right) - max(cell.left, column.left)


def reaches(cell: Cell, column: Column, by: float) -> bool:
    """Whether a cell reaches into a column by more than this; quicker than to say how far."""
    return (
        column.right - cell.left > by
        and cell.right - column.left > by
        and cell.right - cell.left > by
        and column.right - column.left > by
    )
