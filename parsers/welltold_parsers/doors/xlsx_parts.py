"""The parts of an XLSX workbook beside its sheets: the list of sheets, strings and formats."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from welltold_parsers.doors.archive import Archive
from welltold_parsers.doors.cells import Budget
from welltold_parsers.doors.raised import superscript
from welltold_parsers.doors.shown import BUILT_IN

_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_TRUE = {"1", "true", "on"}


@dataclass(frozen=True, slots=True)
class Listed:
    """A sheet as the workbook lists it."""

    name: str
    part: str
    hidden: bool


@dataclass(slots=True)
class Book:
    """What the workbook part says."""

    sheets: list[Listed] = field(default_factory=list)
    from_1904: bool = False


def relations(archive: Archive, part: str) -> dict[str, tuple[str, str]]:
    """Return id to (type, part name) of what ``part`` refers to."""
    folder, name = posixpath.split(part)
    listing = posixpath.join(folder, "_rels", f"{name}.rels")
    found: dict[str, tuple[str, str]] = {}

    def start(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "Relationship" and attributes.get("TargetMode") != "External":
            target = attributes.get("Target", "")
            whole = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
            kind = attributes.get("Type", "").rpartition("/")[2]
            found[attributes.get("Id", "")] = (kind, whole)

    if archive.has(listing):
        archive.parse(listing, start, _nothing)
    return found


def _nothing(_: str) -> None:
    """End of an element that needs no end."""


def book_of(archive: Archive) -> tuple[Book, dict[str, str]]:
    """Return the workbook's list of sheets, and its other parts by type."""
    roots = dict(relations(archive, "").values())
    main = roots.get("officeDocument", "xl/workbook.xml")
    related = relations(archive, main)
    book = Book()

    def start(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "workbookPr":
            book.from_1904 = attributes.get("date1904", "0") in _TRUE
        elif tag == "sheet":
            ids = (value for key, value in attributes.items() if key.endswith(":id"))
            kind, part = related.get(next(ids, ""), ("", ""))
            if kind == "worksheet" or not related:
                hidden = attributes.get("state", "visible") != "visible"
                book.sheets.append(Listed(attributes.get("name", ""), part, hidden))

    archive.parse(main, start, _nothing)
    return book, dict(related.values())


def formats_of(archive: Archive, part: str | None) -> tuple[str, ...]:
    """Return the number format of each cell style, in order."""
    custom: dict[int, str] = {}
    styles: list[int] = []
    inside = [False]

    def start(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "numFmt":
            custom[_whole(attributes.get("numFmtId"))] = attributes.get("formatCode", "General")
        elif tag == "cellXfs":
            inside[0] = True
        elif tag == "xf" and inside[0]:
            styles.append(_whole(attributes.get("numFmtId")))

    def end(tag: str) -> None:
        if tag == "cellXfs":
            inside[0] = False

    if part is None or not archive.has(part):
        return ()
    archive.parse(part, start, end)
    return tuple(custom.get(style, BUILT_IN.get(style, "General")) for style in styles)


def _whole(text: str | None) -> int:
    return int(text) if text and text.isdecimal() else 0


def unescape(text: str) -> str:
    """Undo the spelling _x000D_ for characters that XML cannot hold."""
    if "_x" not in text:
        return text
    return _ESCAPED.sub(lambda found: chr(int(found[1], 16)), text)


class RichText:
    """Puts together a string of several runs; a raised run behind a digit stays told apart."""

    def __init__(self) -> None:
        self._runs: list[str] = []
        self._raised = False
        self._phonetic = False

    def clear(self) -> None:
        """Begin a new string."""
        self._runs.clear()
        self._raised = False

    def start(self, tag: str, attributes: Mapping[str, str]) -> None:
        """Note how the run is set."""
        if tag == "r":
            self._raised = False
        elif tag == "vertAlign":
            self._raised = attributes.get("val") == "superscript"
        elif tag == "rPh":
            self._phonetic = True

    def add(self, text: str) -> None:
        """Add the text of a run; reading aids for Asian scripts are no text of the cell."""
        if self._phonetic:
            self._phonetic = False
            return
        before = "".join(self._runs[-2:])
        if self._raised and before[-1:].isdigit():
            text = superscript(text)
        self._runs.append(text)

    def text(self) -> str:
        """Return the string."""
        return unescape("".join(self._runs))


def strings_of(archive: Archive, part: str | None, budget: Budget) -> list[str]:
    """Return the workbook's table of strings."""
    found: list[str] = []
    rich = RichText()
    buffer: list[str] = []

    def start(tag: str, attributes: Mapping[str, str]) -> None:
        if tag == "t":
            buffer.clear()
        elif tag == "si":
            rich.clear()
        else:
            rich.start(tag, attributes)

    def end(tag: str) -> None:
        if tag == "t":
            rich.add("".join(buffer))
        elif tag == "si":
            text = rich.text()
            budget.count_text(len(text))
            found.append(text)

    if part is not None and archive.has(part):
        archive.parse(part, start, end, buffer.append)
    return found
