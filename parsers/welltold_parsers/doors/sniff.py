"""What a file is, by its first bytes and its inner names, never by its suffix."""

from __future__ import annotations

import importlib
import io
import re
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import cast

from welltold_parsers.doors.own_files import own_file
from welltold_parsers.doors.source import Reader, Source

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""The container of Office files before 2007, and of encrypted ones since."""
_BARE_XLS = (b"\x09\x08", b"\x09\x04", b"\x09\x02", b"\x09\x00")
"""Excel 2 to 5 wrote the workbook without a container."""

_BINARY = re.compile(rb"[\x00-\x08\x0e-\x1a\x1c-\x1f]")
_MAGIC: tuple[tuple[bytes, str], ...] = (
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"\x89PNG", "a PNG picture"),
    (b"GIF8", "a GIF picture"),
    (b"II*\0", "a TIFF picture"),
    (b"MM\0*", "a TIFF picture"),
    (b"BM", "a BMP picture"),
    (b"{\\rtf", "an RTF document"),
    (b"%!PS", "a PostScript file"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"Rar!", "a RAR archive"),
    (b"SQLite format 3", "an SQLite database"),
    (b"MZ", "a Windows program"),
    (b"\x7fELF", "a program"),
)
_PICTURES = (b"\xff\xd8\xff", b"\x89PNG", b"GIF8", b"II*\0", b"MM\0*")
_HEIF = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"mif1", b"msf1"})
"""Brands of still pictures in the container that films use as well."""
_ZIP_NAMES: tuple[tuple[str, str], ...] = (
    ("word/", "a Word document"),
    ("ppt/", "a PowerPoint presentation"),
    ("xl/workbook.bin", "a binary Excel workbook, XLSB"),
    ("Index/", "a Numbers or Pages document"),
)
_OLE_NAMES: tuple[tuple[str, str], ...] = (
    ("WordDocument", "an old Word document"),
    ("PowerPoint Document", "an old PowerPoint presentation"),
    ("__substg1.0_", "an Outlook message"),
)


@dataclass(frozen=True, slots=True)
class Door:
    """One kind of file: how it is known, and the module whose ``read`` reads it.

    The module is imported only when a file of its kind is opened, so that reading a PDF does not
    wait for what reads workbooks.
    """

    kind: str
    claims: Callable[[Source], bool]
    module: str

    def reader(self) -> Reader:
        """Import the module and return its ``read``."""
        module = importlib.import_module(f"welltold_parsers.doors.{self.module}")
        return cast("Reader", module.read)


def _is_pdf(source: Source) -> bool:
    return b"%PDF-" in source.data[:1024]


def _is_zip_of(source: Source, wanted: str) -> bool:
    return source.data.startswith(b"PK\x03\x04") and zip_family(source.data) == wanted


def _is_xls(source: Source) -> bool:
    data = source.data
    if data.startswith(OLE):
        return _ole_family(data) == "xls"
    return data.startswith(_BARE_XLS) and data[2:4] in {b"\x10\x00", b"\x08\x00", b"\x06\x00"}


def _is_text_of(source: Source, wanted: str) -> bool:
    data = source.data
    if _is_pdf(source) or data.startswith((b"PK\x03\x04", OLE)) or _magic(data):
        return False
    return source.text_kind == wanted and own_file(data) is None


def _is_picture(source: Source) -> bool:
    data = source.data
    if data.startswith(_PICTURES) or (data[:4] == b"RIFF" and data[8:12] == b"WEBP"):
        return True
    if data.startswith(b"BM"):
        return _magic(data) is not None
    return data[4:8] == b"ftyp" and data[8:12] in _HEIF


DOORS: tuple[Door, ...] = (
    Door("picture", _is_picture, "picture"),
    Door("pdf", _is_pdf, "pdf"),
    Door("xlsx", partial(_is_zip_of, wanted="xlsx"), "xlsx"),
    Door("ods", partial(_is_zip_of, wanted="ods"), "ods"),
    Door("xls", _is_xls, "xls"),
    Door("xml2003", partial(_is_text_of, wanted="xml2003"), "xml2003"),
    Door("html", partial(_is_text_of, wanted="html"), "html_table"),
    Door("separated", partial(_is_text_of, wanted="separated"), "separated"),
    Door("text", partial(_is_text_of, wanted="text"), "plaintext"),
)
"""All doors. Every one is asked; the order decides nothing."""


def zip_family(data: bytes) -> str:
    """Return "xlsx", "ods", or what else the zip archive looks like; works on cut-off archives."""
    try:
        names = zipfile.ZipFile(io.BytesIO(data)).namelist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        found = re.findall(rb"PK\x03\x04.{26}([\x20-\x7e]{5,80})", data, re.DOTALL)
        names = [name.decode("ascii") for name in found]
    if any(name.startswith("xl/workbook.xml") for name in names):
        return "xlsx"
    for prefix, meaning in _ZIP_NAMES:
        if any(name.startswith(prefix) for name in names):
            return meaning
    if any(name.startswith(("xl/", "[Content_Types].xml", "docProps/")) for name in names):
        return "xlsx"
    kind = re.search(rb"application/vnd\.oasis\.opendocument\.([a-z-]+)", data[:512])
    if kind is None:
        return "a ZIP archive"
    return "ods" if kind[1] == b"spreadsheet" else f"an OpenDocument {kind[1].decode()} file"


def _ole_family(data: bytes) -> str:
    """Return "xls" (plain or locked) or what else the OLE container looks like."""
    for name, meaning in _OLE_NAMES:
        if name.encode("utf-16-le") in data:
            return meaning
    known = ("Workbook", "Book", "EncryptedPackage")
    if any(name.encode("utf-16-le") in data for name in known):
        return "xls"
    # The list of streams is cut off: most likely it was a workbook, and it is told to be damaged.
    directory = int.from_bytes(data[48:52], "little")
    if len(data) < 512 or (directory + 1) * 512 + 128 > len(data):
        return "xls"
    return "an old Office file"


def _magic(data: bytes) -> str | None:
    for start, meaning in _MAGIC:
        # "BM" and "MZ" also begin honest words: only with binary bytes behind them.
        if data.startswith(start) and (len(start) > 2 or _BINARY.search(data[:64])):
            return meaning
    if data[4:8] == b"ftyp":
        return "a HEIC photo or a film"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "a WebP picture"
    return None


def looks_like(data: bytes) -> str:
    """Say in a few words what a file that no door claims looks like."""
    known = _magic(data)
    if known:
        return f"it looks like {known}"
    if own := own_file(data):
        return f"it is {own}"
    if data.startswith(b"PK\x03\x04"):
        return f"it looks like {zip_family(data)}"
    if data.startswith(OLE):
        return f"it looks like {_ole_family(data)}"
    head = data[:64].lstrip(b"\xef\xbb\xbf \t\r\n").lower()
    for start, meaning in (
        (b"mime-version", "a web archive, MHTML"),
        (b"<", "XML"),
        (b"{", "JSON"),
    ):
        if head.startswith(start):
            return f"it looks like {meaning}"
    return "it looks like JSON" if head.startswith(b"[") else "it looks like binary data"
