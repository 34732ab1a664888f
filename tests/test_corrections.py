"""A reading as a CSV or as JSON that a person corrects, and back."""

from __future__ import annotations

import csv
import io
import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl import Workbook
from test_rows import READING

import welltold
from welltold.correcting import WrongEntryError, corrected, iso_day
from welltold.correction_sheet import COLUMNS, to_csv
from welltold.errors import ExitCode, ReadingFileError
from welltold.jsonform import dump_json
from welltold.messages import LANGUAGES, Message, speaking
from welltold.reading import Alternative, Correction, Normalized, Reading, Result
from welltold.respelled import guarded, same_cell
from welltold_reports.homeowner import build
from welltold_reports.terminal import render_text

ROOT = Path(__file__).parents[1]
SHEETS = ROOT / "samples" / "sheets"
READABLE = sorted(
    path
    for path in SHEETS.iterdir()
    if (ROOT / "samples" / "expected" / f"{path.stem}.json").exists()
    and path.stem not in {"price-list", "pump-invoice", "truncated"}
)
Table = list[dict[str, str]]


def table_of(reading: Reading) -> Table:
    return list(csv.DictReader(io.StringIO(to_csv([reading]))))


def saved(table: Table, path: Path, *, encoding: str = "utf-8", delimiter: str = ",") -> Path:
    with path.open("w", encoding=encoding, newline="", errors="replace") as out:
        writer = csv.DictWriter(out, list(table[0]), delimiter=delimiter)
        writer.writeheader()
        writer.writerows(table)
    return path


def enter(table: Table, row: int, text: str, by: str = "K. Larch", at: str = "2026-11-25") -> None:
    table[row] |= {"corrected_text": text, "corrected_by": by, "corrected_at": at}


def row_of(table: Table, analyte: str) -> int:
    return next(number for number, row in enumerate(table) if row["analyte"] == analyte)


@pytest.fixture
def hard(tmp_path: Path) -> tuple[Reading, Table, Path]:
    reading = welltold.read(SHEETS / "hard-rusty.pdf")
    reading = replace(reading, unread=(), warnings=(Message("read.y", {}, "Told."),))
    return reading, table_of(reading), tmp_path / "hard-rusty.csv"


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


def test_a_table_saved_as_a_workbook_is_read_as_the_reading_it_is(
    hard: tuple[Reading, Table, Path], tmp_path: Path
) -> None:
    reading, table, _ = hard
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
    hard: tuple[Reading, Table, Path],
) -> None:
    reading, table, file = hard
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


# -- what is refused ------------------------------------------------------------------------------


def without(name: str) -> Callable[[Table], Any]:
    return lambda table: [row.pop(name) for row in table]


def changed(row: int, column: str, text: str) -> Callable[[Table], Any]:
    return lambda table: table[row].update({column: text})


