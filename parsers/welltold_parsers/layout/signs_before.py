"""Signs that stand so far before their number that they look like the end of the cell before it.

"LEAD      <     1.0": the name of the test is LEAD, and the number is below 1.0.
"""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell, join, of_words
from .tokens import is_number

_SIGNS = ("<", ">", "≤", "≥", "LT", "GT")


def with_signs(cells: list[Cell | None], results: Sequence[int]) -> list[Cell | None]:
    """Return the cells of a row, a sign that ends one given to the number in the next."""
    for at in results:
        value = cells[at]
        if value is None or value.line.sheet is not None:
            continue  # a sheet has the sign in a cell of its own
        before = next((i for i in range(at - 1, -1, -1) if cells[i] is not None), None)
        cell = cells[before] if before is not None else None
        if cell is None or before is None or not is_number(value.text):
            continue
        if not cell.words or cell.words[-1].text not in _SIGNS:
            continue
        rest = cell.words[:-1]
        cells[before] = of_words(rest, cell.line) if rest else None
        cells[at] = join([of_words(cell.words[-1:], cell.line), value])
    return cells
