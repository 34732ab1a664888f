"""Names, lists, dates and short phrases in the language that is spoken now.

What a laboratory printed, and what stands in a file of the user's own, is never translated.
"""

from __future__ import annotations

import re
import warnings
from collections.abc import Mapping, Sequence
from datetime import date
from functools import cache
from types import MappingProxyType

from .analytes import registry
from .messages import LANGUAGE, LANGUAGES, Language, UntranslatedWarning, say, spoken
from .tables import read_table

LOCALES: Mapping[Language, str] = {"en": "en_US", "es": "es_US"}
"""Readers in the United States: a point before decimals in both languages."""
_SOUNDS_I = re.compile(r"(?i)h?[iíy](?![aeoáéó])")
"""What turns "y" before it into "e": "uranio e hidróxido", but "cobre y hierro"."""
_SOUNDS_O = re.compile(r"(?i)h?[oó]|8|11(?!\d)")
_PROPER = frozenset(
    {
        "Legionella", "Giardia", "Cryptosporidium", "Salmonella", "Campylobacter", "Pseudomonas",
        "Staphylococcus", "Clostridium", "Aeromonas", "Mycobacterium", "Kjeldahl", "Langelier",
        "Ryznar", "Larson",
    }
)  # fmt: skip


def plain_name(slug: str | None) -> str | None:
    """Return the plain name of an analyte; None for what is not in the registry."""
    known = registry().get(slug or "")
    if known is None or spoken() == LANGUAGE:
        return known.name if known else None
    name = _names(spoken()).get(known.slug)
    if name is None:
        told = f"{known.slug} has no name in {spoken()!r}"
        warnings.warn(told, UntranslatedWarning, stacklevel=2)
    return name or known.name


def name_again(name: str) -> str:
    """Return an analyte's plain name, given in any language, in the one spoken; else as it is."""
    return plain_name(_slugs().get(name)) or name


_ORDINARY = re.compile(r"(?=.{3})[A-ZÀ-Þ][a-zà-ÿ]+(?:-[a-zà-ÿ]+)*(?:-\d+)?")
"""A word with a capital, or an element with the number of its isotope."""


def in_sentence(name: str) -> str:
    """Return a name for the middle of a sentence: "Total coliform" is "total coliform" there.

    Only a first word that is an ordinary word loses its capital: not "E. coli", "pH", "PFOA" nor
    the name of a kind of germ.
    """
    first = re.split(r"[ (,]", name, maxsplit=1)[0]
    plain = _ORDINARY.fullmatch(first) and first not in _PROPER
    return name[0].lower() + name[1:] if plain else name


def sentence_start(text: str) -> str:
    """Return a text with a capital first letter."""
    return text[:1].upper() + text[1:]


def phrase(text: str) -> str:
    """Return a short phrase, or a word such as "in_force", of our own tables.

    One that is not known there is a user's own, and stays as it is.
    """
    if spoken() == LANGUAGE:
        return text
    return _phrases(spoken()).get(text.replace("_", " "), text)


def listed(names: Sequence[str]) -> str:
    """Return "a, b and c"."""
    return _joined(names, "list_and_i" if names and _SOUNDS_I.match(names[-1]) else "list_and")


def either(names: Sequence[str]) -> str:
    """Return "a, b or c"."""
    return _joined(names, "list_or_o" if names and _SOUNDS_O.match(names[-1]) else "list_or")


def date_words(iso: str) -> str:
    """Return "November 20, 2026" for an ISO date (or date and time); other text as it is."""
    from babel.dates import format_date

    try:
        day = date.fromisoformat(iso[:10])
    except ValueError:
        return iso
    return format_date(day, "long", locale=LOCALES[spoken()])


def basis_words(amount: str, basis: str) -> str:
    """Return "10 mg/L as N"."""
    return say("speech.amount_as", amount=amount, basis=basis).text


def _joined(names: Sequence[str], code: str) -> str:
    if len(names) < 2:
        return "".join(names)
    return say(f"speech.{code}", first=", ".join(names[:-1]), last=names[-1]).text


@cache
def _slugs() -> Mapping[str, str]:
    """Return the slug of each plain name, in every language."""
    named = {one.name: slug for slug, one in registry().items()}
    for language in LANGUAGES:
        if language != LANGUAGE:
            named |= {name: slug for slug, name in _names(language).items()}
    return MappingProxyType(named)


@cache
def _names(language: Language) -> Mapping[str, str]:
    rows = read_table(f"analyte_names_{language}.csv")
    return MappingProxyType({row.text("slug"): row.text("name") for row in rows})


@cache
def _phrases(language: Language) -> Mapping[str, str]:
    """Return what a phrase is in a language; the second column of its table."""
    rows = read_table(f"phrases_{language}.csv")
    return MappingProxyType({row.text("text"): row.text("said") for row in rows})
