"""Reads cards set one below the other: a name alone on its line, its number on the next.

    Iron
    0.62 mg/L          Above guide
    Lowest level we report: 0.02

Only a number with its unit, or the answer of a germ, right below a name and as far left, is taken.
"""

from __future__ import annotations

from collections.abc import Sequence

from welltold.analytes import analyte

from .captions import least_told
from .cells import Cell, Line, join
from .context import Context
from .tokens import analyte_in, microbial, unit_of, value_of

_FEWEST = 3
_SHARE = 0.8
_ALIGNED = 4.0
_NEAR = 1.6
"""White between a name and its number, in heights of the name."""
_BELOW = 4
"""Lines below a number that may tell the least."""


def with_stacked(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put a line for each card in the place of its name and its number; return all lines."""
    if context.closed or not lines or lines[0].sheet is not None:
        return lines
    named = [at for at, line in enumerate(lines) if _is_name(line)]
    found = {at: value for at in named if (value := _value(lines, at)) is not None}
    if len(found) < max(_FEWEST, _SHARE * len(named)):
        return lines
    for at, value in found.items():
        line, name = lines[at], lines[at].cells[0]
        line.cells = [name, value]
        line.answer = (name, value)
        below = lines[at + 2 : at + 2 + _BELOW]
        ends = next((n for n, one in enumerate(below) if _is_name(one)), len(below))
        told = (least_told(join(one.cells)) for one in below[:ends] if one.cells)
        line.least = next((least for least in told if least), None)
    gone = {at + 1 for at in found}
    return [line for at, line in enumerate(lines) if at not in gone]


def _is_name(line: Line) -> bool:
    alone = len(line.cells) == 1 and line.answer is None
    return alone and analyte_in(line.cells[0].text.rstrip(":")) is not None


def _value(lines: Sequence[Line], at: int) -> Cell | None:
    """Return the number with its unit that stands right below a name; None: none does."""
    if at + 1 >= len(lines):
        return None
    name, under = lines[at].cells[0], lines[at + 1]
    near = under.page == name.line.page and under.top - lines[at].bottom < _NEAR * lines[at].height
    if not near or under.answer is not None or abs(under.cells[0].left - name.left) > _ALIGNED:
        return None
    match = analyte_in(name.text.rstrip(":"))
    letters = match is not None and microbial(match.slug)
    for end in range(min(2, len(under.cells)), 0, -1):
        value = join(under.cells[:end])
        told = value_of(value.text, letters=letters)
        if told is None or unit_of(value.text) is not None:
            continue
        bare = match is not None and analyte(match.slug).unit == "SU"
        if bare or told.unit_text or told.present is not None or told.state == "below":
            return value
    return None
