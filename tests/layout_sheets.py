"""Documents written by hand for the tests of the layout engine: placed words, or rows of cells."""

from __future__ import annotations

import csv
import io
from decimal import Decimal

from welltold.reading import Reading, Result
from welltold_parsers.geometry import Document, Page, Sheet, SheetCell, Word
from welltold_parsers.layout import read_document

WIDE = 5.0
"""Points that one letter is wide on the made pages."""
HIGH = 11.0


def words(text: str, left: float, top: float) -> list[Word]:
    """Set a text at a place, one word for each run of letters, blanks 2.8 points wide."""
    found = []
    for piece in text.split():
        right = left + WIDE * len(piece)
        found.append(Word(piece, left, top, right, top + HIGH))
        left = right + 2.8
    return found


def page(*lines: tuple[float, dict[float, str]], number: int = 1) -> Page:
    """Make a page of (top, {left: text}) lines."""
    every = [
        w for top, cells in lines for left, text in cells.items() for w in words(text, left, top)
    ]
    return Page(number, 612.0, 792.0, tuple(every))


def table(
    lefts: tuple[float, ...], rows: str, top: float = 100.0, pitch: float = 15.0
) -> list[tuple[float, dict[float, str]]]:
    """Turn lines of cells parted by ``|`` into page lines; empty cells stay empty."""
    made = []
    for number, line in enumerate(rows.strip("\n").split("\n")):
        cells = {
            left: t.strip() for left, t in zip(lefts, line.split("|"), strict=False) if t.strip()
        }
        made.append((top + number * pitch, cells))
    return made


def pdf(*pages: Page) -> Document:
    """Make a paged document."""
    return Document("made.pdf", "0" * 64, "pdf", pages)


def from_csv(text: str) -> Document:
    """Make a document of one sheet, as a separated file gives it."""
    rows = []
    for number, record in enumerate(csv.reader(io.StringIO(text.strip("\n"))), start=1):
        cells = tuple(SheetCell(number, at, t) for at, t in enumerate(record, start=1) if t.strip())
        if cells:
            rows.append(cells)
    return Document("made.csv", "0" * 64, "csv", (), (Sheet("", tuple(rows)),))


def read_page(*lines: tuple[float, dict[float, str]]) -> Reading:
    """Read one page made of lines."""
    return read_document(pdf(page(*lines)))


def read_csv(text: str) -> Reading:
    """Read a separated text."""
    return read_document(from_csv(text))


def brief(result: Result) -> tuple[str | None, str, str | None, str | None]:
    """Return analyte, sign and number, unit and basis of a result."""
    number = "" if result.value is None else str(result.value)
    if result.present is not None:
        number = "present" if result.present else "absent"
    sign = "" if result.operator == "=" else result.operator
    return result.analyte, sign + number, result.unit, result.basis


def number(text: str) -> Decimal:
    """Return a Decimal."""
    return Decimal(text)
