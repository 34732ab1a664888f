"""Who has read and signed the sentences of a language (``data/messages/reviews.csv``)."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

from .messages import LANGUAGE, Language, rooms, untranslated
from .tables import read_table

TABLES = ("analyte_names", "phrases")
"""Tables that hold words of a language beside the catalogues."""
DIGITS = 12


@cache
def is_draft(language: Language) -> bool:
    """Whether a translation has a part that nobody has signed as it stands now."""
    if language == LANGUAGE:
        return False
    return not {*rooms(), *TABLES} <= _signed(language)


@cache
def is_whole(language: Language) -> bool:
    """Whether every sentence has one in the language."""
    return not any(untranslated(room, language) for room in rooms())


def digest(room: str, language: Language) -> str:
    """Return by what a review knows the file that was read."""
    data = files("welltold") / "data"
    own = data / "messages" / language / f"{room}.toml"
    path = data / f"{room}_{language}.csv" if room in TABLES else own
    return hashlib.sha256(path.read_bytes()).hexdigest()[:DIGITS] if path.is_file() else ""


def _signed(language: Language) -> frozenset[str]:
    """Return the rooms that somebody has signed and that have not changed since."""
    return frozenset(
        row.text("room")
        for row in read_table("messages/reviews.csv")
        if row.text("language") == language
        and row.optional("reviewer")
        and row.optional("date")
        and row.cells["digest"] == digest(row.text("room"), language)
    )
