"""A file in, printed results with their provenance out.

``doors`` open a file of any kind as one geometry (``geometry``); ``layout`` decides what each part
of that geometry is. This package imports welltold's core modules and never ``welltold_reports``.

    from welltold_parsers import read

    reading = read("sheet.pdf")
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from .limits import Limits

if TYPE_CHECKING:
    from welltold.reading import Reading

    from .geometry import Document

__all__ = ["Limits", "read"]

_DEFAULT = Limits()


def read(
    path: str | Path,
    limits: Limits = _DEFAULT,
    notes: Path | None = None,
    *,
    data: bytes | None = None,
) -> Reading:
    """Read one file: a lab's sheet, a table that a person filled in, or a corrected reading.

    ``notes`` is a folder of lab notes; the one that claims the sheet helps to read it. ``data`` is
    the file's content, where somebody has read it before: a pipe can be read only once.

    Raises the errors of the doors where the file cannot be opened, and NoResultError where not one
    result was found. Lines that look like results and were not understood do not make a reading of
    their own: without any result they are in the error.
    """
    from welltold.errors import NoResultError

    from . import saved, typed
    from .collecting import rarely
    from .doors import open_document
    from .layout import read_document

    with rarely():
        document = open_document(Path(path), limits, data)
        if saved.claims(document):
            return saved.extract(document)
        if typed.claims(document):
            reading = typed.extract(document)
        else:
            reading = read_document(document) if notes is None else _with_notes(document, notes)
            reading = _looked_at_twice(reading, document)
    if not reading.results:
        raise NoResultError(str(path), len(reading.unread), reading)
    return reading


def _with_notes(document: Document, folder: Path) -> Reading:
    from .notes import load_notes, note_for, read_with

    return read_with(document, note_for(document, load_notes(folder)))


def _looked_at_twice(reading: Reading, document: Document) -> Reading:
    """Return a reading of pictures with the doubts that a second look at each value finds."""
    from .scan.hidden import hidden_doubted

    reading = hidden_doubted(reading, document.pages)
    if not any(page.scan for page in document.pages):
        return reading
    from .scan.second import doubted

    return doubted(reading, document.pages)
