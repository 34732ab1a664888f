"""The doors: a file of any kind in, one geometry out.

``open_document`` looks at the content of a file, never at its suffix, asks every door in `DOORS`
whether the file is one of its kind, and lets the one that claims it read it. No claim is an error
that says what the file looks like, two claims are an error that names both.

What the ``read`` of a door may raise is told once, by ``open_document``.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from welltold.content import content_of
from welltold.errors import EmptyFileError, UnknownFileError
from welltold.messages import say
from welltold_parsers.doors.script import other_script
from welltold_parsers.doors.sniff import DOORS, looks_like
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Document
from welltold_parsers.limits import Limits

__all__ = ["DOORS", "Limits", "open_document"]

_DEFAULT = Limits()


def open_document(path: Path, limits: Limits = _DEFAULT, data: bytes | None = None) -> Document:
    """Return the pages or sheets of the file at ``path``; ``data``: its bytes, if read before.

    Not thread safe: the PDF library keeps global state, and two threads reading PDFs at once crash
    or get wrong words. Use processes, one thread each.

    Raises `FileMissingError`, `EmptyFileError`, `UnknownFileError`, `DamagedFileError`,
    `PasswordError`, `PicturesOnlyError` or `TooLargeError`; no other error is meant to escape.
    """
    source = Source(path, _not_empty(path, data, limits))
    claims = [door for door in DOORS if door.claims(source)]
    if not claims:
        raise UnknownFileError(source.name, looks_like(source.data))
    if len(claims) > 1:
        names = " and ".join(door.kind for door in claims)
        raise UnknownFileError(source.name, f"it could be {names}")
    opened = claims[0].reader()(source, limits)
    script = other_script(_texts(opened))
    more = (say("door.other_script", script=script),) if script else ()
    return Document(
        file=path.name,
        sha256=hashlib.sha256(source.data).hexdigest(),
        kind=claims[0].kind,
        pages=opened.pages,
        sheets=opened.sheets,
        warnings=opened.warnings + more,
    )


def _texts(opened: Opened) -> Iterator[str]:
    for page in opened.pages:
        yield from (word.text for word in page.words)
    for sheet in opened.sheets:
        yield from (cell.text for row in sheet.rows for cell in row)


def _not_empty(path: Path, data: bytes | None, limits: Limits) -> bytes:
    if data is None:
        data = content_of(path, limits.file_bytes)
    if not data.strip(b"\0 \t\r\n\f\xef\xbb\xbf\xff\xfe"):
        raise EmptyFileError(str(path))
    return data
