"""Text files whose columns stand one blank apart: places counted by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from layout_sheets import brief

from welltold.errors import NoResultError
from welltold.reading import Reading
from welltold_parsers import read

_TITLE = "ALDER LABORATORY                       REPORT 26-1188\n\n"


def _read(tmp_path: Path, text: str) -> Reading:
    path = tmp_path / "sheet.txt"
    path.write_text(_TITLE + text)
    return read(path)


def test_heads_and_rows_one_blank_apart(tmp_path: Path) -> None:
    reading = _read(
        tmp_path,
        "Sample  Date     pH  Cond  Hard Iron Nitrate Chloride\n"
        "                     uS/cm mg/L mg/L mg/L    mg/L\n"
        "W-1     05/12/26 7.1 540   210  0.35 4.2     12\n"
        "W-2     05/12/26 7.4 610   180  0.02 <0.1    8\n",
    )
    assert [s.point or s.id for s in reading.samples] == ["W-1", "W-2"]
    assert {s.collected for s in reading.samples} == {"2026-05-12"}
    assert [brief(r)[:3] for r in reading.samples[1].results] == [
        ("ph", "7.4", "pH"),
        ("specific_conductance", "610", "uS/cm"),
        ("hardness", "180", "mg/L"),
        ("iron", "0.02", "mg/L"),
        ("nitrate", "<0.1", "mg/L"),
        ("chloride", "8", "mg/L"),
    ]


def test_names_of_two_words_stay_whole(tmp_path: Path) -> None:
    reading = _read(
        tmp_path,
        "Well Name pH  TDS Fe   Mn   NO3-N As\nBarn      7.1 310 0.20 0.05 1.2   <1\n"
        "House     7.4 290 0.10 0.02 0.8   2\nCabin #2  6.8 150 1.90 0.31 <.1   11\n",
    )
    assert [s.point for s in reading.samples] == ["Barn", "House", "Cabin #2"]
    assert [r.text for r in reading.samples[2].results] == [
        "6.8",
        "150",
        "1.90",
        "0.31",
        "<.1",
        "11",
    ]


@pytest.mark.parametrize("row", ["Barn well  near the old house", "Pump  set to 60 psi"])
def test_sentences_below_a_title_are_no_columns(tmp_path: Path, row: str) -> None:
    with pytest.raises(NoResultError):
        _read(tmp_path, f"Iron Lead Copper\n{row}\n{row}\n")
