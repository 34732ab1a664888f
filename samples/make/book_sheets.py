"""The sheets that are workbooks: openpyxl, xlwt and odfpy."""

from __future__ import annotations

import datetime
import io
from typing import Any

import xlwt
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P
from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.properties import PageSetupProperties

from . import press
from .content import Sheet

_BOLD = Font(bold=True)
_HEAD = PatternFill("solid", fgColor="DDE7D4")
_THIN = Border(bottom=Side(style="thin"))


def _saved(book: Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return press.settled_zip(out.getvalue())


def _format(text: str) -> str:
    decimals = len(text.partition(".")[2])
    return "0" if not decimals else "0." + "0" * decimals


def make_survey(sheet: Sheet) -> bytes:
    """Return four wells across, with a guideline and an average column."""
    book = Workbook()
    page: Any = book.active
    page.title = "Results"
    page.merge_cells("A1:H1")
    page["A1"] = f"{sheet['lab']}: {sheet['report']}"
    page["A1"].font = Font(bold=True, size=14)
    page["A1"].alignment = Alignment(horizontal="center")
    heads = (("Sample", "id"), ("Location", "point"), ("Collected", "collected"))
    for line, (title, key) in enumerate(heads, 3):
        page.cell(line, 1, title).font = _BOLD
        for i, sample in enumerate(sheet.samples):
            value = sample[key]
            day = datetime.date.fromisoformat(value) if key == "collected" else value
            page.cell(line, 3 + i, day).alignment = Alignment(wrap_text=True)
    for column, title in ((2, "Unit"), (7, "Guideline"), (8, "Average")):
        page.cell(3, column, title).font = _BOLD
    guides = {"ph": "6.5-8.5", "nitrate": 10, "iron": 0.3, "manganese": 0.05, "arsenic": 10}
    for line, row in enumerate(sheet.samples[0].rows, 6):
        page.cell(line, 1, row["label"])
        page.cell(line, 2, row["unit"])
        page.cell(line, 7, guides.get(row["analyte"]))
    page["H8"] = 128.67
    page["H8"].number_format = "0"
    lines = {row["analyte"]: line for line, row in enumerate(sheet.samples[0].rows, 6)}
    for i, sample in enumerate(sheet.samples):
        for j, row in enumerate(sample.rows):
            stored = float(row["stored"]) if row["stored"] else row["text"]
            cell = page.cell(lines[row["analyte"]], 3 + i, stored)
            if row["stored"]:
                cell.number_format = _format(row["text"])
            sheet.put(i, j, sheet="Results", cell=cell.coordinate)
    page["A15"] = "Figures are rounded for display."
    page.column_dimensions["A"].width = 24
    return _saved(book)


def make_round(sheet: Sheet) -> bytes:
    """Return samples as rows under rows of units, reporting limits and guidelines."""
    book = Workbook()
    page: Any = book.active
    page.title = "Table 1"
    page["A1"] = f"Table 1. Groundwater results, {sheet['lab']}, report {sheet['report']}"
    rows = sheet.samples[0].rows
    heads = ["Lab No.", "Well", "Sampled", *(row["label"] for row in rows)]
    notes = (("Units", "unit"), ("Reporting limit", "rl"), ("Guideline", "limit"))
    for column, title in enumerate(heads, 1):
        cell = page.cell(3, column, title)
        cell.font, cell.fill, cell.border = _BOLD, _HEAD, _THIN
    for line, (title, key) in enumerate(notes, 4):
        page.cell(line, 1, title).font = Font(italic=True)
        for column, row in enumerate(rows, 4):
            page.cell(line, column, row[key] or None)
    for i, sample in enumerate(sheet.samples):
        line = 7 + i
        page.cell(line, 1, sample["id"])
        page.cell(line, 2, sample["point"])
        page.cell(line, 3, datetime.datetime.fromisoformat(sample["collected"]))
        page.cell(line, 3).number_format = "m/d/yy h:mm"
        for j, row in enumerate(sample.rows):
            plain = row["text"].replace(",", "")
            number = plain.replace(".", "").isdigit()
            cell = page.cell(line, 4 + j, float(plain) if number else row["text"])
            if number:
                cell.number_format = "#,##0" if "," in row["text"] else _format(row["text"])
            sheet.put(i, j, sheet="Table 1", cell=f"{get_column_letter(4 + j)}{line}")
    page["A11"] = "ND: not detected at the reporting limit. Empty: not tested."
    page.column_dimensions["C"].width = 16
    return _saved(book)


def make_lims(sheet: Sheet) -> bytes:
    """Return an old workbook with a cover, the results and the notes."""
    book = xlwt.Workbook()
    cover, page, notes = (book.add_sheet(name) for name in ("Cover", "Results", "Notes"))
    for line, text in enumerate((sheet["lab"], f"Report {sheet['report']}", "Samples: 2")):
        cover.write(line, 0, text)
    cover.write(3, 0, "Telephone 555-0163")
    heads = ["Sample", "Location", "Date sampled", "Parameter", "", "Result", "Unit", "Limit"]
    day = xlwt.easyxf(num_format_str="D-MMM-YY")
    for column, title in enumerate(heads):
        page.write(0, column, title, xlwt.easyxf("font: bold on; borders: bottom thin"))
    line = 1
    for i, sample in enumerate(sheet.samples):
        for j, row in enumerate(sample.rows):
            page.write(line, 0, sample["id"])
            page.write(line, 1, sample["point"])
            page.write(line, 2, datetime.date.fromisoformat(sample["collected"]), day)
            page.write(line, 3, row["label"])
            page.write(line, 4, row["sign"])
            shown = xlwt.easyxf(num_format_str=_format(row["text"]))
            page.write(line, 5, float(row["stored"]), shown)
            page.write(line, 6, row["unit"])
            page.write(line, 7, float(row["limit"]) if row["limit"] else "")
            line += 1
            sheet.put(i, j, sheet="Results", cell=f"F{line}")
    for at, text in enumerate(("< : below the reporting limit", "Nitrate as NO3 = 4.43 x N")):
        notes.write(at, 0, text)
    notes.write(2, 0, 4.43)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _ods_row(table: Table, cells: list[str]) -> None:
    line = TableRow()
    for text in cells:
        if text.replace(".", "", 1).isdigit():
            cell = TableCell(valuetype="float", value=text)
        else:
            cell = TableCell(valuetype="string")
        cell.addElement(P(text=text))
        line.addElement(cell)
    table.addElement(line)


def make_flagged(sheet: Sheet) -> bytes:
    """Return non-detects that only a flag tells."""
    book = OpenDocumentSpreadsheet()
    table = Table(name="Report")
    sample = sheet.samples[0]
    _ods_row(table, [sheet["lab"], "", "", sheet["report"]])
    _ods_row(table, ["Sample ID", sample["id"]])
    _ods_row(table, ["Location", sample["point"]])
    _ods_row(table, ["Collected", "9/15/2026"])
    _ods_row(table, [""])
    _ods_row(table, ["Parameter", "Result", "Q", "Units", "RL", "Std"])
    for j, row in enumerate(sample.rows):
        cells = [row["label"], row["text"], row["qual"], row["unit"], row["rl"], row["limit"]]
        _ods_row(table, cells)
        sheet.put(0, j, sheet="Report", cell=f"B{7 + j}")
    _ods_row(table, ["U: not detected at the value shown. J: estimated."])
    book.spreadsheet.addElement(table)
    out = io.BytesIO()
    book.write(out)
    return press.settled_zip(out.getvalue())


def make_two_wells(sheet: Sheet) -> bytes:
    """Return blocks per sample, laid out as a workbook and printed by the office suite."""
    book = Workbook()
    page: Any = book.active
    page["A1"] = sheet["lab"]
    page["A1"].font = Font(bold=True, size=16)
    page["A2"] = f"Report {sheet['report']}"
    page["A3"] = "Client: Brandvold Dairy, 19 Ferry Road, Lower Spruce"
    line = 5
    for sample in sheet.samples:
        page.cell(line, 1, f"Sample {sample['id']}   {sample['point']}").font = _BOLD
        day, time = sample["collected"].split("T")
        page.cell(line, 3, f"Collected {day} {time}")
        line += 1
        for column, title in enumerate(("Determination", "Result", "Unit", "LOQ", "Method"), 1):
            cell = page.cell(line, column, title)
            cell.font, cell.fill, cell.border = _BOLD, _HEAD, _THIN
        for row in sample.rows:
            line += 1
            cells = (row["label"], row["text"], row["unit"], row["rl"], row["method"])
            for column, text in enumerate(cells, 1):
                side = "right" if column in {2, 4} else "left"
                page.cell(line, column, text).alignment = Alignment(horizontal=side)
        line += 3
    page.cell(line, 1, "LOQ: limit of quantification. Arsenic was repeated in both.")
    for letter, width in zip("ABCDE", (30, 14, 12, 10, 12), strict=True):
        page.column_dimensions[letter].width = width
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.page_setup.fitToHeight = 0
    name = f"{sheet.name}.xlsx"
    return press.office_pdfs({name: _saved(book)}, "calc_pdf_Export")[name]
