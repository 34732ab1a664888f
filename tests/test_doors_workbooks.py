"""Workbooks of every kind: places, shown digits, merged and hidden cells, counted by hand."""

from __future__ import annotations

import datetime as dt
import zipfile
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
import python_calamine
import xlsxwriter
import xlwt
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from odf.office import Annotation
from odf.opendocument import OpenDocumentSpreadsheet
from odf.style import Style, TableProperties
from odf.table import CoveredTableCell, Table, TableCell, TableColumn, TableRow
from odf.text import P

from welltold_parsers.doors import Limits, open_document
from welltold_parsers.geometry import Document, Sheet, SheetCell


def by_place(sheet: Sheet) -> dict[tuple[int, int], SheetCell]:
    return {(cell.row, cell.column): cell for row in sheet.rows for cell in row}


def shown(sheet: Sheet) -> dict[tuple[int, int], tuple[str, str | None]]:
    return {place: (cell.text, cell.stored) for place, cell in by_place(sheet).items()}


def codes(document: Document) -> list[str]:
    return [warning.code for warning in document.warnings]


def xlsx(path: Path) -> Path:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Results"
    sheet["C3"] = "Well 4"
    sheet.merge_cells("C3:E4")
    sheet["C6"] = "Lead"
    for address, value, code in (
        ("D6", 0.3, "0.00"),
        ("D7", 0.5, '"<"0.0'),
        ("D8", 1234.5678, "#,##0.0"),
        ("D9", 12.0, "General"),
        ("D10", 66.94709410797, "General"),
        ("D11", 0.25, "# ?/?"),
        ("D12", 0.153, "0%"),
    ):
        sheet[address] = value
        sheet[address].number_format = code
    sheet["E6"] = dt.datetime(2024, 3, 8, 12, 0)  # noqa: DTZ001 - a cell has no time zone
    sheet["E7"] = dt.date(2024, 3, 8)
    sheet["E8"] = True
    sheet["E9"] = "  <0.5 \n"
    sheet["E10"] = "=1+1"
    sheet["AB20"] = "far"
    sheet.row_dimensions[8].hidden = True
    sheet.column_dimensions["E"].hidden = True
    sheet.row_dimensions[900].hidden = True
    notes = book.create_sheet("Notes")
    notes["A1"] = "internal"
    notes.sheet_state = "hidden"
    book.save(path)
    return path


def test_an_xlsx_workbook_keeps_its_places_and_its_shown_digits(tmp_path: Path) -> None:
    document = open_document(xlsx(tmp_path / "a.xlsx"))
    assert document.kind == "xlsx"
    results, notes = document.sheets
    assert (results.name, results.hidden) == ("Results", False)
    assert (notes.name, notes.hidden) == ("Notes", True)
    assert shown(results) == {
        (3, 3): ("Well 4", None),
        (6, 3): ("Lead", None),
        (6, 4): ("0.30", None),
        (7, 4): ("<0.5", "0.5"),
        (8, 4): ("1,234.6", "1234.5678"),
        (9, 4): ("12", None),
        (10, 4): ("66.94709411", "66.94709410797"),
        (11, 4): ("0.25", None),
        (12, 4): ("15%", "0.153"),
        (6, 5): ("2024-03-08T12:00", "45359.5"),
        (7, 5): ("2024-03-08", "45359"),
        (8, 5): ("TRUE", None),
        (9, 5): ("<0.5", None),
        (20, 28): ("far", None),
    }
    cells = by_place(results)
    assert (cells[3, 3].rows, cells[3, 3].columns) == (2, 3)
    assert results.hidden_rows == {8}
    assert results.hidden_columns == {5}
    assert cells[6, 4].is_number
    assert not cells[9, 5].is_number
    assert cells[6, 5].is_date
    assert [(warning.code, dict(warning.args)) for warning in document.warnings] == [
        ("door.format_unknown", {"sheet": "Results", "format": "# ?/?"}),
        ("door.hidden_rows", {"sheet": "Results", "names": "8"}),
        ("door.hidden_columns", {"sheet": "Results", "names": "E"}),
        ("door.formula_empty", {"sheet": "Results", "count": "1", "cells": "E10"}),
        ("door.hidden_sheet", {"sheet": "Notes"}),
    ]


