"""Lines of keys right above a head, which look like an upper part of it.

"Well 4 raw tap   Lab ref GC-2207   Sampled 07/08/2026   all mg/L" tells of the sample, and each of
its cells may stand over a column.
"""

from __future__ import annotations

from collections.abc import Sequence

from .bare_keys import led_by_key
from .cells import Line

_KEYS = 2
"""Different keys, each in one cell with its value: "Sample 1 | Sample 2" are heads."""


def below_facts(lines: Sequence[Line], first: int, at: int) -> int:
    """Return where the head at ``at`` begins whose upper lines were found from ``first`` on."""
    told = [n for n in range(first, at) if lines[n].sheet is None and _tells(lines[n])]
    return told[-1] + 1 if told else first


def _tells(line: Line) -> bool:
    facts = [fact for cell in line.cells if (fact := led_by_key(cell.text, cell)) is not None]
    return len({fact.role for fact in facts}) >= _KEYS
