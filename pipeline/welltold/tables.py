"""Loads the project's own data tables.

A table is a CSV file in ``data/``. Lines that begin with ``#`` are comments; the file opens with
such lines that state its grammar, its sources and the date at which it was true. The first other
line names the columns. Every complaint about a row names the file and the line.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from importlib.resources import files

from .errors import DataFileError


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table, with the place it came from."""

    file: str
    line: int
    cells: dict[str, str]

    def wrong(self, problem: str) -> DataFileError:
        """Return the error that names this row."""
        return DataFileError(self.file, self.line, problem)

    def text(self, column: str) -> str:
        """Return a cell that must not be empty."""
        if not self.cells[column]:
            raise self.wrong(f"{column} is empty")
        return self.cells[column]

    def optional(self, column: str) -> str | None:
        """Return a cell, or None where it is empty."""
        return self.cells[column] or None

    def number(self, column: str) -> Decimal | None:
        """Return a cell as a number, or None where it is empty."""
        text = self.cells[column]
        if not text:
            return None
        try:
            return Decimal(text)
        except InvalidOperation:
            raise self.wrong(f"{column}: {text!r} is not a number") from None

    def choice(self, column: str, allowed: frozenset[str]) -> str:
        """Return a cell that must be one of ``allowed``."""
        text = self.cells[column]
        if text not in allowed:
            raise self.wrong(f"{column}: {text!r} is not one of {', '.join(sorted(allowed))}")
        return text


def read_table(name: str) -> Iterator[Row]:
    """Yield the rows of ``data/NAME``; DataFileError on a row of the wrong length."""
    text = (files("welltold") / "data" / name).read_text("utf-8")
    lines = text.splitlines()
    first = next(i for i, line in enumerate(lines) if line and not line.startswith("#"))
    columns = lines[first].split(",")
    for number, line in enumerate(lines[first + 1 :], start=first + 2):
        if not line or line.startswith("#"):
            continue
        cells = next(csv.reader([line], strict=True))
        if len(cells) != len(columns):
            raise DataFileError(name, number, f"{len(cells)} cells, {len(columns)} columns")
        yield Row(name, number, dict(zip(columns, cells, strict=True)))
