"""How a unit is given: as printed, or in its plain spelling where the print is no unit alone.

"micrograms per liter (ug/L)" says it twice, "AS_UGL" and "NITRATE_MG_L" are names of columns; there
the plain spelling is given. "mg/l" and "MG/L" stay as printed.
"""

from __future__ import annotations

import re

from welltold.units import unit

_TWICE = re.compile(r"^(.+?)\s*[(\[]\s*([^()\[\]]+?)\s*[)\]]$")


def as_given(text: str | None) -> str | None:
    """Return the spelling of a unit for the reading."""
    meaning = unit(text) if text else None
    if text is None or meaning is None:
        return text
    twice = _TWICE.match(text)
    both = twice is not None and unit(twice[1]) is not None and unit(twice[2]) is not None
    return meaning.name if both or "_" in text else text
