"""Bytes to text for files that do not say how they are encoded."""

from __future__ import annotations

import codecs
from dataclasses import dataclass

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),  # before UTF-16, whose mark is the beginning of this one
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_LOOK_AT = 4096
_FOREIGN_SHARE = 0.2
"""A western text has few letters outside ASCII; above this share another script is likely."""


@dataclass(frozen=True, slots=True)
class Decoded:
    """Text, the encoding it was read with, and whether that was a guess."""

    text: str
    encoding: str
    guessed: bool = False


def _western(error: UnicodeError) -> tuple[str, int]:
    """Read the bytes that are no UTF-8 as cp1252, one by one, and go on after them."""
    if not isinstance(error, UnicodeDecodeError):
        raise error
    wrong = error.object[error.start : error.end]
    text = "".join(
        bytes([byte]).decode("cp1252", "ignore") or bytes([byte]).decode("latin-1")
        for byte in wrong
    )
    return text, error.end


codecs.register_error("welltold.western", _western)


def decode(data: bytes) -> Decoded:
    """Return the text of ``data``; never fails.

    A byte order mark decides. Without one: UTF-16 shows by its zero bytes, UTF-8 by decoding
    without an error. Else the file is western (cp1252, of which Latin-1 is a part; bytes that are
    valid UTF-8 between them are read as that), unless so much of it lies outside ASCII that
    another script is likely: then charset-normalizer is asked.
    """
    for mark, name in _MARKS:
        if data.startswith(mark):
            return Decoded(data.decode(name, "replace").lstrip("\ufeff"), name.removesuffix("-sig"))
    wide = _utf16_without_mark(data[:_LOOK_AT])
    if wide:
        return Decoded(data.decode(wide, "replace"), wide)
    try:
        return Decoded(data.decode("utf-8"), "utf-8")
    except UnicodeDecodeError:
        pass
    foreign = sum(byte >= 0x80 for byte in data[: _LOOK_AT * 8])
    letters = sum(chr(byte).isalpha() or byte >= 0x80 for byte in data[: _LOOK_AT * 8])
    if foreign > _FOREIGN_SHARE * max(letters, 1):
        from charset_normalizer import from_bytes

        best = from_bytes(data).best()
        if best is not None:
            return Decoded(str(best), str(best.encoding), guessed=True)
    return Decoded(data.decode("utf-8", "welltold.western"), "cp1252")


def _utf16_without_mark(head: bytes) -> str | None:
    """Return the byte order of UTF-16 text by where its zero bytes stand, or None."""
    half = len(head) // 2
    if half < 4:
        return None
    even, odd = head[0 : 2 * half : 2].count(0), head[1 : 2 * half : 2].count(0)
    if odd > 0.6 * half and even < 0.05 * half:
        return "utf-16-le"
    if even > 0.6 * half and odd < 0.05 * half:
        return "utf-16-be"
    return None
