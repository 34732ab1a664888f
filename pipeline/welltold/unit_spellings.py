"""Units as labs print them: a table of exact spellings, and a grammar for the basis beside them.

Nothing is parsed from prefixes and symbols, because a free parser reads "mg/L as N" as milligram
attosecond newton per litre. A spelling is in ``data/units.csv`` or it is unknown. The basis may
stand beside a known spelling in a few fixed ways ("as N", "mg N/L", "(as CaCO3)", "NO3-N"), and
then it must be in ``data/basis_spellings.csv``.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache

from .tables import read_table

MASS_KINDS = frozenset({"mass", "amount", "charge"})
"""Dimensions in which a basis means something."""


@dataclass(frozen=True, slots=True)
class Unit:
    """What a printed unit means."""

    name: str
    """Canonical, a row of ``data/factors.csv``."""
    kind: str
    """Dimension: mass, amount, charge, conductance, organisms, activity ..."""
    basis: str | None = None
    """What the spelling itself says: "mg/L as N" -> ``N``, "gpg" -> ``CaCO3``."""
    ambiguous: bool = False
    """Labs print this spelling for more than one thing ("ppt", "units"): look at the sheet."""


@dataclass(frozen=True, slots=True)
class Spelling:
    """One row of the table of spellings."""

    unit: Unit
    after: str
    """Where it may end a label; the grammar stands at the top of ``data/units.csv``."""


@dataclass(frozen=True, slots=True)
class Factor:
    """One row of ``data/factors.csv``, numbers still as text."""

    kind: str
    base: str
    multiply_by: str
    zero: str


@cache
def factors() -> Mapping[str, Factor]:
    """Return the canonical units by name."""
    return {
        row.text("unit"): Factor(
            row.text("kind"), row.text("base"), row.text("multiply_by"), row.text("zero")
        )
        for row in read_table("factors.csv")
    }


@cache
def spellings() -> Mapping[str, Spelling]:
    """Return every spelling of ``data/units.csv`` by its folded form."""
    found: dict[str, Spelling] = {}
    known = factors()
    for row in read_table("units.csv"):
        name = row.choice("unit", frozenset(known))
        meaning = Unit(
            name, known[name].kind, row.optional("basis"), row.cells["ambiguous"] == "yes"
        )
        key = fold(row.text("spelling"))
        if key in found and found[key].unit != meaning:
            raise row.wrong(f"{row.text('spelling')!r} already means {found[key].unit.name}")
        found.setdefault(key, Spelling(meaning, row.cells["after"]))
    return found


@cache
def basis_spellings() -> Mapping[str, str]:
    """Return which basis is meant, by its folded spelling."""
    return {
        fold(row.text("spelling")): row.text("basis") for row in read_table("basis_spellings.csv")
    }


_FOLDS = str.maketrans(
    {
        **dict.fromkeys("º˚", "°"),  # masculine ordinal, ring above: typed for the degree sign
        **dict.fromkeys("‐‑‒–—−⁻", "-"),
        **dict.fromkeys("⁄∕", "/"),
        **dict.fromkeys("•∙⋅‧", "·"),
        "µ": "u",
        "μ": "u",
    }
)
_SLASH = re.compile(r"\s*/\s*")
_FIGURE_LETTER = re.compile(r"(?<=[0-9]) (?=[A-Za-z])(?!as\b)")
_FOOTNOTES = re.compile(r"[\s*†‡§¹²³⁴⁵⁶⁷⁸⁹⁰]+$")
_AT_25 = re.compile(r" ?[,(]? ?(?:@|at)? ?25(?:\.0)? ?(?:°|deg\.? ?|o)?C\)?$")


@lru_cache(maxsize=8192)
def fold(text: str) -> str:
    """Return ``text`` in the one form in which spellings are compared; letter case is kept."""
    folded = text
    if not text.isascii():
        folded = unicodedata.normalize("NFKC", text.translate(_FOLDS)).translate(_FOLDS)
    folded = _SLASH.sub("/", " ".join(folded.split()))
    folded = _FIGURE_LETTER.sub("", folded).replace("° ", "°").rstrip(" .,;:")
    if len(folded) > 1 and (folded[0], folded[-1]) in {("(", ")"), ("[", "]"), ("{", "}")}:
        inner = folded[1:-1]
        if not any(bracket in inner for bracket in "()[]"):
            return inner.strip(" .,;:")
    return folded


@lru_cache(maxsize=8192)
def unit(spelling: str) -> Unit | None:
    """Return what a printed unit means, or None when the spelling is not known.

    ``spelling`` is the unit cell, or the unit cut off a label; brackets around it, footnote marks
    behind it and odd blanks do not matter, letter case does.
    """
    found = look_up(spelling)
    return found.unit if found else None


@lru_cache(maxsize=8192)
def look_up(spelling: str) -> Spelling | None:
    """Return the row for a printed unit, with the basis that stands beside it."""
    key = fold(spelling)
    if not key or len(key) > 60:
        return None
    found = _known(key)
    if found is None:
        bare = _FOOTNOTES.sub("", spelling)
        found = _known(fold(bare)) if bare != spelling else None
    return found


def _known(key: str) -> Spelling | None:
    plain = spellings().get(key)
    if plain is not None:
        return plain
    for other in (_at_25_degrees(key), _beside(key), _inside(key), _twice(key)):
        if other is not None:
            return other
    return None


def _at_25_degrees(key: str) -> Spelling | None:
    """Read conductance "@ 25 °C", the usual reference; another temperature stays unknown."""
    cut = _AT_25.search(key)
    found = spellings().get(key[: cut.start()].rstrip()) if cut else None
    return found if found and found.unit.kind == "conductance" else None


def _beside(key: str) -> Spelling | None:
    """Read a basis behind the unit: "mg/L as N", "mg/L (as N)", "ppm CaCO3", "mg/L-N"."""
    for place, character in enumerate(key):
        if character in " ,(-" and (found := spellings().get(key[:place].rstrip(" ,"))):
            with_basis = _with_basis(found, _basis_words(key[place:]))
            if with_basis is not None:
                return with_basis
    return None


def _inside(key: str) -> Spelling | None:
    """Read a basis inside the unit: "mg N/L", "mg CaCO3/L"."""
    amount, slash, volume = key.rpartition("/")
    if not slash:
        return None
    for length in range(1, min(len(amount), 6)):
        found = spellings().get(f"{amount[:length]}/{volume}")
        if found is not None:
            with_basis = _with_basis(found, _basis_words(amount[length:]))
            if with_basis is not None:
                return with_basis
    return None


def _twice(key: str) -> Spelling | None:
    """Read the same unit in two spellings: "mg/L (ppm)", "ppb or ug/L", "ug/L = ppb"."""
    for first, second in _pairs(key):
        one, other = spellings().get(first), spellings().get(second)
        if one and other and _meaning(one) == _meaning(other):
            return one
    return None


def _meaning(found: Spelling) -> tuple[str, str | None]:
    return found.unit.name, found.unit.basis


def _pairs(key: str) -> Iterator[tuple[str, str]]:
    for mark in (" or ", "=", "(", "[", ",", "/", ";"):
        first, found, second = key.partition(mark)
        if found:
            yield first.strip(), second.strip(" )]")


_AS = re.compile(r"^(?:as|AS|As|como|expressed as)\b ?")
_CHARGE = re.compile(r"(?:[0-9]?[+-]|\^[0-9]?[+-])$|--$")


def _basis_words(text: str) -> str:
    return _AS.sub("", text.strip(" ,-()[]")).strip(" ,-()[]")


def _with_basis(found: Spelling, words: str) -> Spelling | None:
    basis = basis_of(words)
    if basis is None or found.unit.kind not in MASS_KINDS:
        return None
    if found.unit.basis not in {None, basis}:
        return None
    return replace(found, unit=replace(found.unit, basis=basis))


def basis_of(words: str) -> str | None:
    """Return the basis that ``words`` name ("CaCO3", "NO3-N", "nitrogen"), or None.

    The words come without "as" and without brackets; a charge behind a formula does not matter.
    """
    known = basis_spellings()
    folded = fold(words)
    return known.get(folded) or known.get(_CHARGE.sub("", folded))
