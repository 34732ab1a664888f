"""A reading as a CSV or as JSON that a person corrects, and back."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from correction_tables import READABLE, SHEETS, enter, hard_sheet, row_of, saved, table_of
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from test_rows import READING

import welltold
from welltold.correcting import WrongEntryError, corrected, iso_day
from welltold.correction_sheet import to_csv
from welltold.jsonform import dump_json
from welltold.messages import LANGUAGES, Message, speaking
from welltold.reading import Alternative, Correction, Normalized, Reading, Result
from welltold.respelled import guarded, same_cell

# -- what comes back ------------------------------------------------------------------------------


@pytest.mark.parametrize("path", READABLE, ids=lambda path: path.name)
def test_every_sample_comes_back_from_its_csv_as_it_was(path: Path, tmp_path: Path) -> None:
    reading = welltold.read(path)
    file = tmp_path / "a.csv"
    file.write_text(to_csv([reading]), "utf-8")
    assert welltold.read(file) == reading


@pytest.mark.parametrize("path", READABLE, ids=lambda path: path.name)
def test_every_sample_comes_back_from_json_with_its_printed_digits(
    path: Path, tmp_path: Path
) -> None:
    reading = welltold.read(path)
    file = tmp_path / "a.data"
    file.write_text(dump_json(reading), "utf-8")
    back = welltold.read(file)
    assert back == reading
    pairs = zip(back.results, reading.results, strict=True)
    assert all(str(one.value) == str(other.value) for one, other in pairs if other.decimals)


def odd_reading() -> Reading:
    """A reading with everything that a line has to keep."""
    sample = READING.samples[0]
    odd = replace(
        sample.results[0],
        label='=2+3 "quoted", µ\nover two lines',
        alternatives=(Alternative("0.70", None, "a smudge"),),
        review=(Message("read.x", {"a": "1"}, "Look."),),
        printed_limit="-",
        confidence=0.25,
    )
    samples = (replace(sample, received="2026-11-03", matrix="DW", results=(odd,)), replace(sample))
    return replace(READING, samples=samples, warnings=(Message("read.y", {}, "Told."),))


def test_a_reading_with_every_kind_of_line_comes_back_exactly(tmp_path: Path) -> None:
    reading = odd_reading()
    table = table_of(reading)
    assert [row["kind"] for row in table] == ["sheet", *["result"] * 3, "unread", "warning"]
    assert welltold.read(saved(table, tmp_path / "a.csv")) == reading
    assert str(welltold.read(saved(table, tmp_path / "b.csv")).results[0].value) == "0.10"


def test_lines_sorted_in_the_spreadsheet_come_back_in_the_sheets_order(tmp_path: Path) -> None:
    reading = odd_reading()
    table = sorted(table_of(reading), key=lambda row: row["label"], reverse=True)
    assert welltold.read(saved(table, tmp_path / "a.csv")) == reading


@pytest.mark.parametrize(
    ("encoding", "delimiter"), [("utf-8-sig", ";"), ("cp1252", ","), ("utf-16", "\t")]
)
def test_what_spreadsheets_do_to_a_csv_is_no_change(
    encoding: str, delimiter: str, tmp_path: Path
) -> None:
    reading = odd_reading()
    table = table_of(reading)
    for row in table:
        # 12.0 becomes 12, dates are turned round, 1.0 becomes 1, words are in capitals.
        row["collected"] = row["collected"].replace("2026-11-02", "11/2/2026")
        row["value"] = row["value"].replace("0.10", "0.1")
        row["confidence"] = row["confidence"].replace("1.0", "1")
    file = saved(table, tmp_path / "a.csv", encoding=encoding, delimiter=delimiter)
    assert welltold.read(file) == reading


def test_a_table_saved_as_a_workbook_is_read_as_the_reading_it_is(tmp_path: Path) -> None:
    reading, table, _ = hard_sheet(tmp_path)
    enter(table, row_of(table, "iron"), "1.2")
    book = Workbook()
    assert book.active is not None
    book.active.append(list(table[0]))
    for row in table:
        cells = [float(c) if c.replace(".", "", 1).isdigit() else c for c in row.values()]
        book.active.append(cells)
    book.save(tmp_path / "a.xlsx")
    back = welltold.read(tmp_path / "a.xlsx")
    assert back.source == reading.source
    assert [r.label for r in back.results if r.correction] == ["Iron"]


# -- corrections ----------------------------------------------------------------------------------


def test_a_correction_keeps_the_printed_text_and_says_who_and_when(
    tmp_path: Path,
) -> None:
    reading, table, file = hard_sheet(tmp_path)
    row = row_of(table, "hardness")
    printed = table[row]["text"]
    assert printed == "357"
    enter(table, row, " 35.70 ", by="K. Larch ", at="11/25/2026")
    back = welltold.read(saved(table, file))
    (result,) = [r for r in back.results if r.correction]
    assert result.correction == Correction("35.70", Decimal("35.70"), "K. Larch", "2026-11-25")
    assert (result.text, result.stated, str(result.value)) == ("357", "35.70", "35.70")
    assert result.normalized == Normalized(Decimal("35.70"), "mg/L", "CaCO3")
    assert (result.decimals, result.unit, result.use) == (2, "mg/L", "as_is")
    assert [r for r in back.results if not r.correction] == [
        r for r in reading.results if r.analyte != "hardness"
    ]


DOUBTED = READING.results[1]
LIMITED = replace(
    READING.results[0],
    text="1.2 J",
    state="value",
    operator="=",
    value=Decimal("1.2"),
    qualifiers=("J", "H"),
    reporting_limit=Decimal("0.05"),
    normalized=Normalized(Decimal("1.2"), "mg/L", "N"),
    decimals=1,
)


def put(result: Result, text: str) -> Result:
    return corrected(result, Correction(text, None, "K. Larch", "2026-11-25"))


def test_a_corrected_result_is_no_longer_in_doubt() -> None:
    assert DOUBTED.use == "look"
    assert put(DOUBTED, "ND").use == "as_is"


def test_not_found_typed_without_a_limit_takes_the_labs_limit() -> None:
    result = put(LIMITED, "ND")
    assert (result.state, result.operator, result.value) == ("below", "<", Decimal("0.05"))


def test_marks_inside_the_printed_text_go_with_it_and_marks_beside_it_stay() -> None:
    assert put(LIMITED, "12").qualifiers == ("H",)


def test_another_unit_may_be_typed_with_the_result() -> None:
    result = put(LIMITED, "120 ug/L")
    assert result.unit == "ug/L"
    # 1 mg is 1000 ug.
    assert result.normalized == Normalized(Decimal("0.12"), "mg/L", "N")


def test_a_bacteria_answer_may_be_corrected_with_one_letter() -> None:
    germ = replace(LIMITED, analyte="e_coli", text="A", state="absent", value=None, present=False)
    assert put(germ, "P").present is True


def test_the_same_correction_twice_changes_nothing() -> None:
    once = put(LIMITED, "<0.5 U")
    assert once.correction is not None
    assert corrected(once, once.correction) == once


def test_a_sheet_with_decimal_commas_is_corrected_with_decimal_commas() -> None:
    comma = replace(LIMITED, text="1,250", value=Decimal("1.250"))
    once = put(comma, "1,375")
    assert once.value == Decimal("1.375")
    assert once.correction is not None
    assert corrected(once, once.correction) == once
    with pytest.raises(WrongEntryError, match="two ways"):
        put(LIMITED, "1,375")
    assert put(LIMITED, "0,5").value == Decimal("0.5")


@pytest.mark.parametrize(
    ("text", "iso"),
    [
        ("2026-11-25", "2026-11-25"),
        ("2026-11-25T08:30", "2026-11-25T08:30"),
        ("11/5/2026", "2026-11-05"),
        ("25/11/2026", "2026-11-25"),
    ],
)
def test_the_day_of_a_correction(text: str, iso: str) -> None:
    assert iso_day(text) == iso


# -- cells ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("12.0", "12"),
        ("1234567890123", "1.23457E+12"),
        ("00417", "417"),
        ("(5)", "-5"),
        ("3-11", "11-Mar"),
        ("2026-11-02", "11/2/2026"),
        ("2026-11-02", "11/2/26"),
        ("2026-11-02 14:05", "11/2/2026 2:05 PM"),
        ("True", "TRUE"),
        ("µg/L", "?g/L"),
        ("µg/L", "Âµg/L"),
        ("=2+3", "'=2+3"),
        ("a  b\n", "a b"),
    ],
)
def test_what_a_spreadsheet_makes_of_a_cell(written: str, found: str) -> None:
    assert same_cell(written, found)


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ("12.0", "120"),
        ("<12", "12"),
        ("≥12", "12"),
        ("0.123456", "0.123457"),
        ("2026-11-02", "2026-11-03"),
        ("2026-11-02 14:05", "2026-11-02 15:05"),
        ("ND", ""),
        ("mg/L", "ug/L"),
        ("5", "-5"),
    ],
)
def test_what_only_a_person_does_to_a_cell(written: str, found: str) -> None:
    assert not same_cell(written, found)


@given(st.text(max_size=12))
def test_a_guarded_cell_is_no_formula_and_still_the_same_cell(text: str) -> None:
    cell = guarded(text)
    assert not cell.startswith("=") or cell == "="
    assert same_cell(text, cell)


@pytest.mark.parametrize("written", LANGUAGES)
@pytest.mark.parametrize("read_back", LANGUAGES)
def test_a_table_written_in_one_language_is_read_back_in_the_other(
    written: str, read_back: str, tmp_path: Path
) -> None:
    reading = welltold.read(SHEETS / "hard-rusty.pdf")
    with speaking(written):  # type: ignore[arg-type]  # pytest hands over plain text
        table = table_of(reading)
    enter(table, row_of(table, "iron"), "3.6")
    found = welltold.read(saved(table, tmp_path / "t.csv"), language=read_back)  # type: ignore[arg-type]  # as above
    iron = next(one for one in found.samples[0].results if one.analyte == "iron")
    assert iron.value == Decimal("3.6")
