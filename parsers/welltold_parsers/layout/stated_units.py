"""The unit that one line states for a whole page or section: "All results in mg/L"."""

from __future__ import annotations

import re
from functools import lru_cache

from welltold.units import unit, units_in

from .cells import Line

_UNIT_LINE = re.compile(
    r"(?i)\b(?:results?|values?|units?|concentrations?|resultados|unidades)\b[^.;\d]{0,60}$|\bunless\b|^\W*all\b"
)
_NO_UNIT_LINE = re.compile(
    r"(?i)\b(limit|level|above|below|exceed\w*|standard|mcl|detected|grains? per gallon =)\b|="
)
_ALL_RESULTS = re.compile(r"(?i)^\W*all results\b[^.;:=<>]*\bin\b[^.;:=<>]*$")
"""A unit for all, and for the limits with them: "(all results, RL and MCL in ug/L)"."""
_KEYED = re.compile(r"(?i)^\W*(?:all )?(?:results?|values?|units?|concentrations?)\s*=\s*\S")
"""An equation that says what all is in: "Units = parts per trillion, ppt"."""
_CLAUSE = re.compile(r";|(?<=[A-Za-z)])\.\s|(?<=\d)\.\s(?=[A-Z])")
_MAY_STATE = re.compile(r" in | are | unless |:|=")
_STATED = 400
"""Letters of a line that may state the unit for a page."""


def may_state(line: Line) -> bool:
    """Whether a line has a word without which none states a unit for others."""
    return any(map(_MAY_STATE.search, [c.text for c in line.cells]))


def unit_on_line(line: Line) -> str | None:
    """Return the unit for all results that a line states, as a whole or in one of its cells."""
    unit = _in_a_clause(line.text) if len(line.text) < _STATED else None
    return unit or next((u for c in line.cells if (u := unit_for_all(c.text))), None)


def _in_a_clause(text: str) -> str | None:
    found = (unit_for_all(clause) for clause in (text, *_CLAUSE.split(text)))
    return next((unit for unit in found if unit), None)


@lru_cache(maxsize=2048)
def unit_for_all(text: str) -> str | None:
    """Return the unit that one line states for a whole page or section."""
    units = units_in(text)
    if len({(u.name, u.basis) for told in units if (u := unit(told)) is not None}) != 1:
        return None  # "Units = parts per trillion, ppt" tells one unit twice
    at = text.find(units[0])
    before, behind = text[: max(at, 0)], text[at + len(units[0]) :]
    told = _ALL_RESULTS.match(text) or (_KEYED.match(text) and "=" not in behind)
    ruled = _NO_UNIT_LINE.search(text) and not told
    if any(c.isdigit() for c in before) or ruled:
        return None
    if _UNIT_LINE.search(before) or re.search(r"(?i)\bunless\b", behind):
        return units[0]
    return None
