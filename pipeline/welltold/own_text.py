"""Reads the text of a file that a person wrote for welltold."""

from __future__ import annotations

from pathlib import Path

from .errors import FileMissingError, WelltoldError


def own_text(path: str | Path, no_text: WelltoldError) -> str:
    """Return the text of a UTF-8 file, with or without a mark at its beginning.

    Raises FileMissingError where it cannot be opened, and ``no_text`` where it is no UTF-8.
    """
    try:
        return Path(path).read_text("utf-8-sig")
    except OSError as error:
        raise FileMissingError(str(path), error.strerror or "unreadable") from None
    except UnicodeDecodeError:
        raise no_text from None
