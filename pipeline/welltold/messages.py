"""Sentences that a person reads, kept in catalogues apart from the code.

A code is ``room.name``; the catalogue of a room is ``data/messages/LANGUAGE/room.toml``, a flat
table ``name = "text with {fields}"``. Codes are closed: an unknown one is a programming error.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

LANGUAGE = "en"


@dataclass(frozen=True, slots=True)
class Message:
    """One sentence with its code and the values set into it."""

    code: str
    """``room.name``, stable, documented in the catalogue."""
    args: Mapping[str, str]
    """The values of the fields, already formatted for a reader."""
    text: str
    """The sentence."""


@cache
def catalogue(room: str, language: str = LANGUAGE) -> Mapping[str, str]:
    """Return the sentences of one room by name."""
    source = files("welltold") / "data" / "messages" / language / f"{room}.toml"
    return tomllib.loads(source.read_text("utf-8"))


def say(code: str, /, **args: object) -> Message:
    """Return the message ``code`` with its fields filled in; KeyError if the code is unknown."""
    room, _, name = code.partition(".")
    filled = {key: str(value) for key, value in args.items()}
    return Message(code, filled, catalogue(room)[name].format(**filled))
