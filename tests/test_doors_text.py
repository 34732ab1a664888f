"""Separated and plain text: encodings, separators, and places counted by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from welltold_parsers.doors import open_document
from welltold_parsers.doors.separator import find_separator
from welltold_parsers.geometry import Document

TABLE = "Parameter,Result,Units\nArsenic,7.5,µg/L\nEau, °C,11.5,°C\n".replace("Eau, °C", "Temp")


def opened(tmp_path: Path, content: str | bytes, name: str = "sheet.bin") -> Document:
    path = tmp_path / name
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return open_document(path)


def cells(document: Document) -> list[tuple[int, int, str]]:
    (sheet,) = document.sheets
    return [(cell.row, cell.column, cell.text) for row in sheet.rows for cell in row]


@pytest.mark.parametrize(
    "encoding",
    [
        "utf-8",
        "utf-8-sig",
        "utf-16",
        "utf-16-le",
        "utf-16-be",
        "latin-1",
        "cp1252",
        "utf-32",
    ],
)
def test_any_usual_encoding_gives_the_same_cells(tmp_path: Path, encoding: str) -> None:
    document = opened(tmp_path, TABLE.encode(encoding))
    assert document.kind == "separated"
    assert cells(document) == [
        (1, 1, "Parameter"),
        (1, 2, "Result"),
        (1, 3, "Units"),
        (2, 1, "Arsenic"),
        (2, 2, "7.5"),
        (2, 3, "µg/L"),
        (3, 1, "Temp"),
        (3, 2, "11.5"),
        (3, 3, "°C"),
    ]
    assert document.warnings == ()


def test_utf_8_with_single_western_bytes_between(tmp_path: Path) -> None:
    content = "Name,Unit\nLead,µg/L\nIron,".encode() + b"\xb5g/L\n"
    assert [text for _, _, text in cells(opened(tmp_path, content))][3::2] == ["µg/L", "µg/L"]


def test_another_script_is_guessed_and_told(tmp_path: Path) -> None:
    content = "Показатель;Результат;Единица\nЖелезо общее;0,31;мг/л\nМарганец;0,05;мг/л\n" * 5
    document = opened(tmp_path, content.encode("cp1251"))
    assert cells(document)[3] == (2, 1, "Железо общее")
    codes = [warning.code for warning in document.warnings]
    assert codes == ["door.encoding_guessed", "door.other_script"]
    assert document.warnings[1].args["script"] == "Cyrillic"


def test_signs_of_units_are_no_other_script(tmp_path: Path) -> None:
    text = "Test,Result,Unit\n" + "Gross α (alpha) β,5,µg/L °C Ω é ñ\n" * 30
    assert opened(tmp_path, text).warnings == ()


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_separators_and_line_ends(tmp_path: Path, separator: str, end: str) -> None:
    rows = [["Test", "Result", "Unit"], ["Lead", "0.5", "ppb"], ["Iron", "0.1", "mg/L"]]
    text = end.join(separator.join(row) for row in rows) + end
    document = opened(tmp_path, text)
    assert cells(document) == [
        (r, c, text) for r, row in enumerate(rows, start=1) for c, text in enumerate(row, start=1)
    ]


def test_rows_are_counted_as_a_spreadsheet_program_shows_them(tmp_path: Path) -> None:
    text = 'Test;Note;Result\n\nLead;"first\nsecond";0,5\n;;\nIron;;1,0\n'
    assert cells(opened(tmp_path, text)) == [
        (1, 1, "Test"),
        (1, 2, "Note"),
        (1, 3, "Result"),
        (3, 1, "Lead"),
        (3, 2, "first\nsecond"),
        (3, 3, "0,5"),
        (5, 1, "Iron"),
        (5, 3, "1,0"),
    ]


def test_a_declared_separator_is_no_row(tmp_path: Path) -> None:
    document = opened(tmp_path, "sep=;\r\nLead;0,5\r\nIron;1,0\r\n")
    assert cells(document)[0] == (1, 1, "Lead")
    assert cells(document)[3] == (2, 2, "1,0")


def test_a_decimal_comma_does_not_pass_for_a_separator() -> None:
    assert find_separator("Eisen;0,5;mg/L\nBlei;0,001;mg/L\nNitrat;12,5;mg/L\n") == ";"


def test_the_separator_that_splits_all_lines_wins_over_the_one_with_more_columns() -> None:
    text = "Test;Three draws\nLead;0,5 0,6 0,7\nIron;1,0 1,1 1,2\nZinc;2,0 2,1 2,2\n"
    assert find_separator(text) == ";"


def test_commas_inside_names_do_not_pass_for_separators() -> None:
    text = "Analyte\tResult\nNitrogen, nitrate\t0.5\nSolids, total dissolved\t210\n"
    assert find_separator(text) == "\t"


def test_title_lines_above_a_table_do_not_hide_its_separator() -> None:
    head = "Tamarack County Laboratory\nReport 7\nSampled 2026-03-02\n"
    rows = "".join(f"Analyte {n},{n}.5,mg/L,EPA 200.{n}\n" for n in range(8))
    assert find_separator(head + rows) == ","


@pytest.mark.parametrize(
    "text",
    [
        "Dear Ms. Vale,\nyour water, tested on Monday, had 0.5 mg/L of iron,\nwhich is low.\nBye\n",
        "Dear Ms. Vale,\n"
        "\n"
        "Thank you for sending us your sample collected on May 3, 2026 from the kitchen "
        "tap. We found 4.7 milligrams per liter\n"
        "of nitrate (as nitrogen), below the federal limit of 10. Arsenic was not "
        "detected (less than 0.001 mg/L). Lead measured\n"
        "3.2 parts per billion in the first-draw sample and was not detected in the "
        "flushed sample (<0.5 ppb). The water is hard, at\n"
        "268 mg/L as calcium carbonate. No coliform bacteria or E. coli were found.\n",
        "Analyte        Result   Units\nLead           0.5      ppb\nIron           1,250    ppb\n",
        "TOTAL COLIFORM: ABSENT\n",
    ],
)
def test_text_without_a_separator_is_plain_text(tmp_path: Path, text: str) -> None:
    assert find_separator(text) is None
    assert opened(tmp_path, text).kind == "text"


def test_a_quotation_mark_that_never_closes_swallows_nothing(tmp_path: Path) -> None:
    text = 'Test,Note,Result\nLead,"5 inch pipe,0.5\nIron,,0.1\nZinc,,0.2\n'
    document = opened(tmp_path, text)
    assert (3, 1, "Iron") in cells(document)
    assert (4, 3, "0.2") in cells(document)
    assert [warning.code for warning in document.warnings] == ["door.open_quote"]


def test_inch_marks_inside_a_cell_are_text(tmp_path: Path) -> None:
    text = 'Test,Note,Result\nLead,6" casing,0.5\nIron,"say ""ah""",0.1\n'
    document = opened(tmp_path, text)
    assert (2, 2, '6" casing') in cells(document)
    assert (3, 2, 'say "ah"') in cells(document)
    assert document.warnings == ()


