"""Tables of web pages, places counted by hand as a browser lays them out."""

from __future__ import annotations

from pathlib import Path

import pytest

from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Document, Sheet


def opened(tmp_path: Path, body: str, name: str = "portal.xls") -> Document:
    path = tmp_path / name
    path.write_text(f"<html><head><title>x</title></head><body>{body}</body></html>", "utf-8")
    return open_document(path)


def rows(sheet: Sheet) -> list[list[tuple[int, str]]]:
    return [[(cell.column, cell.text) for cell in row] for row in sheet.rows]


def test_spans_push_cells_to_where_they_are_seen(tmp_path: Path) -> None:
    document = opened(
        tmp_path,
        """<table><thead><tr><th rowspan=2>Analyte<th colspan=2>Well&nbsp;4<th>Limit</tr>
        <tr><th>Result<th>Unit<th>EPA</tr></thead>
        <tbody><tr><td>Lead<td>&lt;0.5<td>&micro;g/L<td>15</tr>
        <tr><td rowspan=2>Iron<td>0.31<td>mg/L<td rowspan=2>0.3</tr>
        <tr><td>0.05<td>mg/L</tr></table>""",
    )
    assert document.kind == "html"
    (sheet,) = document.sheets
    assert sheet.name == ""
    assert rows(sheet) == [
        [(1, "Analyte"), (2, "Well 4"), (4, "Limit")],
        [(2, "Result"), (3, "Unit"), (4, "EPA")],
        [(1, "Lead"), (2, "<0.5"), (3, "µg/L"), (4, "15")],
        [(1, "Iron"), (2, "0.31"), (3, "mg/L"), (4, "0.3")],
        [(2, "0.05"), (3, "mg/L")],
    ]
    first = sheet.rows[0]
    assert (first[0].rows, first[0].columns) == (2, 1)
    assert (first[1].rows, first[1].columns) == (1, 2)
    assert [row[0].row for row in sheet.rows] == [1, 2, 3, 4, 5]


def test_lines_above_a_table_stay_with_it(tmp_path: Path) -> None:
    document = opened(
        tmp_path,
        """<h2>Sample 1</h2><p>Collected 2026-03-02<br>kitchen tap</p>
        <table><tr><td>Lead<td>0.5</table>
        <h2>Sample 2</h2><table><tr><td>Lead<td>0.7</table><p>End of <b>report</b></p>""",
    )
    first, second = document.sheets
    assert (first.name, second.name) == ("table 1", "table 2")
    assert rows(first) == [
        [(1, "Sample 1")],
        [(1, "Collected 2026-03-02")],
        [(1, "kitchen tap")],
        [(1, "Lead"), (2, "0.5")],
    ]
    assert rows(second) == [[(1, "Sample 2")], [(1, "Lead"), (2, "0.7")], [(1, "End of report")]]


def test_a_table_that_only_arranges_others_is_taken_apart(tmp_path: Path) -> None:
    inner = "<table><tr><td>Lead<td>{}</tr><tr><td>Iron<td>1</tr></table>"
    document = opened(
        tmp_path,
        f"<table><tr><td>Client<td>Vale</tr><tr><td>{inner.format(5)}</td>"
        f"<td>beside{inner.format(6)}</td></tr></table>",
    )
    first, second = document.sheets
    assert rows(first) == [
        [(1, "Client"), (2, "Vale")],
        [(1, "Lead"), (2, "5")],
        [(1, "Iron"), (2, "1")],
    ]
    assert rows(second) == [[(1, "beside")], [(1, "Lead"), (2, "6")], [(1, "Iron"), (2, "1")]]


def test_a_one_row_table_inside_a_cell_is_the_text_of_that_cell(tmp_path: Path) -> None:
    value = "<table><tr><td>0.5</td><td>mg/L</td></tr></table>"
    document = opened(
        tmp_path,
        f"<table><tr><td>Lead<td>{value}</td></tr><tr><td>Iron<td>{value}</td></tr></table>",
    )
    assert rows(document.sheets[0]) == [
        [(1, "Lead"), (2, "0.5 mg/L")],
        [(1, "Iron"), (2, "0.5 mg/L")],
    ]


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("0.5<sup>1</sup>", "0.5¹"),
        ("3 x 10<sup>4</sup>", "3 x 10^4"),
        ("m<sup>3</sup>", "m3"),
        ("NO<sub>3</sub>", "NO3"),
        ("two<br>lines", "two\nlines"),
        ("  many \n blanks&nbsp; ", "many blanks"),
        ("a<!-- secret -->b<script>c</script>", "ab"),
        ("<input type=checkbox checked> Absent", "☑ Absent"),
        ("<input type=radio> Present", "☐ Present"),
        ("<input value='0.7'>", "0.7"),
    ],
)
def test_text_of_a_cell(tmp_path: Path, cell: str, text: str) -> None:
    document = opened(tmp_path, f"<table><tr><td>Lead<td>{cell}</td></tr></table>")
    assert rows(document.sheets[0]) == [[(1, "Lead"), (2, text)]]


def test_hidden_parts_are_left_out_and_told(tmp_path: Path) -> None:
    document = opened(
        tmp_path,
        "<table><tr><td>Lead<td style='display: none'>9<td>0.5</tr>"
        "<tr hidden><td>Iron<td>1</tr><tr><td>Zinc<td>2</tr></table>",
    )
    assert rows(document.sheets[0]) == [[(1, "Lead"), (2, "0.5")], [(1, "Zinc"), (2, "2")]]
    assert [row[0].row for row in document.sheets[0].rows] == [1, 3]
    assert [warning.code for warning in document.warnings] == ["door.hidden_parts"]


def test_the_stored_number_of_a_saved_sheet_is_kept(tmp_path: Path) -> None:
    document = opened(tmp_path, "<table><tr><td>Lead<td x:num='0.12345'>0.12</table>")
    cell = document.sheets[0].rows[0][1]
    assert (cell.text, cell.stored, cell.is_number) == ("0.12", "0.12345", True)


@pytest.mark.parametrize(("encoding", "named"), [("cp1251", "windows-1251"), ("utf-16", "")])
def test_the_character_set_that_the_page_names_is_used(
    tmp_path: Path, encoding: str, named: str
) -> None:
    path = tmp_path / "a.html"
    page = f"<html><meta charset='{named}'><table><tr><td>Железо<td>0,5</table></html>"
    path.write_bytes(page.encode(encoding))
    assert rows(open_document(path).sheets[0]) == [[(1, "Железо"), (2, "0,5")]]


def test_a_page_without_a_table_is_its_lines(tmp_path: Path) -> None:
    document = opened(tmp_path, "<p>Total coliform: ABSENT</p><p>Nitrate 2.1 mg/L</p>", "a.html")
    assert rows(document.sheets[0]) == [
        [(1, "Total coliform: ABSENT")],
        [(1, "Nitrate 2.1 mg/L")],
    ]


def test_spans_without_end_are_bounded(tmp_path: Path) -> None:
    body = "<table>" + "<tr><td rowspan=999999 colspan=999999>a<td>b</tr>" * 15 + "</table>"
    assert len(opened(tmp_path, body).sheets[0].rows) == 15


def test_a_page_nested_without_end_is_read_or_refused(tmp_path: Path) -> None:
    body = "<table><tr><td>x" * 3000
    document = opened(tmp_path, body + "<table><tr><td>Lead<td>5</table>")
    assert document.kind == "html"
