"""Small files that are built to unfold without end are refused at once, with what was found."""

from __future__ import annotations

import signal
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from welltold.errors import TooLargeError, WelltoldError
from welltold_parsers.doors import open_document
from welltold_parsers.limits import Limits

ODS_MIME = "application/vnd.oasis.opendocument.spreadsheet"
OASIS = "urn:oasis:names:tc:opendocument:xmlns"
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
XML2003 = "urn:schemas-microsoft-com:office:spreadsheet"
SECONDS = 10
"""Far more than refusing takes, far less than unfolding would."""


@pytest.fixture(autouse=True)
def short() -> Iterator[None]:
    """Stop a test that unfolds what it should refuse."""

    def stop(*_: object) -> None:
        raise AssertionError(f"not refused within {SECONDS} seconds")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(SECONDS)
    yield
    signal.alarm(0)
    signal.signal(signal.SIGALRM, before)


def ods(folder: Path, table: str) -> Path:
    path = folder / "a.ods"
    text = (
        f'<o:document-content xmlns:o="{OASIS}:office:1.0" xmlns:t="{OASIS}:table:1.0" '
        f'xmlns:x="{OASIS}:text:1.0"><o:body><o:spreadsheet><t:table t:name="A">{table}'
        "</t:table></o:spreadsheet></o:body></o:document-content>"
    )
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr(zipfile.ZipInfo("mimetype"), ODS_MIME)
        out.writestr("content.xml", text)
    return path


def xlsx(folder: Path, sheet: str, strings: tuple[str, ...] = ()) -> Path:
    path = folder / "a.xlsx"
    items = "".join(f"<si><t>{text}</t></si>" for text in strings)
    rels = "".join(
        f'<Relationship Id="{at}" Type="x/{kind}" Target="{part}"/>'
        for at, kind, part in (
            ("a", "worksheet", "worksheets/sheet1.xml"),
            ("b", "sharedStrings", "sharedStrings.xml"),
        )
    )
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as out:
        out.writestr(
            "xl/workbook.xml",
            '<workbook xmlns:r="r"><sheets><sheet name="A" r:id="a"/></sheets></workbook>',
        )
        out.writestr("xl/_rels/workbook.xml.rels", f"<Relationships>{rels}</Relationships>")
        out.writestr("xl/worksheets/sheet1.xml", f'<worksheet xmlns="{MAIN}">{sheet}</worksheet>')
        out.writestr("xl/sharedStrings.xml", f'<sst xmlns="{MAIN}">{items}</sst>')
    return path


def page(folder: Path, body: str) -> Path:
    path = folder / "a.html"
    path.write_text(f"<html><body>{body}</body></html>", "utf-8")
    return path


def of_2003(folder: Path, table: str) -> Path:
    path = folder / "a.xml"
    path.write_text(
        '<?xml version="1.0"?><?mso-application progid="Excel.Sheet"?>'
        f'<Workbook xmlns="{XML2003}" xmlns:ss="{XML2003}"><Worksheet ss:Name="A"><Table>{table}'
        "</Table></Worksheet></Workbook>",
        "utf-8",
    )
    return path


def refused(path: Path, what: str, limits: Limits | None = None) -> None:
    with pytest.raises(TooLargeError) as caught:
        open_document(path, limits or Limits())
    assert caught.value.args[1] == what


# -- ODS ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "cell",
    [
        '<t:table-cell o:value-type="string" t:number-columns-repeated="16384"><x:p></x:p>'
        "</t:table-cell>",
        '<t:table-cell o:value-type="string"/>',
        '<t:table-cell o:value-type="float" o:value=""><x:p> </x:p></t:table-cell>',
    ],
)
def test_repeated_cells_that_show_nothing_cost_nothing(tmp_path: Path, cell: str) -> None:
    row = '<t:table-row t:number-rows-repeated="{}" t:visibility="collapse">{}</t:table-row>'
    told = '<t:table-row><t:table-cell o:value-type="string"><x:p>Lead</x:p></t:table-cell>'
    path = ods(tmp_path, row.format(2_000_000_000, cell) + told + "</t:table-row>")
    (sheet,) = open_document(path).sheets
    assert [[cell.text for cell in row] for row in sheet.rows] == [["Lead"]]
    assert not sheet.hidden_rows


@pytest.mark.parametrize(
    "cell",
    [
        '<t:table-cell o:value-type="string"><x:p>Lead</x:p></t:table-cell>',
        '<t:table-cell o:value-type="float" o:value="5"><x:p>5</x:p></t:table-cell>',
        '<t:table-cell t:formula="of:=1+1"/>',
    ],
)
def test_a_repeated_row_that_shows_something_is_counted(tmp_path: Path, cell: str) -> None:
    row = f'<t:table-row t:number-rows-repeated="2000000000">{cell}</t:table-row>'
    refused(ods(tmp_path, row), "cells")


