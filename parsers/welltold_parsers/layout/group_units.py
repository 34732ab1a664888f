"""The unit that a head tells for the several columns it stands over: "Metals, ug/L".

Such a head stands over the middle of its columns, which have heads of their own below it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .cells import Cell
from .columns import Column
from .tables import Table
from .tokens import unit_of
from .words import split_unit

_OFF = 6.0
"""Points that a head may stand beside the middle of its columns."""
_FEWEST = 2


def group_units(table: Table, bare: Sequence[int]) -> Mapping[int, str]:
    """Return the unit of the group for the columns of a page (``bare``) that tell none."""
    units: dict[int, str] = {}
    for line in table.heads[:-1]:
        if line.sheet is not None:
            continue
        told = [(cell, unit) for cell in line.cells if (unit := _unit(cell.text)) is not None]
        free = [i for i in bare if i not in units]
        for cell, unit in told:
            units.update(dict.fromkeys(_under(cell, free, table.columns), unit))
            free = [i for i in free if i not in units]
    return units


def _unit(text: str) -> str | None:
    """Return the unit of a title with a unit: "Metals, ug/L", "Acids (ug/L)"."""
    bare, spelled = split_unit(text)
    whole = unit_of(text.strip("()[]")) is not None
    return spelled if spelled and bare and not whole else None


def _under(cell: Cell, free: Sequence[int], columns: Sequence[Column]) -> list[int]:
    """Return the run of neighbouring columns that a head stands over the middle of."""
    best: list[int] = []
    off = _OFF
    for start in range(len(free)):
        for end in range(start + _FEWEST, len(free) + 1):
            run = list(free[start:end])
            if run[-1] - run[0] != len(run) - 1:
                break
            left, right = columns[run[0]].left, columns[run[-1]].right
            beside = abs((left + right) / 2 - cell.middle)
            covered = left <= cell.left + _OFF and cell.right - _OFF <= right
            if covered and beside < off:
                best, off = run, beside
    return best
