"""The CSV that ``welltold read --csv`` wrote, corrected by a person, perhaps saved as a workbook.

The doors see to what a spreadsheet program does to such a file: separators, encodings, formats.
"""

from __future__ import annotations

from collections.abc import Iterator

from welltold.corrections import Row, is_head, rebuild
from welltold.reading import Reading

from .geometry import Document, SheetCell


def claims(document: Document) -> bool:
    """Say whether this document is such a table: its first row names our columns."""
    return bool(document.sheets) and is_head(cell.text for cell in _first(document))


def extract(document: Document) -> Reading:
    """Return the reading that the table was made from, corrected; ReadingFileError if it cannot."""
    names = {cell.column: cell.text.strip() for cell in _first(document)}
    return rebuild(document.file, tuple(names.values()), _rows(document, names))


def _first(document: Document) -> tuple[SheetCell, ...]:
    rows = document.sheets[0].rows
    return rows[0] if rows else ()


def _rows(document: Document, names: dict[int, str]) -> Iterator[Row]:
    for cells in document.sheets[0].rows[1:]:
        found = {names[cell.column]: cell.text for cell in cells if cell.column in names}
        yield cells[0].row, found
