"""Short heads that a legend of the sheet explains: "TH = total hardness, mg/L as CaCO3".

The legend's words are put in the place of the codes before anything is read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from .cells import Cell, Line
from .hints import Parts
from .tokens import analyte_in, label_of, unit_of, value_of
from .words import head_of

_TOLD = re.compile(
    r"(?<![\w./-])(?P<code>[A-Za-z][A-Za-z0-9.-]{0,6})(?: ?[=:] ?| [-–—] )"
    r"(?P<name>[A-Za-z(].*?)(?=$|[;:]|\. |,? [A-Za-z][A-Za-z0-9.-]{0,6}(?: ?= ?| [-–—] ))"
)
_ANSWERS = frozenset({"ND", "NA", "NT", "BDL", "MCL", "MDL", "RL"})
"""What a sheet says in place of a number, or of a limit: no name of a test."""
_FEW = 2
"""A sheet with fewer explained codes has no legend."""
_SURE = 0.95
_LONGEST = 60
_CELLS = 3
"""A line of a sheet with more cells is a row, not a legend."""


def with_codes_told(parts: Parts) -> Parts:
    """Put what the legends say in the place of codes at the heads of columns and before values."""
    told = _codes(line for lines in parts for line in lines)
    if len(told) < _FEW:
        return parts
    for lines in parts:
        for line in lines:
            _put(line, told)
    return parts


def _codes(lines: Iterable[Line]) -> dict[str, str]:
    """Return the names of tests, with their units, by code; one with two names is left out."""
    found: dict[str, set[str]] = {}
    for line in lines:
        if line.sheet is not None and len(line.cells) > _CELLS:
            continue
        for match in _TOLD.finditer(" ".join(line.text.split())):
            name = _name(match["name"]) if _may_be_code(match["code"]) else None
            if name is not None and not _same(match["code"], name):
                found.setdefault(match["code"], set()).add(name)
    return {code: names.pop() for code, names in found.items() if len(names) == 1}


def _same(code: str, name: str) -> bool:
    """Whether a code is itself a name of the same test and no unit is told: "Fe = iron"."""
    one, other = analyte_in(code), label_of(name)
    same = one is not None and other.match is not None and one.slug == other.match.slug
    return same and other.unit is None


def _may_be_code(text: str) -> bool:
    head = head_of(text)
    return (head is None or head.score < _SURE) and text.upper() not in _ANSWERS


def _name(text: str) -> str | None:
    """Return the name of a test, with its unit, at the start of an explanation."""
    text = text.strip(" .,")
    ends = [m.start() for m in re.finditer(r"[,(]", text)]
    for end in (len(text), *reversed(ends)):
        name = text[:end].strip(" ,")
        match = label_of(name).match if len(name) < _LONGEST else None
        if match is not None and match.how == "exact":
            return name
    return None


def _put(line: Line, told: Mapping[str, str]) -> None:
    cells = [cell for cell in line.cells if _code(cell, told) is not None]
    others = [cell for cell in line.cells if cell not in cells and _is_head(cell)]
    head = len(cells) >= _FEW and len(cells) + len(others) >= 0.6 * len(line.cells)
    if not head:
        first = line.cells[:1] if line.cells and line.cells[0] in cells else []
        valued = any(value_of(c.text) and not unit_of(c.text) for c in line.cells[1:])
        cells = [c for c in first if valued and analyte_in(c.text) is None]
    for cell in cells:
        code = _code(cell, told)
        if code is not None:
            cell.text = _said(told[code], cell.text[len(code) :].strip(" ,"))


def _said(name: str, unit: str) -> str:
    """Return a legend's name, with the unit that stands beside the code if any does."""
    return f"{label_of(name).name} {unit}" if unit else name


def _code(cell: Cell, told: Mapping[str, str]) -> str | None:
    """Return the code that a cell is, alone or with a unit behind it."""
    if cell.text in told:
        return cell.text
    first, _, rest = cell.text.partition(" ")
    return first if first in told and unit_of(rest.strip(" ,()[]")) is not None else None


def _is_head(cell: Cell) -> bool:
    head = head_of(cell.text)
    return analyte_in(cell.text) is not None or (head is not None and head.score >= _SURE)
