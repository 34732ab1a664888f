"""Catalogue sentences, names and lists as a reader expects them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache

from welltold.analytes import registry
from welltold.messages import LANGUAGE, Message, catalogue, say


def word(name: str, /, **fields: object) -> str:
    """Return one sentence or label of the reports' own catalogue."""
    return say(f"report.{name}", **fields).text


def has_word(name: str) -> bool:
    """Whether the reports' catalogue has this name."""
    return name in catalogue("report", LANGUAGE)


def counted(name: str, n: int, /, **fields: object) -> str:
    """Return the ``_one`` or the ``_many`` form of a sentence."""
    return word(f"{name}_one" if n == 1 else f"{name}_many", n=n, **fields)


def texts(messages: Iterable[Message]) -> tuple[str, ...]:
    """Return the sentences, each once, in order."""
    return tuple(dict.fromkeys(message.text for message in messages))


def listed(names: Sequence[str]) -> str:
    """Return "a, b and c"."""
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


@cache
def analyte_name(slug: str | None, label: str = "") -> str:
    """Return the plain English name of an analyte, or the label when it is not in the registry."""
    known = registry().get(slug or "")
    return known.name if known else label or humanised(slug or "")


def analyte_names(slugs: Iterable[str]) -> str:
    """Return the plain names as a list in words."""
    return listed([in_sentence(analyte_name(slug)) for slug in slugs])


def in_sentence(name: str) -> str:
    """Return a name for the middle of a sentence: "Total coliform" is "total coliform" there.

    Only a first word that is an ordinary word loses its capital: not "E. coli", "pH", "PFOA" nor
    the name of a kind of germ.
    """
    first = name.split(" ", 1)[0]
    plain = (
        len(first) > 2
        and first[0].isupper()
        and first[1:].islower()
        and first.replace("-", "").isalpha()
    )
    plain = plain and first not in _PROPER
    return name[0].lower() + name[1:] if plain else name


def humanised(slug: str) -> str:
    """Return a slug as words: ``well_cap`` is "Well cap"."""
    spaced = slug.replace("_", " ")
    return spaced[:1].upper() + spaced[1:]


def stage_name(slug: str) -> str:
    """Return the plain name of a treatment stage, as the sentences about treatment call it."""
    name = catalogue("treatment", LANGUAGE).get(f"name_{slug}")
    return name[0].upper() + name[1:] if name else humanised(slug)


def date_words(iso: str) -> str:
    """Return "November 20, 2026" for an ISO date (or date and time); other text as it is."""
    try:
        day = date.fromisoformat(iso[:10])
    except ValueError:
        return iso
    return f"{_MONTHS[day.month - 1]} {day.day}, {day.year}"


_PROPER = frozenset(
    {
        "Legionella", "Giardia", "Cryptosporidium", "Salmonella", "Campylobacter", "Pseudomonas",
        "Staphylococcus", "Clostridium", "Aeromonas", "Mycobacterium", "Kjeldahl", "Langelier",
        "Ryznar", "Larson",
    }
)  # fmt: skip

_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September",
    "October", "November", "December",
)  # fmt: skip
