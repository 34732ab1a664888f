"""Parts a key from the day or hour that runs into it: "05/31/2026 9:30 AMDate Received"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from .boxes import part_of
from .cells import Cell, Line
from .dates import stamp
from .facts import KEYS
from .words import head_of

_GLUED = re.compile(r"(?<=[\dMm])(?=[A-Z][a-z]{2,})")
_KNOWN = 0.98


def with_keys_parted(lines: Sequence[Line]) -> Sequence[Line]:
    """Part such cells of a page in their lines; return the same lines."""
    for line in lines:
        if line.sheet is None and any(_GLUED.search(c.text) for c in line.cells):
            line.cells = [part for cell in line.cells for part in _parts(cell)]
    return lines


def _parts(cell: Cell) -> Iterator[Cell]:
    for match in _GLUED.finditer(cell.text):
        day, key = cell.text[: match.start()], cell.text[match.start() :]
        head = head_of(key.rstrip(" :"))
        if head is None or head.score < _KNOWN or head.role not in KEYS or stamp(day) is None:
            continue
        if any(c.isdigit() for c in key):
            continue
        yield part_of(cell, 0, match.start())
        yield part_of(cell, match.start(), len(cell.text))
        return
    yield cell
