"""Takes the running numbers off the captions of a form: "14 SAMPLE NO.   15 DATE SAMPLED".

A form that numbers its boxes prints the number before each caption. Captions of narrow boxes may
run together so that one cell holds two: the next number tells where the second begins.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .boxes import part_of
from .cells import Cell, Line

_NUMBERED = re.compile(r"^(\d{1,3})[.)]?\s+(?=[A-Za-z])")
_FEWEST = 2
_PARTS = re.compile(r"^(\d{1,2})[.)]\s+(?=[A-Z])")
"""How a part of a form begins that numbers its parts: "7. EXPLANATION"."""


def without_numbers(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines, captions without their running numbers; other lines as they are."""
    if not lines or lines[0].sheet is not None:
        return lines
    for line in lines:
        if len(line.cells) >= _FEWEST and _NUMBERED.match(line.cells[0].text):
            parts = [part for cell in line.cells for part in _apart(cell)]
            if _run_on(parts):
                line.cells = [_bare(part) for part in parts]
    return lines


def end_of_part(lines: Sequence[Line], head: int, end: int) -> int:
    """Return where a table on a page ends whose head begins a numbered part of a form.

    "6. FIELD TESTS   RAW WATER   IDEAL" ends where "7. EXPLANATION" begins.
    """
    first = lines[head]
    told = _PARTS.match(first.cells[0].text) if first.sheet is None else None
    if told is None:
        return end
    following = f"{int(told[1]) + 1}"
    for at in range(head + 1, end):
        found = _PARTS.match(lines[at].cells[0].text)
        if found is not None and found[1] == following:
            return at
    return end


def _number(cell: Cell) -> int | None:
    found = _NUMBERED.match(cell.text)
    return int(found[1]) if found is not None else None


def _run_on(cells: Sequence[Cell]) -> bool:
    """Whether every cell begins with a number, each one more than the one before."""
    told = [_number(cell) for cell in cells]
    first = told[0]
    return first is not None and told == list(range(first, first + len(told)))


def _apart(cell: Cell) -> Iterator[Cell]:
    """Yield the captions that one cell holds, the second behind the next number."""
    own = _number(cell)
    found = re.search(rf"(?<=\S)\s+(?={own + 1}[.)]?\s+[A-Za-z])", cell.text) if own else None
    if found is None:
        yield cell
        return
    yield part_of(cell, 0, found.start())
    yield from _apart(part_of(cell, found.end(), len(cell.text)))


def _bare(cell: Cell) -> Cell:
    found = _NUMBERED.match(cell.text)
    return part_of(cell, found.end(), len(cell.text)) if found is not None else cell
