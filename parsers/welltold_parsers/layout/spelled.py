"""How a unit is given: as printed, or in its plain spelling where the print is no unit alone.

"micrograms per liter (ug/L)" says it twice; "AS_UGL", "NITRATE_MG_L" and "As_ug.L" are names of
columns. There the plain spelling is given. "mg/l" and "MG/L" stay as printed.
"""

from __future__ import annotations

import re
from functools import lru_cache

from welltold.units import unit

_IN_A_NAME = re.compile(r"_|(?i:(?:g|mol|eq|s)\.(?:l|kg|cm|m)\b|^[mnuµp]gl$)")
_TWICE = re.compile(r"^(.+?)\s*[(\[]\s*([^()\[\]]+?)\s*[)\]]$")


@lru_cache(maxsize=1024)
def as_given(text: str | None) -> str | None:
    """Return the spelling of a unit for the reading."""
    meaning = unit(text) if text else None
    if text is None or meaning is None:
        return text
    twice = _TWICE.match(text)
    both = twice is not None and unit(twice[1]) is not None and unit(twice[2]) is not None
    return meaning.name if both or _IN_A_NAME.search(text) else text