REFUSED: dict[str, tuple[Callable[[Table], Any], str, str]] = {
    "a row removed": (lambda table: table.pop(4), "row 6", "is gone"),
    "the last row removed": (lambda table: table.pop(), "row 18", "is gone"),
    "a row twice": (lambda table: table.append(dict(table[4])), "row 19", "same row as row 6"),
    "a row added": (lambda table: table.append(dict.fromkeys(table[0], "x")), "row 19", "added"),
    "a column removed": (without("place"), "row 1", "column place is gone"),
    "the kept column removed": (without("kept"), "row 1", "column kept is gone"),
    "the text changed": (
        changed(2, "text", "3570"),
        "row 4, column text",
        "type the right result in corrected_text",
    ),
    "the number changed": (changed(2, "value", "35.7"), "row 4, column value", "it was 357"),
    "the unit changed": (changed(2, "unit", "gpg"), "row 4, column unit", "it was mg/L"),
    "a date changed": (changed(2, "collected", "4/3/2026"), "row 4, column collected", "2026"),
    "the text emptied": (changed(2, "text", ""), "row 4, column text", 'says ""'),
    "no result typed": (lambda t: enter(t, 2, "see above"), "row 4, column corrected_text", "ND"),
    "nobody's name": (lambda t: enter(t, 2, "12", by=""), "row 4, column corrected_by", "who"),
    "no day": (lambda t: enter(t, 2, "12", at=""), "row 4, column corrected_at", "date"),
    "no such day": (lambda t: enter(t, 2, "1", at="31/31/2026"), "row 4, column", "not a date"),
    "a warning corrected": (lambda t: enter(t, 16, "12"), "row 18, column", "only a row"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_any_other_change_is_an_error_with_its_place(
    name: str, hard: tuple[Reading, Table, Path]
) -> None:
    change, place, why = REFUSED[name]
    _, table, file = hard
    assert len(table) == 17
    change(table)
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(saved(table, file))
    assert caught.value.args[0] == file.name
    assert caught.value.args[1].startswith(place)
    assert why in caught.value.args[2]


def test_a_correction_cannot_be_taken_back_silently(hard: tuple[Reading, Table, Path]) -> None:
    _, table, file = hard
    enter(table, 2, "12")
    again = table_of(welltold.read(saved(table, file)))
    assert again[2]["corrected_by"] == "K. Larch"
    assert welltold.read(saved(again, file)).results[1].stated == "12"
    enter(again, 2, "", by="", at="")
    with pytest.raises(ReadingFileError, match="taken back"):
        welltold.read(saved(again, file))


def test_two_sheets_in_one_table_are_refused(tmp_path: Path) -> None:
    other = replace(READING, source=replace(READING.source, sha256="1" * 64))
    table = table_of(READING) + table_of(other)
    with pytest.raises(ReadingFileError, match="2 sheets"):
        welltold.read(saved(table, tmp_path / "a.csv"))


# -- JSON -----------------------------------------------------------------------------------------


def as_json(reading: Reading, path: Path, change: Callable[[dict[str, Any]], Any]) -> Path:
    found = json.loads(dump_json(reading))
    change(found["samples"][0]["results"][1])
    path.write_text(json.dumps(found, indent=1), "utf-16" if path.suffix == ".ps" else "utf-8")
    return path


ENTRY = {"text": "35.7", "by": "K. Larch", "at": "2026-11-25"}


@pytest.mark.parametrize("name", ["a.json", "a.txt", "a.ps"])
def test_a_correction_in_json_is_the_same_as_one_in_a_csv(
    name: str, hard: tuple[Reading, Table, Path], tmp_path: Path
) -> None:
    reading, table, file = hard
    enter(table, row_of(table, "hardness"), "35.7")
    by_json = welltold.read(
        as_json(reading, tmp_path / name, lambda r: r.update(correction=dict(ENTRY)))
    )
    assert by_json == welltold.read(saved(table, file))


REFUSED_JSON: dict[str, tuple[dict[str, Any], str]] = {
    "not a result": ({"correction": {**ENTRY, "text": "much"}}, "correction.text"),
    "another number": ({"correction": {**ENTRY, "value": 357}}, "correction.value"),
    "nobody": ({"correction": {"text": "1", "at": "2026-11-25"}}, "correction.by"),
    "no day": ({"correction": {**ENTRY, "at": "today"}}, "correction.at"),
    "the number changed": ({"value": 35.7}, ""),
    "the text changed": ({"text": "35.7"}, ""),
}


@pytest.mark.parametrize("name", REFUSED_JSON)
def test_a_wrong_correction_in_json_is_told_with_its_place(
    name: str, hard: tuple[Reading, Table, Path], tmp_path: Path
) -> None:
    change, place = REFUSED_JSON[name]
    file = as_json(hard[0], tmp_path / "a.json", lambda result: result.update(change))
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(file)
    assert caught.value.args[1] == f"samples.0.results.1.{place}".rstrip(".")


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


# -- the command ----------------------------------------------------------------------------------


def command(*words: str | Path) -> subprocess.CompletedProcess[str]:
    rooms = ":".join(str(ROOT / room) for room in ("pipeline", "parsers", "reports"))
    return subprocess.run(
        [sys.executable, "-m", "welltold", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": rooms, "COLUMNS": "100"},
    )


def test_report_and_batch_take_a_corrected_table_in_place_of_the_sheet(tmp_path: Path) -> None:
    inbox = tmp_path / "inbox"
    command("read", SHEETS / "hard-rusty.pdf", "--csv", "--out", inbox)
    file = inbox / "hard-rusty.csv"
    table = list(csv.DictReader(io.StringIO(file.read_text("utf-8-sig"))))
    assert tuple(table[0]) == COLUMNS
    enter(table, row_of(table, "hardness"), "35.7")
    saved(table, file)
    done = command("report", file, "--json")
    view = json.loads(done.stdout)
    assert [(c["label"], c["printed"], c["text"]) for c in view["corrections"]] == [
        ("Hardness", "357", "35.7")
    ]
    (found,) = [f for f in view["samples"][0]["findings"] if f["label"] == "Hardness"]
    assert found["value"] == 35.7
    assert view["source"]["file"] == "hard-rusty.pdf"
    done = command("batch", inbox, "--out", tmp_path / "out", "--format", "json", "--jobs", "1")
    assert done.returncode in {ExitCode.ok, ExitCode.doubts}, done.stderr
    made = tmp_path / "out" / "reports" / "hard-rusty-csv" / "hard-rusty.report.json"
    assert json.loads(made.read_text("utf-8"))["corrections"] == view["corrections"]


def test_several_sheets_printed_as_csv_have_one_head() -> None:
    done = command("read", SHEETS / "hard-rusty.pdf", SHEETS / "metals-latin1.csv", "--csv")
    heads = [line for line in done.stdout.splitlines() if line.startswith("kind,")]
    assert len(heads) == 1


# -- the report -----------------------------------------------------------------------------------


def test_the_homeowners_report_shows_what_was_corrected_and_by_whom(
    hard: tuple[Reading, Table, Path],
) -> None:
    _, table, file = hard
    printed = {name: table[row_of(table, name)]["text"] for name in ("hardness", "iron")}
    enter(table, row_of(table, "hardness"), "35.7")
    enter(table, row_of(table, "iron"), printed["iron"], by="J. Alder")
    view = welltold.interpret(welltold.read(saved(table, file)), as_of=date(2026, 11, 25))
    text = " ".join(render_text(view).split())
    assert "2 results were corrected by hand." in text
    assert "Hardness: K. Larch put “35.7” in place of “357” on November 25, 2026." in text
    found = f"J. Alder looked at the sheet on November 25, 2026 and found “{printed['iron']}”"
    assert found in text
    report = build(view, 0)
    assert report.appendix is not None
    cells = [row[1] for row in report.appendix.rows if row[0] == "Hardness"]
    assert cells == ["35.7 mg/L (corrected; printed: “357”)"]


def test_a_result_that_nobody_corrected_is_not_said_to_be() -> None:
    view = welltold.interpret(welltold.read(SHEETS / "hard-rusty.pdf"), as_of=date(2026, 11, 25))
    assert "corrected" not in render_text(view)


def test_a_reading_is_never_written_over_its_sheet(tmp_path: Path) -> None:
    sheet = tmp_path / "metals-latin1.csv"
    before = (SHEETS / sheet.name).read_bytes()
    sheet.write_bytes(before)
    done = command("read", sheet, "--csv", "--out", tmp_path)
    assert done.returncode == ExitCode.output_unwritable
    assert sheet.read_bytes() == before


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
