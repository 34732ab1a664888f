"""Counts what became of each number of a file: the words of a page, the cells of a sheet.

A number is one printed word with a digit, or one cell of a sheet with a digit. What reading took it
for counts first, then the column and the part of the sheet that it stands in, then its own look.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from welltold.reading import Numbers

from ..geometry import Document, Page, Sheet, Word
from .accounts import Accounts
from .cells import Cell, Line
from .column import Column
from .roles import Plan
from .tables import Table
from .told import Role, role_of_column, role_of_region
from .unseen import shown

_DIGIT = re.compile(r"\d")
_NUMBER = re.compile(r"[<>~=≤≥±+(-]*(?:\d[\d,]*\.?\d*|\.\d+)(?:[eE][-+]?\d+)?[*)%,;.]*")
"""A plain number; what else has a digit is a date, the name of a sample, a method, a unit."""
_DATED = re.compile(
    r"(?i)\d[/:-]\d|\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.? \d"
    r"|\d\.? (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)"
    r"|#|\b(?:no|nr|id|page|sheet|phone|tel|fax|p\.?o\.? box|suite|lic|cert)\b"
)
"""Texts whose numbers are days, times, pages, telephones, addresses and the like."""
_SHORT = 12
"""A text of more words is a sentence, which may tell a day among other things."""

_LIMIT = re.compile(
    r"(?i)\b(?:limit|level|mcl|smcl|mclg|standard|guideline|advisory|secondary|range|max\w*|goal"
    r"|less than|more than|at least|at most)\b"
)


class _Rows(NamedTuple):
    """Rows of a sheet, from one to another, and what the numbers there are."""

    first: int
    last: int
    columns: Mapping[int, Role]
    all: Role | None = None


def count_numbers(document: Document, parts: Sequence[Sequence[Line]], told: Accounts) -> Numbers:
    """Return how many numbers a file shows, and what became of them.

    ``parts``: the lines of its pages or sheets as they were found.
    """
    counts: Counter[Role] = Counter()
    _tell_the_rest(told)
    for page, lines in zip(document.pages, parts, strict=False):
        counts.update(_on_page(page, lines, told))
    tables = _of_sheets(told)
    for sheet in document.sheets:
        if not sheet.hidden:
            counts.update(_on_sheet(shown(sheet), tables.get(sheet.name, ()), told))
    return Numbers(shown=counts.total(), **{str(role): n for role, n in counts.items()})


def _tell_the_rest(told: Accounts) -> None:
    """Give what reading passed over on pages the role of its place: a key, a column, a part."""
    _tell(told.keys, "metadata", told)
    for piece, region in told.pieces:
        if piece.lines and piece.lines[0].sheet is None:
            for line in piece.heads if isinstance(piece, Table) else ():
                _tell(line.cells, "headings", told)
            for line, part in zip(piece.lines, told.regions(piece.lines, region), strict=True):
                if part is not None:
                    _tell(line.cells, role_of_region(part), told)
    for table, plan in told.plans:
        if table.lines and table.lines[0].sheet is None:
            _tell_columns(table, _roles(plan), told)


def _tell_columns(table: Table, roles: Sequence[Role | None], told: Accounts) -> None:
    for line in table.lines:
        for cell, role in zip(table.cells(line), roles, strict=True):
            if cell is not None and role is not None:
                told.told.tell(role, cell)


def _tell(cells: Iterable[Cell], role: Role, told: Accounts) -> None:
    for cell in cells:
        told.told.tell(role, cell)


def _roles(plan: Plan) -> list[Role | None]:
    return [role_of_column(role) for role in plan.roles]


def _of_sheets(told: Accounts) -> dict[str, list[_Rows]]:
    """Return the tables of each sheet, and the parts of it without results, by rows."""
    found: dict[str, list[_Rows]] = {}
    for piece, region in told.pieces:
        if not piece.lines or (name := piece.lines[0].sheet) is None:
            continue
        rows = found.setdefault(name, [])
        parts = zip(piece.lines, told.regions(piece.lines, region), strict=True)
        closed = [(line.index, part) for line, part in parts if part is not None]
        if closed:
            (first, part), (last, _) = closed[0], closed[-1]
            rows.append(_Rows(first, last, {}, role_of_region(part)))
        if isinstance(piece, Table):
            rows += [_Rows(line.index, line.index, {}, "headings") for line in piece.heads]
            open_: dict[int, Role] = {
                int(c.left): "unread" for c in piece.columns if _is_unread(c, told)
            }
            rows.append(_Rows(piece.lines[0].index, piece.lines[-1].index, open_))
    for table, plan in told.plans:
        if table.lines and (name := table.lines[0].sheet) is not None:
            pairs = zip(table.columns, _roles(plan), strict=True)
            columns = {int(c.left): role for c, role in pairs if role is not None}
            last = table.lines[-1].index
            found.setdefault(name, []).append(_Rows(table.lines[0].index, last, columns))
    return found


def _is_unread(column: Column, told: Accounts) -> bool:
    """Whether a column was told as one of numbers that nothing explains."""
    return any(told.told.of_cell(cell) == "unread" for cell in column.head_cells)


def _on_sheet(sheet: Sheet, tables: Sequence[_Rows], told: Accounts) -> Iterator[Role]:
    """Yield what each cell with a digit is."""
    role_of = told.told.role
    here: list[_Rows] = []
    until = 0
    for row in sheet.rows:
        number = row[0].row if row else 0
        if number >= until:
            here = [rows for rows in tables if rows.first <= number <= rows.last]
            ends = [r.last + 1 for r in here] + [r.first for r in tables if r.first > number]
            until = min(ends, default=number + 1)
        columns: dict[int, Role] = {}
        for rows in here:
            columns = {**rows.columns, **columns}
        all_ = next((rows.all for rows in here if rows.all is not None), None)
        for cell in row:
            if _DIGIT.search(cell.text):
                yield (
                    role_of(cell)
                    or columns.get(cell.column)
                    or all_
                    or _by_look(cell.text, cell.text)
                )


def _on_page(page: Page, lines: Sequence[Line], told: Accounts) -> Iterator[Role]:
    """Yield what each word with a digit is, as the page has its words.

    Finding the lines may have cut a word, or joined letters to one: then its place tells.
    """
    role_of = told.told.role
    left: list[Word] = []
    for word in page.words:
        if _DIGIT.search(word.text):
            if (role := role_of(word)) is not None:
                yield role
            else:
                left.append(word)
    if left:
        texts = {
            id(word): cell.text for line in lines for cell in line.cells for word in cell.words
        }
        tops = [line.top for line in lines]
        for word in left:
            text = texts.get(id(word))
            if text is not None:
                yield _by_look(word.text, text)
            else:
                yield _by_place(word, lines, tops, told)


def _by_place(word: Word, lines: Sequence[Line], tops: Sequence[float], told: Accounts) -> Role:
    """Return what the word is that stands where this one was drawn."""
    middle, height = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    for line in reversed(lines[: bisect_right(tops, height)][-2:]):
        for cell in line.cells:
            for other in cell.words if cell.left <= middle <= cell.right else ():
                if other.left <= middle <= other.right and _DIGIT.search(other.text):
                    return told.told.role(other) or _by_look(other.text, cell.text)
    return _by_look(word.text, word.text)


def _by_look(text: str, around: str) -> Role:
    """Return what a number is that nothing was made of, by itself and by the text around it."""
    if not _NUMBER.fullmatch(text):
        return "metadata"
    if len(around.split()) > _SHORT:
        return "text"
    if _LIMIT.search(around):
        return "limits"
    return "metadata" if _DATED.search(around) else "text"
