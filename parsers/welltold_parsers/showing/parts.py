"""The parts of a document in its own order, each with its marks and its lines of the list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from welltold.reading import Where
from welltold_parsers.geometry import Document, Page, Sheet

from .grid import Grid, grid_of
from .marks import Entry, Mark, Shown, word
from .plain import Piece, lines_of

MOST_PICTURES = 120
"""Pictures in one HTML file; pages with something read come first."""


@dataclass(frozen=True, slots=True)
class Part:
    """One page or one sheet."""

    heading: str
    marks: tuple[Mark, ...] = ()
    entries: tuple[Entry, ...] = ()
    number: int = 0
    width: float = 0.0
    height: float = 0.0
    picture: str = ""
    """The page as a ``data:`` address; "" where there is none."""
    grid: Grid | None = None
    lines: tuple[tuple[Piece, ...], ...] = ()


def parts_of(
    document: Document, path: Path, shown: Shown, stem: Path
) -> tuple[tuple[Part, ...], str]:
    """Return the parts, and the numbers of the pages that have no picture, as text.

    Pictures with frames are written beside ``stem``.
    """
    left = ""
    if document.sheets:
        parts = [_of_sheet(document.sheets, sheet, shown) for sheet in document.sheets]
    else:
        parts = [_of_page(page, shown) for page in document.pages]
        if not any(page.plain_text for page in document.pages):
            parts, left = _with_pictures(document.pages, parts, path, stem)
    kept = {id(entry) for part in parts for entry in part.entries}
    rest = tuple(entry for entry in shown.entries if id(entry) not in kept)
    scans = {page.number: page for page in document.pages if page.scan is not None}
    parts = [_with_crops(part, scans.get(part.number)) for part in parts]
    if rest:
        parts.append(Part(word("part_open"), entries=rest))
    return tuple(parts), left


def _of_page(page: Page, shown: Shown) -> Part:
    marks = tuple(mark for mark in shown.marks if mark.where.page == page.number)
    entries = tuple(e for e in shown.entries if e.where and e.where.page == page.number)
    lines = lines_of(page, marks) if page.plain_text else ()
    heading = word("part_page", page=page.number)
    return Part(heading, marks, entries, page.number, page.width, page.height, lines=lines)


def _with_crops(part: Part, page: Page | None) -> Part:
    """Return a part whose doubtful entries show their place on the scan enlarged."""
    if page is None:
        return part
    from .pictures import crop_of  # Pillow loads slowly, and tables need none

    entries = (
        replace(entry, crop=crop_of(page, entry.where.box))
        if entry.numbers and not entry.group and entry.where and entry.where.box
        else entry
        for entry in part.entries
    )
    return replace(part, entries=tuple(entries))


def _of_sheet(sheets: Sequence[Sheet], sheet: Sheet, shown: Shown) -> Part:
    def here(where: Where | None) -> bool:
        return where is not None and (where.sheet == sheet.name or len(sheets) == 1)

    marks = tuple(mark for mark in shown.marks if here(mark.where))
    entries = tuple(entry for entry in shown.entries if here(entry.where))
    heading = word("part_sheet", sheet=sheet.name) if sheet.name else word("part_table")
    return Part(heading, marks, entries, grid=grid_of(sheet, marks))


def _with_pictures(
    pages: Sequence[Page], parts: Sequence[Part], path: Path, stem: Path
) -> tuple[list[Part], str]:
    from .pictures import draw_pages  # Pillow loads slowly, and tables need none

    ranked = sorted(pages, key=lambda page: not parts[pages.index(page)].marks)
    chosen = sorted(ranked[:MOST_PICTURES], key=lambda page: page.number)
    marks = [mark for part in parts for mark in part.marks]
    pictures = {one.number: one for one in draw_pages(path, chosen, marks, stem)}
    left = ", ".join(str(page.number) for page in pages if page.number not in pictures)
    told = (
        replace(part, picture=pictures[part.number].data) if part.number in pictures else part
        for part in parts
    )
    return list(told), left
