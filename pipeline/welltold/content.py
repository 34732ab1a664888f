"""The bytes of a file, read once: a pipe can be read only once, and may have no end."""

from __future__ import annotations

from pathlib import Path

from .errors import FileMissingError, TooLargeError

_CHUNK = 1 << 20


def content_of(path: Path, most: int) -> bytes:
    """Return the bytes of a file or a pipe; FileMissingError, TooLargeError beyond ``most``."""
    try:
        size = path.stat().st_size
        if size > most:
            raise TooLargeError(str(path), "bytes", size, most)
        read: list[bytes] = []
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK):
                read.append(chunk)
                if len(read) * _CHUNK > most + _CHUNK:
                    break
    except OSError as error:
        raise FileMissingError(str(path), error.strerror or str(error)) from error
    data = b"".join(read)
    if len(data) > most:
        raise TooLargeError(str(path), "bytes", len(data), most)
    return data
