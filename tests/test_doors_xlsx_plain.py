"""Rows in the plain form of long exports give the cells that the XML parser gives."""

from __future__ import annotations

import io
import zipfile
from datetime import date
from pathlib import Path

import pytest
import xlsxwriter

from welltold.errors import DamagedFileError, TooLargeError
from welltold_parsers.doors import open_document, xlsx
from welltold_parsers.doors.cells import Budget, Grid
from welltold_parsers.doors.xlsx_plain import fill, parted
from welltold_parsers.geometry import Document, SheetCell
from welltold_parsers.limits import Limits

SHEET = "xl/worksheets/sheet1.xml"


def _book(rows: int = 4) -> bytes:
    """A workbook with a string, two formats, a date, an empty cell and a hidden row."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out)
    two, day = (book.add_format({"num_format": code}) for code in ("0.00", "m/d/yyyy"))
    sheet = book.add_worksheet("Results")
    sheet.write_row(0, 0, ["Analyte", "Result", "Date", " padded "])
    for row in range(1, rows):
        sheet.write(row, 0, f"Test {row}")
        sheet.write(row, 1, row / 3, two)
        sheet.write_datetime(row, 2, date(2026, 3, row), day)
        sheet.write_blank(row, 3, None, two)
    sheet.set_row(2, None, None, {"hidden": True})
    book.close()
    return out.getvalue()


def _changed(book: bytes, old: str, new: str) -> bytes:
    """The workbook with one text of its sheet replaced."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as source, zipfile.ZipFile(out, "w") as copy:
        for name in source.namelist():
            content = source.read(name)
            if name == SHEET:
                assert old.encode() in content
                content = content.replace(old.encode(), new.encode(), 1)
            copy.writestr(name, content)
    return out.getvalue()


def _open(content: bytes, limits: Limits = Limits()) -> Document:  # noqa: B008 - frozen
    return open_document(Path("export.xlsx"), limits, content)


def _sheet(book: bytes) -> bytes:
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        return archive.read(SHEET)


def _grid() -> Grid:
    return Grid("Results", Budget("export.xlsx", Limits()))


def test_the_rows_of_a_usual_writer_are_of_the_plain_form() -> None:
    parts = parted(_sheet(_book()))
    assert parts is not None
    assert b"<c " not in parts[0]
    grid = _grid()
    strings = ["Analyte", "Result", "Date", " padded ", "Test 1", "Test 2", "Test 3"]
    assert fill(grid, parts[1], strings, ["General", "0.00", "m/d/yyyy"])
    assert grid.cells[1][3] == SheetCell(1, 4, "padded")
    assert grid.cells[2] == [
        SheetCell(2, 1, "Test 1"),
        SheetCell(2, 2, "0.33", "0.3333333333333333", is_number=True),
        SheetCell(2, 3, "2026-03-01", "46082", is_number=True, is_date=True),
    ]
    assert grid.hidden_rows == {3}


def test_a_plain_sheet_is_read_as_the_parser_reads_it(monkeypatch: pytest.MonkeyPatch) -> None:
    plainly = _open(_book(30))
    monkeypatch.setattr(xlsx, "parted", lambda _: None)
    assert _open(_book(30)) == plainly


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('<c r="A2" t="s"><v>4</v></c>', '<c r="A2"><f>1+1</f><v>2</v></c>'),
        ('<c r="A2" t="s"><v>4</v></c>', '<c r="A2" t="inlineStr"><is><t>Iron</t></is></c>'),
        ('<c r="A2" t="s">', '<!-- a note --><c r="A2" t="s">'),
        ('<c r="A2" t="s"><v>4</v></c>', '<c r="A2" t="s"><v>4000</v></c>'),
        ('<c r="A2" t="s">', '<c r="E2" t="s">'),
        ('<c r="A2" t="s">', '<c r="A9" t="s">'),
        ('<c r="A2" t="s">', '<c t="s">'),
        ('<row r="3"', '<row r="2"'),
    ],
)
def test_what_is_not_plain_all_through_is_left_to_the_parser(
    old: str, new: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = _changed(_book(), old, new)
    parts = parted(_sheet(book))
    assert parts is not None
    assert not fill(_grid(), parts[1], ["x"] * 7, ["General", "0.00", "m/d/yyyy"])
    whole = _open(book)
    monkeypatch.setattr(xlsx, "parted", lambda _: None)
    assert _open(book) == whole


def test_a_row_that_does_not_end_is_damage() -> None:
    with pytest.raises(DamagedFileError):
        _open(_changed(_book(), "</row>", ""))


@pytest.mark.parametrize(
    "limits",
    [Limits(cells=12), Limits(characters=50), Limits(columns=2), Limits(cell_characters=5)],
)
def test_the_limits_hold_for_plain_rows(limits: Limits, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(TooLargeError) as plainly:
        _open(_book(), limits)
    monkeypatch.setattr(xlsx, "parted", lambda _: None)
    with pytest.raises(TooLargeError) as parsed:
        _open(_book(), limits)
    assert str(plainly.value) == str(parsed.value)


def test_a_sheet_that_is_read_again_by_the_parser_is_counted_once() -> None:
    book = _changed(_book(), '<c r="A4" t="s"><v>6</v></c>', '<c r="A4"><f>1+1</f><v>2</v></c>')
    cells = 4 + 3 * 3
    assert _open(book, Limits(cells=cells)).sheets
    with pytest.raises(TooLargeError):
        _open(book, Limits(cells=cells - 1))
