"""Ratios of stable isotopes, which are no amount of the analyte whose name stands beside them."""

from __future__ import annotations

import re
from functools import lru_cache

_ISOTOPE = re.compile(
    r"(?i)(?:^|[\s_(\[-])(?:d|delta[\s_-]?|δ\s?)?(?:13_?C|18_?O|17_?O|15_?N|34_?S|11_?B|37_?Cl|2_?H)"
    r"(?:[\s_)\]-]|$)|‰|per ?mil|isotop"
)
_SHORT = re.compile(r"(?:^|\s)[dδ](?:D|H|O|C|N|S|B)$")
"""Without the number of the isotope: "dD", "dO"; a small "do" is oxygen."""


@lru_cache(maxsize=4096)
def is_isotope(text: str) -> bool:
    """Whether a name is a ratio of stable isotopes: "DIC 13C" is no inorganic carbon."""
    return _ISOTOPE.search(text) is not None or _SHORT.search(text) is not None
