"""A reading as rows, as CSV, as a frame, and back from JSON."""

from __future__ import annotations

import csv
import io
import json
import math
from decimal import Decimal
from pathlib import Path

import pytest

from welltold.correction_sheet import to_csv
from welltold.errors import FileMissingError, ReadingFileError
from welltold.jsonform import to_jsonable
from welltold.messages import Message
from welltold.reading import Lab, Normalized, Reading, Result, Sample, Source, Unread, Where
from welltold.reading_json import load_reading
from welltold.rows import COLUMNS, place_in_words, rows

DOUBT = Message("typed.unit_missing", {}, "No unit was typed.")
READING = Reading(
    source=Source("a.pdf", "0" * 64, "pdf", 1),
    lab=Lab("Bracken Creek Water Lab", "R-7"),
    samples=(
        Sample(
            id="7-1",
            point="kitchen, cold",
            collected="2026-11-02",
            taken="raw",
            results=(
                Result(
                    analyte="nitrate",
                    label="Nitrate as N",
                    text="<0.10 U",
                    state="below",
                    operator="<",
                    value=Decimal("0.10"),
                    unit="mg/L",
                    basis="N",
                    qualifiers=("U",),
                    normalized=Normalized(Decimal("0.10"), "mg/L", "N"),
                    decimals=2,
                    where=(Where("value", page=1, box=(72.0, 144.0, 90.0, 156.0)),),
                ),
                Result(
                    analyte=None,
                    label="Odd, test",
                    text="ND",
                    state="below",
                    operator="<",
                    review=(DOUBT,),
                    confidence=0.5,
                    where=(Where("value", sheet="Data", cell="C4"),),
                ),
            ),
        ),
    ),
    unread=(Unread("?? 12", Where("value", page=1), DOUBT),),
)


def test_rows_carry_every_column_and_the_place_in_words() -> None:
    first, second = rows(READING)
    assert set(first) == set(COLUMNS)
    # 72 points are one inch.
    assert first["place"] == "page 1, 1.0 in across, 2.0 in down"
    assert second["place"] == "Data!C4"
    assert (first["use"], second["use"]) == ("as_is", "look")


def test_csv_reads_back_with_the_printed_digits() -> None:
    lines = csv.DictReader(io.StringIO(to_csv([READING])))
    table = [line for line in lines if line["kind"] == "result"]
    assert [row["text"] for row in table] == ["<0.10 U", "ND"]
    assert table[0]["value"] == "0.10"
    assert table[1]["value"] == ""
    assert table[1]["label"] == "Odd, test"


def test_a_frame_never_turns_not_found_into_zero() -> None:
    frame = READING.to_frame()
    assert list(frame.columns) == list(COLUMNS)
    assert frame["value"].iloc[0] == pytest.approx(0.1)
    assert math.isnan(frame["value"].iloc[1])


def test_a_place_without_a_box_is_told_by_its_page() -> None:
    assert place_in_words((Where("value", page=3),)) == "page 3"
    assert place_in_words(()) is None


def test_json_comes_back_as_it_was(tmp_path: Path) -> None:
    file = tmp_path / "a.json"
    file.write_text(json.dumps(to_jsonable(READING)), "utf-8")
    back = load_reading(file)
    assert to_jsonable(back) == to_jsonable(READING)
    assert back.results[0].use == "as_is"
    assert back.doubts == READING.doubts == 2


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("{", "line 1"),
        ("[]", "schema"),
        ('{"schema": "welltold.reading/2"}', "schema"),
        ('{"schema": "welltold.reading/1"}', "source"),
    ],
)
def test_a_broken_reading_is_named_with_its_place(tmp_path: Path, text: str, place: str) -> None:
    file = tmp_path / "a.json"
    file.write_text(text, "utf-8")
    with pytest.raises(ReadingFileError) as caught:
        load_reading(file)
    assert caught.value.args[1] == place


def test_a_missing_reading_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        load_reading(tmp_path / "none.json")
