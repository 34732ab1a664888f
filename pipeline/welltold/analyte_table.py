"""The analytes and their printed names, read from ``analytes.csv`` and ``aliases.csv``."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from importlib.resources import files
from itertools import pairwise
from types import MappingProxyType

from .errors import DataFileError, UnknownAnalyteError
from .names import fold, normalise
from .tables import Row, read_table

ALIASES = "aliases.csv"
ALIAS_COLUMNS = ["alias", "slug", "basis", "fraction"]
GROUPS = frozenset(
    (
        *("metal", "inorganic", "nutrient", "general", "physical", "index", "microbial"),
        *("radionuclide", "voc", "soc", "dbp", "disinfectant", "pfas", "gas"),
    )
)
SHORT = 2
"""A name of so few characters ("As", "DO", "U") matches only in the case that is listed."""
SHORTEST_REWRITTEN = 6
"""Shorter names are not looked for in another word order or spacing."""


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
    """g/mol, of the formula."""
    charge: int | None
    natural_low: Decimal | None
    natural_high: Decimal | None
    """The broad range of natural groundwater, in ``unit`` and ``basis``; for plausibility only."""
    health: bool
    """A federal health level or advisory exists, or it is a disease germ or its indicator."""
    citation: str | None
    """Where the natural range comes from."""


@dataclass(frozen=True, slots=True)
class Name:
    """One listed name of an analyte, and what the name itself states."""

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


def key_of(text: str) -> str:
    """Return the form in which a name is looked up: short ones keep their case."""
    lowered = normalise(text)
    if len(lowered) > SHORT:
        return lowered
    return "".join(c if c.isalnum() else " " for c in fold(text)).strip()


def alias_lines() -> Iterator[tuple[int, list[str]]]:
    """Yield (line, cells) of the table of names, read in one go.

    A ``Row`` for each of its thousands of lines would double the time to the first answer.
    """
    text = (files("welltold") / "data" / ALIASES).read_text("utf-8")
    kept = [(n, s) for n, s in enumerate(text.splitlines(), 1) if s and s[0] != "#"]
    rows = csv.reader([line for _, line in kept], strict=True)
    if next(rows) != ALIAS_COLUMNS:
        raise DataFileError(ALIASES, kept[0][0], f"columns must be {', '.join(ALIAS_COLUMNS)}")
    yield from zip([number for number, _ in kept[1:]], rows, strict=True)


@cache
def names_by_key() -> Mapping[str, Name]:
    """Return every listed name, by the form in which it is looked up.

    Raises DataFileError where two analytes would share a name.
    """
    table: dict[str, Name] = {}
    made: dict[tuple[str, str, str], Name] = {}
    known = registry()
    for slug, one in known.items():
        table[key_of(one.name)] = table[key_of(slug)] = Name(slug)
    for number, (alias, slug, basis, fraction) in alias_lines():
        key = key_of(alias)
        if not key or key in table:
            owner = table[key].slug if key else "nobody"
            raise DataFileError(ALIASES, number, f"{alias!r} is already a name of {owner}")
        if slug not in known:
            raise DataFileError(ALIASES, number, f"unknown analyte {slug!r}")
        states = (slug, basis, fraction)
        if states not in made:
            made[states] = Name(slug, basis or None, fraction or None)
        table[key] = made[states]
    return MappingProxyType(table)


@cache
def known_names() -> frozenset[str]:
    """Return the normalised names that match whatever their case (so without "As" and "U")."""
    return frozenset(key for key in names_by_key() if len(key) > SHORT)


@cache
def words_only() -> frozenset[str]:
    """Return the names that are words; an abbreviation one letter off is another thing."""
    printed = [one.name for one in registry().values()]
    printed += [cells[0] for _, cells in alias_lines()]
    return frozenset(key_of(name) for name in printed if _is_words(name))


def _is_words(printed: str) -> bool:
    """Tell whether a name has neither abbreviations (NMeFOSAA) nor formulas (CO2) in it."""
    if not (printed.islower() or all(map(_one_capital, printed.split()))):
        return False
    return all(w.isalpha() or w.isdigit() for w in normalise(printed).split())


def _one_capital(word: str) -> bool:
    return word.islower() or sum(map(str.isupper, word)) <= 1


@cache
def slugs_by_cas() -> Mapping[str, str]:
    """Return the analyte of each CAS number."""
    return MappingProxyType({one.cas: slug for slug, one in registry().items() if one.cas})


def sorted_words(name: str) -> str:
    """Return the words in alphabetical order; in a name with figures the order has a meaning."""
    return " ".join(sorted(name.split())) if name.replace(" ", "").isalpha() else name


def joined_words(name: str) -> str:
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
def rewritten_names() -> Mapping[str, Name]:
    """Return the names in other word orders and spacings, less those that fit two analytes."""
    table: dict[str, Name | None] = {}
    for key, name in names_by_key().items():
        if len(key) < SHORTEST_REWRITTEN:
            continue
        for form in {sorted_words(key), joined_words(key)} - {key}:
            other = table.get(form, name)
            table[form] = name if other is not None and other.slug == name.slug else None
    return MappingProxyType({form: name for form, name in table.items() if name is not None})
