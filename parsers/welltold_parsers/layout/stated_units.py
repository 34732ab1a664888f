"""The unit that one line states for a whole page or section."""

from __future__ import annotations

import re
from functools import lru_cache

from welltold.units import unit, units_in

_UNIT_LINE = re.compile(
    r"(?i)\b(?:results?|values?|units?|concentrations?|resultados|unidades)\b[^.;\d]{0,60}$|\bunless\b|^\W*all\b"
)
_NO_UNIT_LINE = re.compile(
    r"(?i)\b(limit|level|above|below|exceed\w*|standard|mcl|detected|grains? per gallon =)\b|="
)
_ALL_RESULTS = re.compile(r"(?i)^\W*all results\b[^.;:=<>]*\bin\b[^.;:=<>]*$")
"""A unit for all, and for the limits with them: "(all results, RL and MCL in ug/L)"."""


@lru_cache(maxsize=2048)
def unit_for_all(text: str) -> str | None:
    """Return the unit that one line states for a whole page or section."""
    units = units_in(text)
    if len({unit(u) for u in units}) != 1:
        return None
    at = text.find(units[0])
    before, behind = text[: max(at, 0)], text[at + len(units[0]) :]
    ruled = _NO_UNIT_LINE.search(text) and not _ALL_RESULTS.match(text)
    if any(c.isdigit() for c in before) or ruled:
        return None
    if _UNIT_LINE.search(before) or re.search(r"(?i)\bunless\b", behind):
        return units[0]
    return None
