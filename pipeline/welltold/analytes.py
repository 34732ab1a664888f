"""The registry of analytes, and the recognition of their printed names.

``registry()`` holds what a water test can measure; ``identify(label)`` says which of them a printed
label means, and what basis and fraction the label itself states. An unknown label is None, never a
guess; look-alikes (nitrate and nitrite) are never taken for one another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, lru_cache
from itertools import pairwise
from types import MappingProxyType
from typing import Literal

from . import names
from .errors import UnknownAnalyteError
from .names import Core, normalise
from .tables import Row, read_table

__all__ = ["Analyte", "Match", "analyte", "identify", "known_names", "normalise", "registry"]

GROUPS = frozenset(
    (
        *("metal", "inorganic", "nutrient", "general", "physical", "index", "microbial"),
        *("radionuclide", "voc", "soc", "dbp", "disinfectant", "pfas", "gas"),
    )
)
SHORT = 2
"""A name of so few characters ("As", "DO", "U") matches only in the case that is listed."""
LETTER_SCORE = 0.5
"""One letter may be a symbol (K, B, U) and may be a laboratory's flag."""
REWRITTEN_SCORE = 0.98
"""Exact words in another order, or written together."""


@dataclass(frozen=True, slots=True)
class Analyte:
    """One thing that a water test can measure."""

    slug: str
    name: str
    """Plain English, for a homeowner."""
    group: str
    cas: str | None
    unit: str
    """The canonical unit, spelt as ``units`` spells it."""
    basis: str | None
    """What the canonical unit counts ("N" in mg/L as N); None where it counts the thing itself."""
    bases: tuple[str, ...]
    """The bases that labs state it in, beside the thing itself."""
    fraction: str | None
    """"total" or "dissolved": the usual one, where there is one."""
    formula: str | None
    molar_mass: Decimal | None
    """g/mol, of the named species."""
    charge: int | None
    natural_low: Decimal | None
    natural_high: Decimal | None
    """The broad range of natural groundwater, in ``unit`` and ``basis``; for plausibility only."""
    health: bool
    """A federal health level or advisory exists, or it is a disease germ or its indicator."""
    citation: str | None
    """Where the natural range comes from."""


@dataclass(frozen=True, slots=True)
class Match:
    """What a printed label means."""

    slug: str
    basis: str | None
    """The basis that the label itself states."""
    fraction: str | None
    """The fraction that the label itself states."""
    how: Literal["exact", "cas", "fuzzy"]
    score: float
    """1 for a listed name; 0.5 for a single letter, which may be a flag as well."""


@dataclass(frozen=True, slots=True)
class _Name:
    """One listed name of an analyte."""

    slug: str
    basis: str | None = None
    fraction: str | None = None


@cache
def registry() -> Mapping[str, Analyte]:
    """Return every analyte by its slug; DataFileError when the table is wrong."""
    table: dict[str, Analyte] = {}
    for row in read_table("analytes.csv"):
        one = _analyte(row)
        if one.slug in table:
            raise row.wrong(f"slug {one.slug!r} is listed twice")
        table[one.slug] = one
    return MappingProxyType(table)


def _analyte(row: Row) -> Analyte:
    charge = row.optional("charge")
    return Analyte(
        slug=row.text("slug"),
        name=row.text("name"),
        group=row.choice("group", GROUPS),
        cas=row.optional("cas"),
        unit=row.text("unit"),
        basis=row.optional("basis"),
        bases=tuple(row.cells["bases"].split(";")) if row.cells["bases"] else (),
        fraction=row.optional("fraction"),
        formula=row.optional("formula"),
        molar_mass=row.number("molar_mass"),
        charge=int(charge) if charge else None,
        natural_low=row.number("natural_low"),
        natural_high=row.number("natural_high"),
        health=row.choice("health", frozenset({"yes", "no"})) == "yes",
        citation=row.optional("citation"),
    )


def analyte(slug: str) -> Analyte:
    """Return one analyte; UnknownAnalyteError names the nearest slugs."""
    try:
        return registry()[slug]
    except KeyError:
        from difflib import get_close_matches

        nearest = ", ".join(get_close_matches(slug, registry())) or "none"
        raise UnknownAnalyteError(slug, nearest) from None


def _key(text: str) -> str:
    """Return the form in which a name is looked up: short ones keep their case."""
    lowered = normalise(text)
    return lowered if len(lowered) > SHORT else _cased(text)


def _cased(text: str) -> str:
    return "".join(c if c.isalnum() else " " for c in names.fold(text)).strip()


@cache
def _listed() -> Mapping[str, _Name]:
    """Return every listed name, by the form in which it is looked up."""
    table: dict[str, _Name] = {}
    for slug, one in registry().items():
        table[_key(one.name)] = table[_key(slug)] = _Name(slug)
    for row in read_table("aliases.csv"):
        key = _key(row.cells["alias"])
        if not key or key in table:
            owner = table[key].slug if key else "nobody"
            raise row.wrong(f"{row.cells['alias']!r} is already a name of {owner}")
        if row.cells["slug"] not in registry():
            raise row.wrong(f"unknown analyte {row.cells['slug']!r}")
        table[key] = _Name(
            row.cells["slug"], row.cells["basis"] or None, row.cells["fraction"] or None
        )
    return MappingProxyType(table)


def known_names() -> frozenset[str]:
    """Return the normalised names that match whatever their case (so without "As" and "U")."""
    return _known_names()


@cache
def _known_names() -> frozenset[str]:
    return frozenset(key for key in _listed() if len(key) > SHORT)


