"""Results typed by hand: read as typed, and doubted where health rests on a single keystroke."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from welltold import interpret, read
from welltold.errors import ReadingFileError

HEAD = "sample,point,collected,taken,analyte,result,result_again,unit,basis,method,reporting_limit"


def typed(tmp_path: Path, *lines: str) -> Path:
    path = tmp_path / "typed.csv"
    path.write_text("\n".join(["# a remark", HEAD, *lines]) + "\n", "utf-8")
    return path


def test_a_line_is_read_as_it_was_typed(tmp_path: Path) -> None:
    reading = read(typed(tmp_path, "1,kitchen,2026-11-02,raw,Nitrate,4.20,4.20,mg/L,N,,0.1"))
    (sample,) = reading.samples
    (result,) = sample.results
    assert reading.source.kind == "typed"
    assert [w.code for w in reading.warnings] == ["typed.by_hand"]
    assert (sample.id, sample.point, sample.collected, sample.taken) == (
        "1",
        "kitchen",
        "2026-11-02",
        "raw",
    )
    assert (result.analyte, result.value, result.unit, result.basis) == (
        "nitrate",
        Decimal("4.20"),
        "mg/L",
        "N",
    )
    assert result.reporting_limit == Decimal("0.1")
    assert result.use == "as_is"
    # The remark is line 1 and the head line 2, so the result stands in F3, the label in E3.
    assert {place.of: place.cell for place in result.where} == {
        "value": "F3",
        "label": "E3",
        "unit": "H3",
    }


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("1,,,,Nitrate,4.2,,mg/L,N,,", "typed.twice_missing"),
        ("1,,,,Nitrate,4.2,42,mg/L,N,,", "typed.twice_differs"),
        ("1,,,,Iron,0.8,,mgl?,,,", "typed.unit_unknown"),
        ("1,,,,Iron,0.8,,,,,", "typed.unit_missing"),
        ("1,,,,Stuff from the tap,0.8,,mg/L,,,", "typed.name_unknown"),
    ],
)
def test_a_doubt_is_told_at_the_line(tmp_path: Path, line: str, code: str) -> None:
    (result,) = read(typed(tmp_path, line)).results
    assert code in [message.code for message in result.review]
    assert result.use == "look"


def test_a_nuisance_needs_no_second_typing(tmp_path: Path) -> None:
    (result,) = read(typed(tmp_path, "1,,,,Hardness,14,,gpg,,,")).results
    assert result.use == "as_is"


def test_what_is_no_result_is_kept_as_unread(tmp_path: Path) -> None:
    reading = read(
        typed(tmp_path, "1,,,,Iron,see the letter,,mg/L,,,", "1,,,,Manganese,0.1,,mg/L,,,")
    )
    assert [result.analyte for result in reading.results] == ["manganese"]
    (line,) = reading.unread
    assert "see the letter" in line.text
    assert line.where.cell == "F3"


def test_two_bottles_are_two_samples(tmp_path: Path) -> None:
    reading = read(
        typed(
            tmp_path,
            "1,kitchen,,first_draw,Lead,4,4,ppb,,,",
            "2,kitchen,,flushed,Lead,<1,<1,ppb,,,",
        )
    )
    assert [sample.taken for sample in reading.samples] == ["first_draw", "flushed"]
    assert [sample.results[0].operator for sample in reading.samples] == ["=", "<"]


def test_a_word_outside_its_list_names_the_cell(tmp_path: Path) -> None:
    with pytest.raises(ReadingFileError) as caught:
        read(typed(tmp_path, "1,,,first,Iron,0.8,,mg/L,,,"))
    assert "D3" in str(caught.value)


@pytest.mark.parametrize(("first", "second"), [("4", "40"), ("40", "4")])
def test_of_two_entries_that_differ_the_graver_keeps_its_step(
    tmp_path: Path, first: str, second: str
) -> None:
    """40 ug/L of lead is four times the action level of 10 (40 CFR 141.80(c)(1)); 4 is below it."""
    reading = read(typed(tmp_path, f"1,kitchen,,first_draw,Lead,{first},{second},ug/L,,,"))
    (found,) = [f for f in interpret(reading).samples[0].findings if f.analyte == "lead"]
    assert found.verdict in {"cant_tell", "health_concern"}
    assert found.do