def test_hidden_columns_repeated_again_and_again_are_counted(tmp_path: Path) -> None:
    column = '<t:table-column t:visibility="collapse" t:number-columns-repeated="16384"/>'
    told = '<t:table-row><t:table-cell o:value-type="string"><x:p>Lead</x:p></t:table-cell>'
    path = ods(tmp_path, column * 60_000 + told + "</t:table-row>")
    (sheet,) = open_document(path).sheets
    assert sheet.hidden_columns == {1}


def test_the_text_of_one_ods_cell_is_bounded(tmp_path: Path) -> None:
    text = "<x:p>" + "x" * 200_000 + "</x:p>"
    cell = f'<t:table-cell o:value-type="string">{text}</t:table-cell>'
    refused(ods(tmp_path, f"<t:table-row>{cell}</t:table-row>"), "characters in a cell")


# -- XLSX -----------------------------------------------------------------------------------------


def shared(count: int, number: int = 0) -> str:
    cells = "".join(f'<row><c t="s"><v>{number}</v></c></row>' for _ in range(count))
    return f"<sheetData>{cells}</sheetData>"


def test_one_huge_shared_string_is_refused(tmp_path: Path) -> None:
    path = xlsx(tmp_path, shared(2000), ("x y " * 100_000,))
    refused(path, "characters in a cell")


def test_a_shared_string_counts_in_every_cell_that_shows_it(tmp_path: Path) -> None:
    path = xlsx(tmp_path, shared(2000), ("x" * 30_000,))
    refused(path, "characters in long cells")
    refused(path, "characters", Limits(long_characters=60_000_000))
    assert open_document(path, Limits(characters=60_000_000, long_characters=60_000_000)).sheets


def test_a_few_long_remarks_are_no_bomb(tmp_path: Path) -> None:
    assert open_document(xlsx(tmp_path, shared(60), ("Lead 5 mg/L " * 2700,))).sheets


def test_strings_that_no_cell_shows_are_counted(tmp_path: Path) -> None:
    path = xlsx(tmp_path, shared(1), ("Lead", *["x" * 30_000] * 20))
    refused(path, "characters", Limits(characters=500_000))


def test_hidden_columns_named_again_and_again_are_counted(tmp_path: Path) -> None:
    columns = '<cols><col min="1" max="16384" hidden="1"/></cols>' * 60_000
    refused(xlsx(tmp_path, columns + shared(1), ("Lead",)), "repeats")


# -- HTML -----------------------------------------------------------------------------------------


def test_spans_far_beyond_any_table_are_refused(tmp_path: Path) -> None:
    cell = "<td colspan=1000 rowspan=60000>Lead</td>"
    refused(page(tmp_path, f"<table><tr>{cell * 20_000}</tr></table>"), "columns")


def test_rows_that_lie_below_spans_are_counted(tmp_path: Path) -> None:
    head = "<tr>" + "<td colspan=1000 rowspan=60000>Lead</td>" * 16 + "</tr>"
    rows = "<tr><td>Iron</td></tr>" * 5000
    refused(page(tmp_path, f"<table>{head}{rows}</table>"), "repeats")


def test_an_ordinary_spanned_table_is_read(tmp_path: Path) -> None:
    rows = "<tr><td>Iron</td><td>0.3</td></tr>" * 200
    body = f"<table><tr><td colspan=3>Report</td></tr><tr><td rowspan=900>A</td></tr>{rows}</table>"
    (sheet,) = open_document(page(tmp_path, body)).sheets
    assert sum(len(row) for row in sheet.rows) == 402


# -- the rest -------------------------------------------------------------------------------------


def test_a_line_of_a_million_columns_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("Lead,5,ug/L\n" + "Lead," * 20_000 + "\n", "utf-8")
    refused(path, "columns")


def test_the_text_of_one_csv_cell_is_bounded(tmp_path: Path) -> None:
    path = tmp_path / "a.csv"
    path.write_text("Analyte,Result\nLead,5\nIron," + "x" * 200_000 + "\n", "utf-8")
    refused(path, "characters in a cell")


def test_a_cell_in_the_billionth_column_is_refused(tmp_path: Path) -> None:
    data = '<Data ss:Type="String">Lead</Data>'
    cell = f'<Cell ss:Index="999999999" ss:MergeAcross="1000000000">{data}</Cell>'
    refused(of_2003(tmp_path, f"<Row>{cell}</Row>"), "columns")


def test_a_long_number_is_bounded_too(tmp_path: Path) -> None:
    for stored in ("1" * 200_000, "1e99999999", "-1e999999999999999999999"):
        path = xlsx(tmp_path, f"<sheetData><row><c><v>{stored}</v></c></row></sheetData>")
        try:
            (sheet,) = open_document(path).sheets
        except WelltoldError:
            continue
        assert len(sheet.rows[0][0].text) < 100


@given(st.integers(-(10**9), 10**9).map(lambda power: f"1e{power}"))
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_no_power_of_ten_unfolds(tmp_path: Path, stored: str) -> None:
    path = xlsx(tmp_path, f"<sheetData><row><c><v>{stored}</v></c></row></sheetData>")
    try:
        (sheet,) = open_document(path).sheets
    except WelltoldError:
        return
    assert len(sheet.rows[0][0].text) < 500
