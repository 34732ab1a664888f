"""Separated text (CSV, TSV, semicolons, bars) as one sheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from welltold.errors import DamagedFileError
from welltold.messages import Message, say
from welltold_parsers.doors.cells import Budget
from welltold_parsers.doors.separator import declared_separator, find_separator
from welltold_parsers.doors.source import Opened, Source
from welltold_parsers.geometry import Sheet, SheetCell
from welltold_parsers.limits import Limits

_QUOTE_LIMIT = 1_000_000
"""Characters in one cell beyond which a quotation mark was lost."""


def read(source: Source, limits: Limits) -> Opened:
    """Return the one sheet of a separated text.

    Rows are counted as a spreadsheet program shows them: a record with line breaks inside quotes
    is one row, an empty line is a row, a first line ``sep=;`` is none.
    """
    decoded = source.decoded
    text = decoded.text.rstrip("\x1a")
    separator = find_separator(text)
    if separator is None:
        raise DamagedFileError(source.name, "separated text", "no separator found")
    declared = declared_separator(text)
    if declared:
        text = text[declared[1] :]
    warnings: list[Message] = []
    if decoded.guessed:
        warnings.append(say("door.encoding_guessed", encoding=decoded.encoding))
    rows: list[tuple[SheetCell, ...]] = []
    budget = Budget(source.name, limits)
    for number, record in enumerate(_records(text, separator, warnings, source.name), start=1):
        cells = tuple(
            SheetCell(number, column, stripped)
            for column, text in enumerate(record, start=1)
            if (stripped := text.strip(" \t\r\n\xa0\0"))
        )
        for cell in cells:
            budget.take(cell)
        if cells:
            rows.append(cells)
    return Opened(sheets=(Sheet("", tuple(rows)),), warnings=tuple(warnings))


def _records(text: str, separator: str, warnings: list[Message], path: str) -> Iterator[list[str]]:
    """Return the records; quotes are taken as text where they do not close."""
    csv.field_size_limit(_QUOTE_LIMIT)
    lines = io.StringIO(text, newline="")
    reader = csv.reader(lines, delimiter=separator)
    if not _quotes_close(text, separator):
        warnings.append(say("door.open_quote"))
        reader = csv.reader(lines, delimiter=separator, quoting=csv.QUOTE_NONE)
    try:
        yield from reader
    except csv.Error as error:
        raise DamagedFileError(path, "separated text", str(error)) from error


def _quotes_close(text: str, separator: str) -> bool:
    """Whether every quotation mark that opens a cell is closed before the end of the text."""
    if text.count('"') % 2 == 0 and f'{separator}"' not in text and not text.startswith('"'):
        return True
    try:
        for _ in csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True):
            pass
    except csv.Error as error:
        return "unexpected end" not in str(error) and "field larger" not in str(error)
    return True
