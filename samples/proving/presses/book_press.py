"""Writes leaves as workbooks: openpyxl, xlwt, odfpy; and prints one by the office suite."""

from __future__ import annotations

import io
import random
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import xlwt
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.properties import PageSetupProperties

from ...make import press
from ..blocks import Beside, Block, Break, Grid, Leaders, Leaf, Line, Pairs, Title

_NUMBER = re.compile(r"(0|[1-9]\d{0,2}(,\d{3})+|[1-9]\d*)(\.\d+)?")


@dataclass(slots=True)
class Row:
    """One row of a sheet."""

    cells: list[str]
    strong: bool = False
    results: set[int] = field(default_factory=set)
    """Columns that hold results."""


def _beside(block: Beside) -> Iterator[Row]:
    sides = [[*grid.heads, *grid.rows] for grid in (block.left, block.right)]
    for at in range(max(map(len, sides))):
        cells: list[str] = []
        for rows, grid in zip(sides, (block.left, block.right), strict=True):
            cells += [*(rows[at] if at < len(rows) else [""] * grid.width), ""]
        yield Row(cells, at < len(block.left.heads))


def _rows(block: Block) -> Iterator[Row]:
    match block:
        case Title():
            yield Row([block.text], strong=True)
        case Line():
            yield Row([block.text], block.strong)
        case Pairs():
            for at in range(0, len(block.pairs), block.columns):
                some = block.pairs[at : at + block.columns]
                yield Row([cell for pair in some for cell in pair])
            yield Row([])
        case Grid():
            yield from (Row(row, strong=True) for row in block.heads)
            for row in block.rows:
                if isinstance(row, str):
                    yield Row([row], strong=True)
                else:
                    yield Row(row, results=block.results)
            yield Row([])
        case Beside():
            yield from _beside(block)
        case Leaders():
            yield from (Row([*pair]) for pair in block.pairs)


def pages_of(leaf: Leaf) -> list[list[Row]]:
    """Return the rows of each sheet of a workbook."""
    pages: list[list[Row]] = [[]]
    for block in leaf.blocks:
        if isinstance(block, Break):
            pages.append([])
        else:
            pages[-1] += _rows(block)
    return pages


def _number(text: str) -> tuple[float, str] | None:
    """Return a plain number and the format that shows it as it was."""
    if not _NUMBER.fullmatch(text):
        return None
    decimals = len(text.partition(".")[2])
    whole = "#,##0" if "," in text else "0"
    return float(text.replace(",", "")), whole + ("." + "0" * decimals if decimals else "")


@dataclass(slots=True)
class _Look:
    """How one workbook keeps its cells."""

    numbers: bool
    """Numbers are numbers, not text."""
    digits: bool
    """Results hold more digits than their format shows."""
    fill: PatternFill
    blank: int
    """Empty columns at the left."""


def _fill(page: Any, at: int, row: Row, look: _Look, rng: random.Random) -> None:
    for column, text in enumerate(row.cells):
        cell = page.cell(at, column + 1 + look.blank, text or None)
        found = _number(text) if look.numbers and not row.strong else None
        if found:
            cell.value, cell.number_format = found
            if look.digits and column in row.results:
                cell.value += rng.uniform(-0.3, 0.3) * 10 ** -len(text.partition(".")[2])
        if row.strong and len(row.cells) > 1:
            cell.font, cell.fill = Font(bold=True), look.fill
            cell.alignment = Alignment(wrap_text=True)


def _book(leaf: Leaf, rng: random.Random) -> Workbook:
    book = Workbook()
    fill = PatternFill("solid", fgColor=rng.choice(("D9E2EC", "E2EFDA", "FFF2CC")))
    look = _Look(rng.random() < 0.7, rng.random() < 0.4, fill, rng.choice((0, 0, 1)))
    pages = pages_of(leaf)
    for number, rows in enumerate(pages, 1):
        page: Any = book.active if number == 1 else book.create_sheet()
        page.title = "Results" if len(pages) == 1 else f"Sheet{number}"
        for at, row in enumerate(rows, 1):
            _fill(page, at, row, look, rng)
        page.column_dimensions["A"].width = 30
    return book


def _saved(book: Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return press.settled_zip(out.getvalue())


def make(leaf: Leaf, rng: random.Random) -> bytes:
    """Return a workbook of today."""
    return _saved(_book(leaf, rng))


def make_printed(leaf: Leaf, rng: random.Random) -> bytes:
    """Return a workbook as the office suite prints it."""
    book = _book(leaf, rng)
    for page in book:
        page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
        page.page_setup.fitToHeight = 0
        page.page_setup.orientation = "landscape" if leaf.wide else "portrait"
        for column in "BCDEFGHIJKLM":
            page.column_dimensions[column].width = 17
    made = press.office_pdfs({"sheet.xlsx": _saved(book)}, "calc_pdf_Export")
    return made["sheet.xlsx"]


def make_old(leaf: Leaf, rng: random.Random) -> bytes:
    """Return a workbook of the old kind."""
    book, numbers = xlwt.Workbook(), rng.random() < 0.7
    for number, rows in enumerate(pages_of(leaf), 1):
        page = book.add_sheet(f"Sheet{number}")
        for at, row in enumerate(rows):
            for column, text in enumerate(row.cells):
                found = _number(text) if numbers and not row.strong else None
                if found:
                    page.write(at, column, found[0], xlwt.easyxf(num_format_str=found[1]))
                elif text:
                    page.write(at, column, text)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def make_open(leaf: Leaf, rng: random.Random) -> bytes:
    """Return a workbook of the open office format."""
    book, numbers = OpenDocumentSpreadsheet(), rng.random() < 0.7
    for number, rows in enumerate(pages_of(leaf), 1):
        table = Table(name=f"Sheet{number}")
        for row in rows:
            line = TableRow()
            for text in row.cells or [""]:
                found = _number(text) if numbers and not row.strong else None
                kind = {"valuetype": "float", "value": str(found[0])} if found else {}
                cell = TableCell(**(kind or {"valuetype": "string"}))
                cell.addElement(P(text=text))
                line.addElement(cell)
            table.addElement(line)
        book.spreadsheet.addElement(table)
    out = io.BytesIO()
    book.write(out)
    return press.settled_zip(out.getvalue())