def test_a_formula_with_a_stored_value_is_a_value(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    sheet.write_formula("B2", "=A1*2", book.add_format({"num_format": "0.0"}), 10.25)
    sheet.write_formula("B3", '=IF(1,"ND","")', None, "ND")
    sheet.write_formula("B4", "=NA()", None, "#N/A")
    book.close()
    document = open_document(path)
    assert shown(document.sheets[0]) == {
        (2, 2): ("10.3", "10.25"),
        (3, 2): ("ND", None),
        (4, 2): ("#N/A", None),
    }
    assert document.warnings == ()


def test_a_raised_mark_in_a_cell_is_no_digit(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    raised = book.add_format({"font_script": 1})
    sheet.write_rich_string("A1", "10.", "2", raised, "1")
    sheet.write_rich_string("A2", "m", raised, "3")
    book.close()
    assert shown(open_document(path).sheets[0]) == {(1, 1): ("10.2¹", None), (2, 1): ("m3", None)}


def test_inline_strings_and_rows_without_addresses(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    plain(
        path,
        "<row><c t='inlineStr'><is><t>Lead</t></is></c><c><v>0.015</v></c></row>"
        "<row r='4'><c r='C4' t='str'><v>a_x000D_b</v></c><c><v>7</v></c></row>",
    )
    assert shown(open_document(path).sheets[0]) == {
        (1, 1): ("Lead", None),
        (1, 2): ("0.015", None),
        (4, 3): ("a\rb", None),
        (4, 4): ("7", None),
    }


def plain(path: Path, rows: str) -> None:
    """Write the smallest possible workbook by hand."""
    main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    rel = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    package = "http://schemas.openxmlformats.org/package/2006/relationships"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as book:
        book.writestr(
            "_rels/.rels",
            f"<Relationships xmlns='{package}'><Relationship Id='r1' "
            f"Type='{rel}/officeDocument' Target='xl/workbook.xml'/></Relationships>",
        )
        book.writestr(
            "xl/_rels/workbook.xml.rels",
            f"<Relationships xmlns='{package}'><Relationship Id='r1' "
            f"Type='{rel}/worksheet' Target='worksheets/sheet1.xml'/></Relationships>",
        )
        book.writestr(
            "xl/workbook.xml",
            f"<x:workbook xmlns:x='{main}' xmlns:r='{rel}'><x:sheets>"
            "<x:sheet name='S' sheetId='1' r:id='r1'/></x:sheets></x:workbook>",
        )
        sheet = f"<worksheet xmlns='{main}'><sheetData>{rows}</sheetData></worksheet>"
        book.writestr("xl/worksheets/sheet1.xml", sheet)


def test_one_cell_in_the_last_corner_costs_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    plain(path, "<row r='1048576'><c r='XFD1048576'><v>5</v></c></row>")
    assert shown(open_document(path).sheets[0]) == {(1_048_576, 16_384): ("5", None)}


def test_a_million_empty_rows_cost_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    rows = "".join(f"<row r='{row}'><c r='A{row}' s='0'/></row>" for row in range(1, 200_000))
    plain(path, rows + "<row r='1000000'><c r='B1000000'><v>5</v></c></row>")
    assert shown(open_document(path, Limits(cells=1)).sheets[0]) == {(1_000_000, 2): ("5", None)}


@given(
    st.dictionaries(
        st.tuples(st.integers(1, 40), st.integers(1, 60)),
        st.one_of(
            st.integers(-(10**9), 10**9),
            st.floats(-1e6, 1e6, allow_subnormal=False).filter(lambda x: abs(x) > 1e-6),
            st.text(alphabet="abcµ<>&_ 0123.", min_size=1, max_size=12).filter(str.strip),
        ),
        min_size=1,
        max_size=25,
    )
)
@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_values_and_places_agree_with_another_reader(
    tmp_path: Path, cells: dict[tuple[int, int], int | float | str]
) -> None:
    path = tmp_path / "a.xlsx"
    book = xlsxwriter.Workbook(path, {"strings_to_numbers": False, "strings_to_formulas": False})
    sheet = book.add_worksheet()
    for (row, column), value in cells.items():
        if isinstance(value, str):
            sheet.write_string(row - 1, column - 1, value)
        else:
            sheet.write_number(row - 1, column - 1, value)
    book.close()
    theirs = python_calamine.CalamineWorkbook.from_path(path).get_sheet_by_index(0)
    grid = theirs.to_python(skip_empty_area=False)
    ours = by_place(open_document(path).sheets[0])
    for row, line in enumerate(grid, start=1):
        for column, value in enumerate(line, start=1):
            cell = ours.pop((row, column), None)
            if isinstance(value, str):
                assert (cell.text if cell else "") == value.strip()
            else:
                assert cell is not None
                assert cell.is_number
                assert float(cell.stored or cell.text) == value
    assert not ours


def test_an_xls_workbook_keeps_its_places_and_its_shown_digits(tmp_path: Path) -> None:
    book = xlwt.Workbook()
    sheet = book.add_sheet("Results")
    sheet.write_merge(1, 2, 0, 2, "Well 4")
    for row, value, code in (
        (3, 0.3, "0.00"),
        (4, 0.5, '"<"0.0'),
        (5, dt.date(2024, 3, 8), "m/d/yyyy"),
        (6, 12.0, "General"),
    ):
        sheet.write(row, 1, value, xlwt.easyxf(num_format_str=code))
    sheet.write(7, 1, True)
    sheet.write(8, 2, "hidden here")
    sheet.row(6).hidden = True
    sheet.col(2).hidden = True
    book.add_sheet("Notes").write(0, 0, "x")
    book.get_sheet(1).visibility = 1
    path = tmp_path / "a.xls"
    book.save(str(path))
    document = open_document(path)
    assert document.kind == "xls"
    results, notes = document.sheets
    assert notes.hidden
    assert shown(results) == {
        (2, 1): ("Well 4", None),
        (4, 2): ("0.30", None),
        (5, 2): ("<0.5", "0.5"),
        (6, 2): ("2024-03-08", "45359"),
        (7, 2): ("12", None),
        (8, 2): ("TRUE", None),
        (9, 3): ("hidden here", None),
    }
    merged = by_place(results)[2, 1]
    assert (merged.rows, merged.columns) == (2, 3)
    assert results.hidden_rows == {7}
    assert results.hidden_columns == {3}


def ods_cell(text: str, **attributes: str) -> TableCell:
    cell = TableCell(**attributes)
    for line in text.split("\n"):
        cell.addElement(P(text=line))
    return cell


def test_an_ods_workbook_shows_what_its_program_showed(tmp_path: Path) -> None:
    book = OpenDocumentSpreadsheet()
    style = Style(name="gone", family="table")
    style.addElement(TableProperties(display="false"))
    book.automaticstyles.addElement(style)
    table = Table(name="Results")
    table.addElement(TableColumn(numbercolumnsrepeated=4))
    table.addElement(TableColumn(visibility="collapse"))
    gap = TableRow(numberrowsrepeated=3)
    gap.addElement(TableCell(numbercolumnsrepeated=1024))
    table.addElement(gap)
    row = TableRow()
    row.addElement(TableCell(numbercolumnsrepeated=2))
    row.addElement(ods_cell("0.30", valuetype="float", value="0.3"))
    noted = ods_cell("Well 4\nkitchen", valuetype="string")
    noted.addElement(Annotation())
    noted.lastChild.addElement(P(text="a remark that is not in the cell"))
    row.addElement(noted)
    row.addElement(ods_cell("3/8/24", valuetype="date", datevalue="2024-03-08T10:40:00"))
    row.addElement(ods_cell("15%", valuetype="percentage", value="0.153"))
    table.addElement(row)
    wide = TableRow(visibility="collapse")
    wide.addElement(ods_cell("merged", valuetype="string", numbercolumnsspanned="2"))
    wide.addElement(CoveredTableCell())
    wide.addElement(ods_cell("ND", valuetype="string", numbercolumnsrepeated="2"))
    table.addElement(wide)
    rest = TableRow(numberrowsrepeated=1_048_000)
    rest.addElement(TableCell(numbercolumnsrepeated=1024))
    table.addElement(rest)
    book.spreadsheet.addElement(table)
    notes = Table(name="Notes", stylename="gone")
    line = TableRow()
    line.addElement(ods_cell("x", valuetype="string"))
    notes.addElement(line)
    book.spreadsheet.addElement(notes)
    path = tmp_path / "a.ods"
    book.save(str(path))
    document = open_document(path)
    assert document.kind == "ods"
    results, hidden = document.sheets
    assert (hidden.name, hidden.hidden) == ("Notes", True)
    assert shown(results) == {
        (4, 3): ("0.30", None),
        (4, 4): ("Well 4\nkitchen", None),
        (4, 5): ("2024-03-08T10:40", None),
        (4, 6): ("15%", "0.153"),
        (5, 1): ("merged", None),
        (5, 3): ("ND", None),
        (5, 4): ("ND", None),
    }
    assert by_place(results)[5, 1].columns == 2
    assert results.hidden_rows == {5}
    assert results.hidden_columns == {5}


XML_2003 = """<?xml version="1.0"?>
<?mso-application progid="Excel.Sheet"?>
<Workbook xmlns="urn:schemas-microsoft-com:office:spreadsheet"
 xmlns:ss="urn:schemas-microsoft-com:office:spreadsheet">
 <Styles><Style ss:ID="s1"><NumberFormat ss:Format="0.00"/></Style></Styles>
 <Worksheet ss:Name="Results"><Table>
  <Column ss:Index="3" ss:Hidden="1"/>
  <Row ss:Index="3">
   <Cell ss:MergeAcross="1"><Data ss:Type="String">Lead</Data></Cell>
   <Cell ss:StyleID="s1"><Data ss:Type="Number">0.3</Data></Cell>
   <Cell ss:Formula="=1"/>
   <Cell ss:Index="9"><Data ss:Type="DateTime">2024-03-08T00:00:00.000</Data></Cell>
  </Row></Table></Worksheet></Workbook>"""


def test_an_xml_workbook_under_the_name_xls(tmp_path: Path) -> None:
    path = tmp_path / "a.xls"
    path.write_text(XML_2003)
    document = open_document(path)
    assert document.kind == "xml2003"
    sheet = document.sheets[0]
    assert shown(sheet) == {
        (3, 1): ("Lead", None),
        (3, 3): ("0.30", None),
        (3, 9): ("2024-03-08", None),
    }
    assert by_place(sheet)[3, 1].columns == 2
    assert sheet.hidden_columns == {3}
    assert codes(document) == ["door.hidden_columns", "door.formula_empty"]
    assert document.warnings[1].args["cells"] == "D3"


@pytest.mark.parametrize("suffix", [".pdf", ".csv", ".xls", ""])
def test_the_name_decides_nothing(tmp_path: Path, suffix: str) -> None:
    path = xlsx(tmp_path / f"renamed{suffix}")
    assert open_document(path).kind == "xlsx"


def test_shown_numbers_round_half_up_as_decimals_not_as_floats(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    book = xlsxwriter.Workbook(path)
    two = book.add_format({"num_format": "0.00"})
    sheet = book.add_worksheet()
    numbers = [step / 1000 for step in range(5, 2000, 10)]
    for row, number in enumerate(numbers):
        sheet.write_number(row, 0, number, two)
    book.close()
    for number, row in zip(numbers, open_document(path).sheets[0].rows, strict=True):
        assert Decimal(row[0].text) == Decimal(str(number)) + Decimal("0.005")
