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
    """Return the names of such symbols among the heads of a file that has many symbols.

    A symbol that no table of ours knows keeps its letters: its numbers are told all the same.
    """
    told = symbols_among(heads)
    return {i: _OTHERWISE.get(h, h) for i, h in enumerate(heads) if h in told}


def symbols_among(heads: Sequence[str]) -> frozenset[str]:
    """Return the symbols among the heads of such a file that mean something else alone."""
    told = {h for h in heads if h in _OTHERWISE or h in _RARE}
    return frozenset(told) if told and _of_symbols(heads) else frozenset()


def _of_symbols(heads: Sequence[str]) -> bool:
    """Whether at least eight heads are symbols of elements that are known."""
    known = sum(is_symbol(h) and head_analyte(h) is not None for h in heads)
    return known >= _MANY


def is_symbol(head: str) -> bool:
    """Whether a head is the symbol of an element, with its charge or without."""
    return _SYMBOL.fullmatch(head) is not None and (
        head in _OTHERWISE or head in _RARE or head_analyte(head) is not None
    )


def is_rare(label: str) -> bool:
    """Whether a label is the symbol of an element that is seldom asked for: "Gd"."""
    return label in _RARE
