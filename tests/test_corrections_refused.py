"""Changes of a table, or of a reading in JSON, that are no correction: refused with their place."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from correction_tables import Table, enter, hard_sheet, row_of, saved, table_of
from test_rows import READING

import welltold
from welltold.errors import ReadingFileError
from welltold.jsonform import dump_json
from welltold.reading import Reading


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
def test_any_other_change_is_an_error_with_its_place(name: str, tmp_path: Path) -> None:
    change, place, why = REFUSED[name]
    _, table, file = hard_sheet(tmp_path)
    assert len(table) == 17
    change(table)
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(saved(table, file))
    assert caught.value.args[0] == file.name
    assert caught.value.args[1].startswith(place)
    assert why in caught.value.args[2]


def test_a_correction_cannot_be_taken_back_silently(tmp_path: Path) -> None:
    _, table, file = hard_sheet(tmp_path)
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
def test_a_correction_in_json_is_the_same_as_one_in_a_csv(name: str, tmp_path: Path) -> None:
    reading, table, file = hard_sheet(tmp_path)
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
def test_a_wrong_correction_in_json_is_told_with_its_place(name: str, tmp_path: Path) -> None:
    change, place = REFUSED_JSON[name]
    file = as_json(
        hard_sheet(tmp_path)[0], tmp_path / "a.json", lambda result: result.update(change)
    )
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(file)
    assert caught.value.args[1] == f"samples.0.results.1.{place}".rstrip(".")
