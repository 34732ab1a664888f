"""Heads of a data file that are units and name their test within: "mg NO2/l", "mg Fe / l"."""

from __future__ import annotations

import re
from typing import NamedTuple

from welltold.analytes import analyte, identify

_HEAD = re.compile(
    r"^(?P<mass>[m\u00b5\u03bcun]g)\s*(?P<form>[A-Z][A-Za-z0-9]*(?:-[A-Z][A-Za-z0-9]*)?)\s*/\s*[lL]$"
)


class FormulaHead(NamedTuple):
    """What such a head says."""

    name: str
    """The formula: that of the test, or of what was counted in a test that nobody names."""
    unit: str


def formula_head(text: str) -> FormulaHead | None:
    """Return what a head says that is a unit with a formula in it; None for any other."""
    found = _HEAD.match(text.strip())
    if found is None:
        return None
    match = identify(found["form"], fuzzy=False)
    own = match is not None and analyte(match.slug).basis is None
    return FormulaHead(found["form"], f"{found['mass']}/L" if own else text)
