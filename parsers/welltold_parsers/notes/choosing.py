"""Which note claims a file, and reading a file with it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import islice

from welltold.errors import NotesClashError
from welltold.reading import Reading

from ..geometry import Document
from ..layout import read_document
from ..layout.hints import Hints, Parts
from ..layout.lines import page_lines, sheet_lines
from .applying import in_plain_words
from .changes import Changes
from .note import Note, plain
from .restoring import restored

PAGES = 3
ROWS = 200
"""Phrases are looked for on so many pages, and on so many rows of each sheet."""


def note_for(document: Document, notes: Sequence[Note]) -> Note | None:
    """Return the only note that claims a document, or None; NotesClashError where two do."""
    claims = claiming(document, notes)
    if len(claims) > 1:
        raise NotesClashError(document.file, claims[0].path, claims[1].path)
    return claims[0] if claims else None


def claiming(document: Document, notes: Sequence[Note]) -> tuple[Note, ...]:
    """Return all notes that claim a document; more than one is an error when it is read."""
    text = text_of(document) if notes else ""
    return tuple(note for note in notes if _claims(note, text))


def _claims(note: Note, text: str) -> bool:
    """Whether all phrases of a note stand in a plain text, and none that must not."""
    there = all(stands_in(phrase, text) for phrase in note.phrases)
    return there and not any(stands_in(phrase, text) for phrase in note.without)


def stands_in(phrase: str, text: str) -> bool:
    """Whether a phrase stands in a plain text in whole words."""
    return _phrase(plain(phrase)).search(text) is not None


def read_with(document: Document, note: Note | None) -> Reading:
    """Return the reading of a document, with the help of a note if there is one."""
    if note is None:
        return read_document(document)
    changes = Changes()

    def plain_words(parts: Parts) -> Parts:
        return in_plain_words(note, parts, changes)

    hints = Hints(plain_words, note.day_first, note.decimal_comma)
    return restored(read_document(document, hints), note, changes)


def text_of(document: Document) -> str:
    """Return the plain text in which phrases are looked for."""
    return "\n".join(_texts(document))


def _texts(document: Document) -> Iterator[str]:
    for page in document.pages[:PAGES]:
        yield from (plain(line.text) for line in page_lines(page))
    for sheet in document.sheets:
        if not sheet.hidden:
            yield from (plain(line.text) for line in islice(sheet_lines(sheet), ROWS))


@lru_cache(maxsize=512)
def _phrase(phrase: str) -> re.Pattern[str]:
    """Return the pattern of a phrase that is no part of a longer word."""
    return re.compile(rf"(?<!\w){re.escape(phrase)}(?!\w)")
