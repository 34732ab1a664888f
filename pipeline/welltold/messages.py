"""Sentences that a person reads, kept in catalogues apart from the code.

A code is ``room.name``; the catalogue of a room is ``data/messages/LANGUAGE/room.toml``, a flat
table ``name = "text with {fields}"``. Codes are closed: an unknown one is a programming error.

The language is that of the work at hand: ``with speaking("es"): ...``. A sentence that has no
translation is given in English, with an `UntranslatedWarning` that names it.
"""

from __future__ import annotations

import tomllib
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal, get_args

Language = Literal["en", "es"]
LANGUAGES: tuple[Language, ...] = get_args(Language)
LANGUAGE: Language = "en"
"""The language in which every sentence exists, and in which we speak unless another is asked."""
_speaking: ContextVar[Language] = ContextVar("speaking", default=LANGUAGE)


class UntranslatedWarning(UserWarning):
    """A sentence has no translation; the English one stands in its place."""


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence with its code and the values set into it."""

    code: str
    """``room.name``, stable, documented in the catalogue."""
    args: Mapping[str, str]
    """The values of the fields, already formatted for a reader."""
    text: str
    """The sentence."""


@contextmanager
def speaking(language: Language | None) -> Iterator[None]:
    """Speak another language inside the block; None leaves it as it is.

    ValueError for a language that there is no catalogue of.
    """
    if language is not None and language not in LANGUAGES:
        raise ValueError(f"unknown language {language!r}; known: {', '.join(LANGUAGES)}")
    token = _speaking.set(language or spoken())
    try:
        yield
    finally:
        _speaking.reset(token)


def spoken() -> Language:
    """Return the language that is spoken now."""
    return _speaking.get()


def catalogue(room: str, language: Language | None = None) -> Mapping[str, str]:
    """Return the sentences of one room by name, in the language spoken unless another is named.

    What is not translated stands there in English.
    """
    return _catalogue(room, language or spoken())


def say(code: str, /, **args: object) -> Message:
    """Return the message ``code`` with its fields filled in; KeyError if the code is unknown."""
    room, _, name = code.partition(".")
    filled = {key: str(value) for key, value in args.items()}
    text = catalogue(room)[name].format(**filled)
    if name in untranslated(room, spoken()):
        told = f"{code} has no sentence in {spoken()!r}"
        warnings.warn(told, UntranslatedWarning, stacklevel=2)
    return Message(code, filled, text)


@cache
def rooms() -> tuple[str, ...]:
    """Return the names of all catalogues, in order."""
    folder = files("welltold") / "data" / "messages" / LANGUAGE
    names = sorted(entry.name for entry in folder.iterdir())
    return tuple(name.removesuffix(".toml") for name in names if name.endswith(".toml"))


@cache
def untranslated(room: str, language: Language) -> frozenset[str]:
    """Return the names of a room that have no sentence in the language."""
    return frozenset(_own(room, LANGUAGE).keys() - _own(room, language).keys())


@cache
def _catalogue(room: str, language: Language) -> Mapping[str, str]:
    english = _own(room, LANGUAGE)
    return english if language == LANGUAGE else {**english, **_own(room, language)}


@cache
def _own(room: str, language: Language) -> Mapping[str, str]:
    """Return the sentences that a language has; only English must have the room."""
    source = files("welltold") / "data" / "messages" / language / f"{room}.toml"
    if language != LANGUAGE and not source.is_file():
        return {}
    return tomllib.loads(source.read_text("utf-8"))