@lru_cache(maxsize=16384)
def identify(label: str, cas: str | None = None) -> Match | None:
    """Return which analyte a printed label (without its unit) means, or None.

    In this order: the listed names, with fraction, basis, method and footnotes taken off; the CAS
    number given or printed in the label, when its check digit is right; a misspelling of a listed
    name of six letters or more, when nothing else is near.
    """
    hit = _listed().get(_key(label))
    if hit is not None:
        return _match(hit, Core((_cased(label),)), "exact", _score(label))
    bare, printed_cas = names.split_cas(label)
    return _by_words(bare) or _by_cas(bare, cas or printed_cas) or _by_likeness(bare)


def _score(word: str) -> float:
    return LETTER_SCORE if len(_cased(word)) == 1 else 1.0


def _by_words(label: str) -> Match | None:
    for find in (_plainly, _rewritten):
        for group in names.readings_of(label):
            found = {match for core in group if (match := find(core)) is not None}
            slugs = {match.slug for match in found}
            if len(slugs) > 1:
                return None
            if found:
                return max(found, key=lambda m: (m.basis or "", m.fraction or ""))
    return _by_parts(label)


def _plainly(core: Core) -> Match | None:
    text = " ".join(core.words)
    hit = _listed().get(text if len(text) <= SHORT else text.lower())
    return None if hit is None else _match(hit, core, "exact", _score(text))


def _rewritten(core: Core) -> Match | None:
    hit = _rewritings().get(_sorted(core.name)) or _rewritings().get(_joined(core.name))
    return None if hit is None else _match(hit, core, "exact", REWRITTEN_SCORE)


def _sorted(name: str) -> str:
    """Return the words in alphabetical order; the order of a name with figures has a meaning."""
    return " ".join(sorted(name.split())) if name.replace(" ", "").isalpha() else name


def _joined(name: str) -> str:
    """Return the name with its words written together; figures keep their places."""
    words = name.split()
    glued = words[:1]
    for before, word in pairwise(words):
        if before.isalpha() and word.isalpha():
            glued[-1] += word
        else:
            glued.append(word)
    return " ".join(glued)


@cache
def _rewritings() -> Mapping[str, _Name]:
    """Return the names in other word orders and spacings, those left out that fit two analytes."""
    table: dict[str, _Name | None] = {}
    for name, listed in _listed().items():
        if len(name) < 6:
            continue
        for form in {_sorted(name), _joined(name)} - {name}:
            other = table.get(form, listed)
            table[form] = listed if other is not None and other.slug == listed.slug else None
    return MappingProxyType({form: one for form, one in table.items() if one is not None})


def _by_parts(label: str) -> Match | None:
    """Return what all pieces of a label name alike: "Iron (Fe)", "Fe - Iron, dissolved"."""
    found: list[Match] = []
    pieces = names.parts_of(label)
    for piece in pieces:
        for group in names.readings_of(piece):
            hits = [match for core in group if (match := _plainly(core)) is not None]
            if hits:
                found.append(hits[0])
                break
    if len(pieces) < 2 or len(found) < len(pieces) or len({match.slug for match in found}) != 1:
        return None
    first, *others = found
    bases = {match.basis for match in found if match.basis}
    fractions = {match.fraction for match in found if match.fraction}
    return Match(
        first.slug,
        bases.pop() if len(bases) == 1 else None,
        fractions.pop() if len(fractions) == 1 else None,
        "exact",
        max(first.score, *(match.score for match in others)),
    )


def _match(
    listed: _Name, core: Core, how: Literal["exact", "cas", "fuzzy"], score: float
) -> Match | None:
    """Return the match, or None when the label states a basis that the analyte cannot have."""
    one = registry()[listed.slug]
    basis = listed.basis
    if core.basis is not None and core.basis not in one.bases:
        if one.basis is not None or core.basis != one.formula:
            return None
    elif core.basis is not None:
        # "Nitrate Nitrogen as NO3" contradicts itself and says nothing
        basis = core.basis if basis in {None, core.basis} else None
    return Match(listed.slug, basis, core.fraction or listed.fraction, how, score)


@cache
def _cas_numbers() -> Mapping[str, str]:
    return MappingProxyType({one.cas: slug for slug, one in registry().items() if one.cas})


def _by_cas(label: str, cas: str | None) -> Match | None:
    """Return the analyte of a CAS number, unless the label speaks of a look-alike."""
    from .lookalikes import protected_words

    number = (cas or "").strip()
    slug = _cas_numbers().get(number)
    if slug is None or not names.cas_is_valid(number):
        return None
    core = _barest(label)
    if core is not None:
        own = {word for name, one in _listed().items() if one.slug == slug for word in name.split()}
        if not protected_words(core.name) <= own:
            return None
    return _match(_Name(slug), core or Core((slug,)), "cas", 1.0)


def _barest(label: str) -> Core | None:
    last: Core | None = None
    for group in names.readings_of(label):
        last = group[-1]
    return last


def _by_likeness(label: str) -> Match | None:
    """Return the analyte of a misspelt name, once nothing else fits."""
    from .lookalikes import figures, nearest

    for group in names.readings_of(label):
        for core in group:
            same_figures = _spellings().get(figures(core.name), {})
            near = nearest(core.name, same_figures, _misspellable())
            if near is not None:
                return _match(_listed()[near.name], core, "fuzzy", near.score)
    return None


@cache
def _spellings() -> Mapping[tuple[str, ...], Mapping[str, str]]:
    from .lookalikes import by_figures

    return by_figures({name: _listed()[name].slug for name in known_names()})


@cache
def _misspellable() -> frozenset[str]:
    """Return the listed names that are words; an abbreviation one letter off is another thing."""
    printed = [one.name for one in registry().values()]
    printed += [row.cells["alias"] for row in read_table("aliases.csv")]
    return frozenset(_key(name) for name in printed if _is_words(name))


def _is_words(printed: str) -> bool:
    return all(sum(c.isupper() for c in word) <= 1 for word in printed.split())
