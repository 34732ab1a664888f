"""Symbols of elements that alone mean something else: "Y" is a place on a map."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from .head_cells import head_analyte

_SYMBOL = re.compile(r"[A-Z][a-z]?[+-]?")
_MANY = 8
_OTHERWISE = {
    "Y": "Yttrium",
    "Sc": "Scandium",
    "Nd": "Neodymium",
    "Ta": "Tantalum",
    "W": "Tungsten",
    "La": "Lanthanum",
}
_RARE = frozenset(
    [
        *("Ge", "In", "Pr", "Nd", "Sm", "Eu", "Gd", "Tb", "Dy", "Ho", "Er", "Tm", "Yb", "Lu", "Hf"),
        *("Ta", "Re", "Os", "Ir", "Pt", "Au", "Ru", "Rh", "Pd"),
    ]
)
"""Symbols of elements that no table of ours knows, and no letters of anything else."""


def elements(heads: Sequence[str]) -> Mapping[int, str]:
    """Return the names of such symbols among the heads of a file that has many symbols."""
    known = sum(_SYMBOL.fullmatch(h) is not None and head_analyte(h) is not None for h in heads)
    if known < _MANY:
        return {}
    return {i: _OTHERWISE[h] for i, h in enumerate(heads) if h in _OTHERWISE}


def is_rare(label: str) -> bool:
    """Whether a label is the symbol of an element that is seldom asked for: "Gd"."""
    return label in _RARE
