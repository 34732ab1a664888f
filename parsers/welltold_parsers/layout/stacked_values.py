"""Results set in two or three lines, as radiochemistry prints them.

"21.4 ± 4.9 (2.3)" over "C:88% T:NA" has its name, method and unit beside the middle of both lines;
or "21.4", "± 4.9" and "(2.3)" stand one below the other.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .asides import tells_yields
from .cells import Cell, Line
from .tokens import analyte_in, value_of

_LIMIT = r"[(\[]\s*(?:(?:MDC|MDA|MDL|DL|RL)\s*[:=]?\s*)?<?\s*\d[\d.,]*\s*[)\]]"
_LEAST = re.compile(_LIMIT)
_SPREAD = re.compile(rf"\(?\s*(?:±|\+\s?/\s?-|\+-)\s*\d[\d.,]*\)?(?:\s*{_LIMIT})?")
_BEGINS = frozenset("±+([")
_HALF = 0.3
"""Lines of print that overlap by so much of their height are beside each other."""
_NEAR = 0.6
"""A second line of a cell begins within this share of a line's height."""


def with_values_joined(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines of a page with each such result whole, on the line of its name."""
    if not lines or lines[0].sheet is not None:
        return lines
    upper, end = lines[0], lines[0].bottom
    for lower in lines[1:]:
        if lower.page == upper.page and lower.top - end < _NEAR * upper.height:
            _take_parts(upper, lower)
            _settle(upper, lower)
            if tells_yields(lower.text):
                lower.cells = []
        end = lower.bottom
        if lower.cells:
            upper = lower
    return [line for line in lines if line.cells]


def _take_parts(upper: Line, lower: Line) -> None:
    """Put what goes on with a number below it behind the number."""
    parts = [c for c in lower.cells if c.text[0] in _BEGINS]
    for part in parts:
        above = next((c for c in upper.cells if _over(c, part)), None)
        if above is None or not _goes_on(above.text, part.text):
            continue
        above.text = f"{above.text} {part.text}"
        above.words = (*above.words, *part.words)
        above.bottom = max(above.bottom, part.bottom)
        lower.cells.remove(part)


def _goes_on(text: str, part: str) -> bool:
    """Whether a text is a number, and the part below it how far it may be off, or the least."""
    value = value_of(text)
    if value is None or value.value is None:
        return False
    behind = _SPREAD if value.uncertainty is None else _LEAST
    return behind.fullmatch(part) is not None


def _settle(upper: Line, lower: Line) -> None:
    """Move values that stand alone, half a line or a line too high, to the row they belong to."""
    beside = upper.bottom - lower.top > _HALF * min(upper.height, lower.height)
    spread = any("±" in c.text or "+" in c.text for c in upper.cells)
    if not (beside or spread) or not upper.cells or not all(_is_piece(c.text) for c in upper.cells):
        return
    if not any(analyte_in(c.text) for c in lower.cells[:2]):
        return
    if any(_over(a, b) for a in upper.cells for b in lower.cells):
        return
    if not beside and any(_is_piece(c.text) and "±" in c.text for c in lower.cells):
        return
    for cell in upper.cells:
        cell.line = lower
    lower.cells = sorted((*lower.cells, *upper.cells), key=lambda c: c.left)
    upper.cells = []


def _is_piece(text: str) -> bool:
    """Whether a text is a number, with or without what stands behind it, or such a piece."""
    value = value_of(text)
    whole = value is not None and value.value is not None
    return whole or _LEAST.fullmatch(text) is not None


def _over(one: Cell, other: Cell) -> bool:
    return min(one.right, other.right) - max(one.left, other.left) > 0.5