def test_words_of_plain_text_tell_line_and_column(tmp_path: Path) -> None:
    document = opened(tmp_path, "Lead    0.5\n\n\tppb\fIron\n")
    first, second = document.pages
    assert document.kind == "text"
    assert first.plain_text
    words = [(w.text, w.left, w.top, w.right, w.bottom) for w in first.words]
    assert words == [
        ("Lead", 0, 0, 24, 12),
        ("0.5", 48, 0, 66, 12),
        ("ppb", 48, 24, 66, 36),
    ]
    assert (second.number, second.words[0].text) == (2, "Iron")


@given(
    st.lists(
        st.lists(st.text("abc 0.5<µ\"'\n,;|\t", max_size=8), min_size=3, max_size=3),
        min_size=3,
        max_size=12,
    ),
    st.sampled_from(",;|\t"),
)
@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_quoted_cells_come_back_whatever_is_in_them(
    tmp_path: Path, rows: list[list[str]], separator: str
) -> None:
    quoted = [[f'"{cell.replace(chr(34), chr(34) * 2)}"' for cell in row] for row in rows]
    text = f"sep={separator}\n" + "\n".join(separator.join(row) for row in quoted) + "\n"
    path = tmp_path / "sheet.csv"
    path.write_bytes(text.encode())
    document = open_document(path)
    expected = [
        (r, c, cell.strip(" \t\r\n\xa0"))
        for r, row in enumerate(rows, start=1)
        for c, cell in enumerate(row, start=1)
        if cell.strip(" \t\r\n\xa0")
    ]
    assert cells(document) == expected


@pytest.mark.parametrize("separator", ["\t", ";", ","])
def test_a_long_key_value_preamble_does_not_hide_the_table(tmp_path: Path, separator: str) -> None:
    """A table stands below nine lines of two cells; cell C11 is counted by hand."""
    keys = [separator.join((f"Key {n}", f"value {n}")) for n in range(9)]
    table = [separator.join(line) for line in (("Test", "Unit", "Result"), ("Iron", "ppm", "0.3"))]
    more = [separator.join(("Lead", "ppb", "4")), separator.join(("Zinc", "ppm", "1"))]
    path = tmp_path / "sheet.csv"
    path.write_text("\n".join([*keys, *table, *more]) + "\n", "utf-8")
    (sheet,) = open_document(path).sheets
    cells = {(cell.row, cell.column): cell.text for row in sheet.rows for cell in row}
    assert cells[11, 3] == "0.3"
