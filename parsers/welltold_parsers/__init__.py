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

__all__ = ["Limits", "read"]

_DEFAULT = Limits()


def read(path: str | Path, limits: Limits = _DEFAULT) -> Reading:
    """Read one file: a lab's sheet, a table that a person filled in, or a corrected reading.

    Raises the errors of the doors where the file cannot be opened, and NoResultError where not one
    result was found. Lines that look like results and were not understood do not make a reading of
    their own: without any result their number is in the error.
    """
    from welltold.errors import NoResultError

    from . import saved, typed
    from .collecting import rarely
    from .doors import open_document
    from .layout import read_document

    with rarely():
        document = open_document(Path(path), limits)
        if saved.claims(document):
            return saved.extract(document)
        reading = typed.extract(document) if typed.claims(document) else read_document(document)
    if not reading.results:
        raise NoResultError(str(path), len(reading.unread))
    return reading
