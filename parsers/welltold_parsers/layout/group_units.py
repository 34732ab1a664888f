"""The unit that a head tells for the several columns it stands over: "Metals, ug/L".

Such a head stands over the middle of its columns, which have heads of their own below it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from .cells import Cell
from .column import Column
from .tables import Table
from .tokens import unit_of
from .words import split_unit

_OFF = 6.0
"""Points that a head may stand beside the middle of its columns."""
_EDGE = 3.0
_FEWEST = 2


def group_units(table: Table, bare: Sequence[int]) -> Mapping[int, str]:
    """Return the unit of the group for the columns of a page (``bare``) that tell none.

    Where several heads tell units, their groups must stand side by side without a gap: else it is
    open which columns belong to which, and nothing is told, unless all tell one unit.
    """
    units: dict[int, str] = {}
    for line in table.heads[:-1]:
        told = [(cell, unit) for cell in line.cells if (unit := _unit(cell.text)) is not None]
        free = [i for i in bare if i not in units]
        if line.sheet is not None or not told or len(free) < _FEWEST:
            continue
        runs = _by_left_edges(told, free, table.columns) or _centred(told, free, table.columns)
        if runs is not None:
            units.update({i: unit for run, unit in runs for i in run})
    return units


_Told = Sequence[tuple[Cell, str]]
_Runs = list[tuple[list[int], str]]


def _centred(told: _Told, free: Sequence[int], columns: Sequence[Column]) -> _Runs | None:
    """Return the columns of each head that stands over the middle of its own."""
    left = list(free)
    runs: _Runs = []
    for cell, unit in told:
        run = _under(cell, left, columns)
        runs.append((run, unit))
        left = [i for i in left if i not in run]
    found = [i for run, _ in runs for i in run]
    if not found:
        return None
    within = [i for i in free if i >= min(found)]
    whole = all(run for run, _ in runs) and found == within
    if whole or len(told) == 1:
        return runs
    names = {one.name for _, unit in told if (one := unit_of(unit)) is not None}
    return [(within, told[0][1])] if len(names) == 1 else None


def _by_left_edges(told: _Told, free: Sequence[int], columns: Sequence[Column]) -> _Runs | None:
    """Return the columns from each head to the next, if all begin where a column begins."""
    starts = [
        next((i for i in free if abs(columns[i].left - cell.left) < _EDGE), None)
        for cell, _ in told
    ]
    known = [i for i in starts if i is not None]
    if len(known) < max(len(told), _FEWEST) or known != sorted(set(known)):
        return None
    ends = [*known[1:], max(free) + 1]
    return [
        ([i for i in free if a <= i < b], unit)
        for (_, unit), a, b in zip(told, known, ends, strict=True)
    ]


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
