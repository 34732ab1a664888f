"""Reads the text of a file that a person wrote for welltold, and tells what is wrong in one."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from pathlib import Path

from .errors import FileMissingError, WelltoldError
from .messages import say


def told(name: str, /, **fields: object) -> str:
    """Return what is wrong in such a file, in the language spoken; it stands in a sentence."""
    return say(f"own.{name}", **fields).text


def near(word: str | None, known: Iterable[str]) -> str:
    """Return a question for the nearest known word, to stand behind a complaint."""
    found = get_close_matches(word, list(known), n=1) if word else []
    return meant(found[0]) if found else ""


def meant(word: str | None) -> str:
    """Return a question for the word that was meant, in brackets: a full stop follows."""
    return told("near", question=say("site.did_you_mean", near=word).text) if word else ""


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
