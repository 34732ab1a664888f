"""Tells of tests in a form that were answered in words: "COLOR  clear", "ODOR  slight, musty"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from welltold.analytes import analyte

from .cells import Cell, Line
from .context import Context
from .tokens import analyte_in, unit_of, value_of

_SMALL = 0.8
"""Captions are set in letters so much smaller than what is filled in."""
_ALIGNED = 10.0
_LONGEST = 60
_WORDS = 5


def with_worded(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Leave words under captions that name tests unread; return the other lines."""
    if not lines or lines[0].sheet is not None:
        return lines
    lines = _without_told(lines, context)
    gone: set[int] = set()
    for keys, values in pairwise(lines):
        pairs = _pairs(keys, values)
        for key, value in pairs:
            context.lost(value, "words_only", f"{key.text} {value.text}")
        if pairs:
            gone |= {id(keys), id(values)}
    return [line for line in lines if id(line) not in gone] if gone else lines


def _without_told(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Take out what a line says in words of the look of the water: "Color raw: sl. yellow"."""
    if context.closed:
        return lines
    told = [(line, cell) for line in lines for cell in line.cells if _says_look(cell.text)]
    for line, cell in told:
        context.lost(cell, "words_only")
        line.cells = [c for c in line.cells if c is not cell]
    return [line for line in lines if line.cells] if told else lines


def _says_look(text: str) -> bool:
    """Whether a text is a test of the senses, a colon and a few words that are no number."""
    name, colon, words = text.partition(":")
    words = words.strip()
    if not colon or not words or len(text) > _LONGEST or any(c.isdigit() for c in words):
        return False
    match = analyte_in(name)
    if match is None or analyte(match.slug).group != "physical" or ":" in words:
        return False
    return value_of(words) is None and unit_of(words) is None and len(words.split()) <= _WORDS


def _pairs(keys: Line, values: Line) -> list[tuple[Cell, Cell]]:
    """Return each caption with the words under it; none where these are no such lines."""
    near = values.top - keys.bottom < values.height and keys.height < _SMALL * values.height
    if not near or keys.answer is not None or values.answer is not None or not values.cells:
        return []
    if any(analyte_in(c.text) is None for c in keys.cells):
        return []
    found = []
    for value in values.cells:
        over = [k for k in keys.cells if abs(k.left - value.left) < _ALIGNED]
        if not over or value_of(value.text) is not None or analyte_in(value.text) is not None:
            return []
        found.append((over[0], value))
    return found
