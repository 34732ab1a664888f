"""Reads a shelf file: the good rows are used, each bad cell is told by its line and column."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import fields
from decimal import Decimal, InvalidOperation
from difflib import get_close_matches
from importlib.resources import files
from pathlib import Path
from typing import Any

from ..errors import ShelfFileError
from ..messages import Message, say
from ..own_text import near, own_text, told
from ..site_keys import MEDIA
from ..stage_files import stage_names
from .shelf import Item, Shelf

COLUMNS = tuple(field.name for field in fields(Item) if field.name != "line")
_TEXTS = ("name", "stage", "medium")
_MOST: Mapping[str, Decimal] = {"min_ph": Decimal(14), "tank_in": Decimal(60)}
_LARGEST = Decimal(1_000_000)


class _BadCellError(ValueError):
    """A cell that cannot be used. Fields: column, code of the catalogue, its arguments."""

    def __init__(self, column: str, code: str, **args: str) -> None:
        super().__init__(column)
        self.column, self.code, self.args_told = column, code, args


def shelf_template() -> str:
    """Return the commented shelf file; its two invented rows are remarks."""
    return (files("welltold") / "data" / "shelf_template.csv").read_text("utf-8")


def load_shelf(path: str | Path) -> Shelf:
    """Return a dealer's shelf; FileMissingError, ShelfFileError where no row can be looked at."""
    name = str(path)
    text = own_text(path, ShelfFileError(name, told("it_is_not_text"), ", ".join(COLUMNS)))
    numbered = _lines(text)
    if not numbered:
        raise ShelfFileError(name, told("shelf_no_head"), ", ".join(COLUMNS))
    heads = _heads(name, numbered[0][1])
    if len(numbered) == 1:
        raise ShelfFileError(name, told("shelf_no_row"), ", ".join(COLUMNS))
    items: list[Item] = []
    problems: list[Message] = []
    for line, cells in numbered[1:]:
        try:
            items.append(_item(line, heads, cells, {item.name for item in items}))
        except _BadCellError as bad:
            fields_told = {"line": line, "column": bad.column, **bad.args_told}
            problems.append(say(f"sizing.shelf_{bad.code}", **fields_told))
    return Shelf(tuple(items), tuple(problems))


def _lines(text: str) -> list[tuple[int, list[str]]]:
    """Return the rows that are neither empty nor remarks, with the line on which each ends."""
    reader = csv.reader(_without_remarks(text), delimiter=_separator(text))
    rows: list[tuple[int, list[str]]] = []
    # A row that is no CSV ends the file; what was read before it is used.
    with suppress(csv.Error):
        rows.extend(
            (reader.line_num, [cell.strip() for cell in cells]) for cells in reader if any(cells)
        )
    return rows


def _without_remarks(text: str) -> Iterator[str]:
    """Yield the lines, remarks emptied, so that the numbers of the lines stay."""
    lines = io.StringIO(text, newline=None)
    return ("\n" if line.lstrip().startswith("#") else line for line in lines)


def _separator(text: str) -> str:
    """Return what parts the cells: a comma, or the semicolon of some spreadsheets."""
    head = next((line for line in _without_remarks(text) if line.strip()), "")
    return max(",;\t", key=head.count)


def _heads(path: str, cells: list[str]) -> list[str]:
    heads = [cell.lower() for cell in cells]
    for head in heads:
        if head and head not in COLUMNS:
            problem = told("shelf_column", head=head, near=near(head, COLUMNS))
            raise ShelfFileError(path, problem, ", ".join(COLUMNS))
    missing = [name for name in ("name", "stage") if name not in heads]
    twice = next((head for head in heads if head and heads.count(head) > 1), None)
    if missing or twice:
        name = "shelf_missing" if missing else "shelf_twice"
        problem = told(name, head=missing[0] if missing else twice)
        raise ShelfFileError(path, problem, ", ".join(COLUMNS))
    return heads


def _item(line: int, heads: list[str], cells: list[str], names: set[str]) -> Item:
    if any(cells[len(heads) :]):
        raise _BadCellError(str(len(heads) + 1), "too_long", columns=str(len(heads)))
    values: dict[str, Any] = {}
    for head, cell in zip(heads, cells, strict=False):
        if cell:
            values[head] = cell if head in _TEXTS else _number(head, cell)
    for column, known in (("stage", stage_names()), ("medium", MEDIA)):
        given = values.get(column)
        if given is not None and given not in known:
            close = get_close_matches(given, known, n=1)
            code = "unknown_near" if close else "unknown"
            raise _BadCellError(column, code, text=given, near="".join(close))
    for column in ("name", "stage"):
        if column not in values:
            raise _BadCellError(column, "missing")
    if values["name"] in names:
        raise _BadCellError("name", "twice", text=values["name"])
    return Item(line=line, **values)


def _number(column: str, text: str) -> Decimal:
    try:
        value = Decimal(text)
    except InvalidOperation:
        raise _BadCellError(column, "not_number", text=text) from None
    if not value.is_finite() or not 0 < value <= _MOST.get(column, _LARGEST):
        raise _BadCellError(column, "out_of_range", text=text)
    return value
