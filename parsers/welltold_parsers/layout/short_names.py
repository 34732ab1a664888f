"""Short names that mean an analyte only at the head of a column of a data file.

A lab sheet that says "do" or "TH" says too little; a data file whose other columns are analytes
does not. Nothing here is asked for a page.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from welltold.analytes import Match, analyte, identify
from welltold.tables import read_table

from .isotopes import is_isotope
from .tokens import analyte_in, label_of
from .words import split_unit

_BLANKS = re.compile(r"[\s_.]+")
_WAVELENGTH = re.compile(r"^([A-Z][a-z]?)\s+\d{3}(?:\.\d+)?(?:\s*[-/]\s*[ARar])?\s*\*?$")
_JOINED = re.compile(r"(?<=[a-z])(?=[A-Z])")
_CODED = re.compile(r"^[pP]?\d{5}[\s_:-]+(?=[A-Za-z])")
"""The number of a parameter before its name."""
_NUMBER = re.compile(r"^[pP]?_?(\d{5})$")
_AT_25 = re.compile(r"(?<=[A-Za-z.])(?:\s*[@(,]\s*|\s+)(?:at\s+)?25\s*(?:°|º|deg\.?)?\s*C\)?$")
"""The temperature to which a conductance is reduced: "EC 25 °C"."""
_WHERE = re.compile(r"(?i)(?<=\w\w)[_. ](?:field|lab|insitu|feld|labor|campo)$")
"""Where it was measured: "EC_field"."""
_VALENCE = re.compile(r"^([A-Z][a-z]?)\(\+?(-?\d)\)$")
_FRACTIONS = {
    "diss": "dissolved",
    "dis": "dissolved",
    "d": "dissolved",
    "filt": "dissolved",
    "tr": "total",
    "trec": "total",
    "tot": "total",
    "t": "total",
    "unfilt": "total",
}


class Named(NamedTuple):
    """What a column's head means."""

    slug: str | None
    """None: known, and no water result."""
    name: str
    """A name that the registry identifies, with the fraction and basis in words."""
    unit: str | None
    sure: bool


@cache
def _table() -> Mapping[str, tuple[str | None, str | None, str | None, bool]]:
    return {
        row.text("name"): (
            row.optional("slug"),
            row.optional("basis"),
            row.optional("fraction"),
            row.cells["sure"] != "no",
        )
        for row in read_table("column_names.csv")
    }


@cache
def _numbers() -> Mapping[str, Named]:
    """Return what the numbers of the U.S. Geological Survey stand for."""
    return {
        row.text("code"): Named(
            row.text("slug"),
            worded(row.text("slug"), row.optional("basis"), row.optional("fraction")),
            row.text("unit"),
            row.text("sure") == "yes",
        )
        for row in read_table("parameter_codes.csv")
    }


@lru_cache(maxsize=4096)
def short_name(text: str) -> Named | None:
    """Return what a column's head means in a data file; None when it says nothing."""
    if len(text) > 40 or is_isotope(text):
        return None
    number = _NUMBER.match(text)
    if number:
        return _numbers().get(number[1])
    coded = _CODED.match(text)
    if coded:
        rest = text[coded.end() :]
        match = analyte_in(rest)
        known = _numbers().get(text[: coded.end()].strip("pP _:-\t"))
        if known is not None and (match is None or match.slug != known.slug):
            return known
        return _named(match, split_unit(rest)[1]) if match else short_name(rest)
    bare, spelled = split_unit(text)
    if not bare:
        bare, spelled = text, None
    bare = _WHERE.sub("", _AT_25.sub("", bare))
    found = (
        _listed(bare, spelled) or _plain(bare, spelled) or _lower(bare, spelled) or _line_of(bare)
    )
    return found._replace(unit=found.unit or spelled) if found else None


@lru_cache(maxsize=1024)
def by_valence(text: str) -> Named | None:
    """Return the species that a symbol with its valence in brackets means: "S(6)", "N(-3)"."""
    found = _VALENCE.match(text)
    return _listed(f"{found[1]}({found[2]})", None) if found else None


def _plain(bare: str, spelled: str | None) -> Named | None:
    """Return a name that is known once "_" and "." are blanks, and joined capitals parted."""
    parted = _JOINED.sub(" ", _BLANKS.sub(" ", bare))
    if parted == bare:
        return None
    match = analyte_in(parted)
    return _named(match, spelled) if match else None


def _listed(bare: str, spelled: str | None) -> Named | None:
    known = _table().get(_BLANKS.sub(" ", bare).strip().lower())
    if known is None:
        return None
    slug, basis, fraction, sure = known
    if slug is None:
        return Named(None, bare, spelled, sure=True)
    return Named(slug, worded(slug, basis, fraction), spelled, sure)


def _lower(bare: str, spelled: str | None) -> Named | None:
    """Symbols in small letters: "ca", "na", "fe_diss", "mn_tr", "no3"."""
    name, _, tail = bare.partition("_")
    fraction = _FRACTIONS.get(tail.lower())
    if len(name) > 4 or (tail and fraction is None) or not name or not name[0].isalpha():
        return None
    if not name.islower() and not tail:
        return None
    for form in (name.capitalize(), name.upper()):
        match = identify(form, fuzzy=False)
        if match is not None:
            return Named(match.slug, worded(match.slug, match.basis, fraction), spelled, sure=True)
    return None


def _line_of(bare: str) -> Named | None:
    """Return a symbol with the line of a spectrum: "Al 308.215-A"."""
    found = _WAVELENGTH.match(bare.strip())
    match = identify(found[1], fuzzy=False) if found else None
    return Named(match.slug, analyte(match.slug).name, None, sure=True) if match else None


def _named(match: Match, spelled: str | None) -> Named:
    return Named(match.slug, worded(match.slug, match.basis, match.fraction), spelled, sure=True)


@lru_cache(maxsize=1024)
def worded(slug: str, basis: str | None, fraction: str | None) -> str:
    """Return a name that is identified as this analyte, with basis and fraction in words."""
    name = analyte(slug).name
    for text in (
        f"{name}{f', {fraction}' if fraction else ''}{f' as {basis}' if basis else ''}",
        f"{name}{f' as {basis}' if basis else ''}",
    ):
        found = label_of(text).match
        if found is not None and found.slug == slug:
            return text
    return name
