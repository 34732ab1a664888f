"""Catalogue sentences, names and lists as a reader expects them."""

from __future__ import annotations

from collections.abc import Iterable

from welltold.messages import Message, catalogue, say
from welltold.speech import date_words, in_sentence, listed, plain_name

__all__ = [
    "analyte_name",
    "analyte_names",
    "counted",
    "date_words",
    "has_word",
    "humanised",
    "in_sentence",
    "listed",
    "stage_name",
    "texts",
    "word",
]


def word(name: str, /, **fields: object) -> str:
    """Return one sentence or label of the reports' own catalogue."""
    return say(f"report.{name}", **fields).text


def has_word(name: str) -> bool:
    """Whether the reports' catalogue has this name."""
    return name in catalogue("report")


def counted(name: str, n: int, /, **fields: object) -> str:
    """Return the ``_one`` or the ``_many`` form of a sentence."""
    return word(f"{name}_one" if n == 1 else f"{name}_many", n=n, **fields)


def texts(messages: Iterable[Message]) -> tuple[str, ...]:
    """Return the sentences, each once, in order."""
    return tuple(dict.fromkeys(message.text for message in messages))


def analyte_name(slug: str | None, label: str = "") -> str:
    """Return the plain name of an analyte, or the label when it is not in the registry."""
    return plain_name(slug) or label or humanised(slug or "")


def analyte_names(slugs: Iterable[str]) -> str:
    """Return the plain names as a list in words."""
    return listed([in_sentence(analyte_name(slug)) for slug in slugs])


def humanised(slug: str) -> str:
    """Return a slug as words: ``well_cap`` is "Well cap"."""
    spaced = slug.replace("_", " ")
    return spaced[:1].upper() + spaced[1:]


def stage_name(slug: str) -> str:
    """Return the plain name of a treatment stage, as the sentences about treatment call it."""
    name = catalogue("treatment").get(f"name_{slug}")
    return name[0].upper() + name[1:] if name else humanised(slug)
