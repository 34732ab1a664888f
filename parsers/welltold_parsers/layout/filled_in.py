"""Reads tests that a form asks along one line, each with its blank filled in and its unit behind.

    Hardness   19   gr/gal      Iron      0.8   ppm      pH        7.6
    Arsenic  .004   mg/l        Sodium 33  mg/l          E. coli   0    per 100 ml

Only a line that is made so from its first cell to its last is one; no column has to line up.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from welltold.values import ParsedValue

from .cells import Cell, Line, join, of_words
from .tokens import analyte_in, microbial, unit_of, value_of
from .unit_choice import fits

_FEWEST = 2
"""Tests along a line."""


class Filled(NamedTuple):
    """A test, what was filled in, and the unit that the form prints behind it."""

    label: Cell
    value: Cell
    unit: Cell | None


def filled_in(line: Line) -> list[Filled]:
    """Return the tests along a line of a page; empty where any cell is something else."""
    if line.sheet is not None:
        return []
    if (asked := _asked(line)) is not None:
        return [asked]
    cells = [part for cell in line.cells for part in _apart(cell)]
    found: list[Filled] = []
    at = 0
    while at < len(cells):
        match = analyte_in(cells[at].text.rstrip(":"))
        value = cells[at + 1] if at + 1 < len(cells) else None
        if match is None or value is None or not _is_value(value, letters=microbial(match.slug)):
            return []
        unit = cells[at + 2] if at + 2 < len(cells) else None
        if unit is not None and (unit_of(unit.text) is None or _names(cells, at + 2)):
            unit = None
        found.append(Filled(cells[at], value, unit))
        at += 2 if unit is None else 3
    slugs = {match.slug for one in found if (match := analyte_in(one.label.text.rstrip(":")))}
    return found if len(slugs) == len(found) >= _FEWEST else []


def _asked(line: Line) -> Filled | None:
    """Return the only test of a line, its name before a colon: "Radon:  212 pCi/L (+/- 60)"."""
    label, *rest = line.cells
    match = analyte_in(label.text.rstrip(":")) if label.text.endswith(":") and rest else None
    if match is None:
        return None
    whole = join(rest)
    value = value_of(whole.text)
    told = value is not None and value.value is not None and value.unit_text is not None
    return Filled(label, whole, None) if told and fits(match.slug, _unit(value)) else None


def _unit(value: ParsedValue | None) -> str:
    return (value.unit_text if value is not None else None) or ""


def _names(cells: list[Cell], at: int) -> bool:
    """Whether a cell that could be a unit is the next test: "pH" before its value."""
    behind = cells[at + 1] if at + 1 < len(cells) else None
    named = analyte_in(cells[at].text) is not None
    return named and behind is not None and _is_value(behind, letters=False)


def _is_value(cell: Cell, *, letters: bool) -> bool:
    return value_of(cell.text, letters=letters) is not None and unit_of(cell.text) is None


def _apart(cell: Cell) -> Iterator[Cell]:
    """Yield a cell, or the name and the value in it: "Sodium 33"."""
    words = cell.words
    last = words[-1].text if len(words) > 1 else ""
    name = cell.text[: -len(last)].strip() if last else ""
    number = name and last[0] in "<>.0123456789" and value_of(last) is not None
    if number and analyte_in(cell.text) is None and analyte_in(name.rstrip(":")) is not None:
        yield of_words(words[:-1], cell.line)
        yield of_words(words[-1:], cell.line)
    else:
        yield cell
