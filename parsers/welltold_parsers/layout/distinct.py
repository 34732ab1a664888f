"""The different texts of a page or sheet: a question asked of each once, not of every cell."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Line


def texts_in(lines: Sequence[Line]) -> set[str]:
    """Return the texts of all cells; a long data file has few beside so many cells."""
    return {cell.text for line in lines for cell in line.cells}
