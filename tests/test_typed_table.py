"""The whole table that a person typed: samples, dates, decimal commas, and what is out of range."""

from __future__ import annotations

from decimal import Decimal
from importlib.resources import files
from pathlib import Path

import pytest
from test_typed import HEAD, typed

from welltold import read
from welltold.errors import NoResultError, ReadingFileError


def semicolons(folder: Path, *lines: str) -> Path:
    path = folder / "typed.csv"
    path.write_text("\n".join([HEAD.replace(",", ";"), *lines]) + "\n", "utf-8")
    return path


def test_the_untouched_template_holds_no_result(tmp_path: Path) -> None:
    path = tmp_path / "template.csv"
    text = (files("welltold") / "data" / "reading_template.csv").read_text("utf-8")
    path.write_text(text, "utf-8")
    with pytest.raises(NoResultError) as caught:
        read(path)
    assert caught.value.args[1] == 0
    # The examples themselves are right once the mark before them is taken away.
    path.write_text(text.replace("# 1,", "1,"), "utf-8")
    assert [result.analyte for result in read(path).results] == ["nitrate", "iron"]
    assert all(result.use == "as_is" for result in read(path).results)


def test_one_line_below_the_remarks_of_the_template_is_enough(tmp_path: Path) -> None:
    path = tmp_path / "template.csv"
    text = (files("welltold") / "data" / "reading_template.csv").read_text("utf-8")
    path.write_text(text + "1,,,,Iron,0.3,,mg/L,,,\n", "utf-8")
    assert [result.analyte for result in read(path).results] == ["iron"]


def test_a_sample_number_with_a_mark_before_it_is_not_lost(tmp_path: Path) -> None:
    reading = read(typed(tmp_path, "#1,,,,Iron,0.3,,mg/L,,,", "2,,,,Iron,0.4,,mg/L,,,"))
    assert [line.reason.code for line in reading.unread] == ["typed.remark"]
    assert reading.unread[0].where.cell == "F3"


def test_a_decimal_comma_is_read_and_a_comma_with_two_meanings_is_not(tmp_path: Path) -> None:
    row = "A;;;;Lead;0,5;0,5;ug/L;;;0,1"
    (result,) = read(semicolons(tmp_path, row)).results
    assert (result.value, result.reporting_limit) == (Decimal("0.5"), Decimal("0.1"))
    assert result.use == "as_is"
    with pytest.raises(ReadingFileError, match=r"F3.*two ways"):
        read(semicolons(tmp_path, row, "A;;;;Iron;1,000;;ug/L;;;"))


def test_a_point_among_decimal_commas_has_two_meanings(tmp_path: Path) -> None:
    row = "A;;;;Chloride;1.250;;mg/L;;;"
    assert read(semicolons(tmp_path, row)).results[0].value == Decimal("1.250")
    with pytest.raises(ReadingFileError, match=r"F2.*two ways"):
        read(semicolons(tmp_path, row, "A;;;;Lead;0,5;0,5;ug/L;;;"))


def test_a_line_with_too_many_cells_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ReadingFileError, match="M3"):
        read(typed(tmp_path, "1,,,,Lead,1,5,1,5,ug/L,,,x"))


def test_a_sample_that_returns_later_is_one_sample(tmp_path: Path) -> None:
    reading = read(
        typed(
            tmp_path,
            "A,tap,,raw,Iron,0.3,,mg/L,,,",
            "B,tap,,raw,Iron,0.4,,mg/L,,,",
            "A,,2026-10-01,,Chloride,5,,mg/L,,,",
        )
    )
    assert [(s.id, s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("A", "tap", "2026-10-01", 2),
        ("B", "tap", None, 1),
    ]


@pytest.mark.parametrize(
    ("row", "cell"),
    [
        ("A,tap,2026-10-01,zzz,Iron,0.3,,mg/L,,,", "D4"),
        ("A,tap,2026-10-01,flushed,Iron,0.3,,mg/L,,,", "D4"),
        ("A,tap,2026-10-02,raw,Iron,0.3,,mg/L,,,", "C4"),
        ("A,tap,nonsense,raw,Iron,0.3,,mg/L,,,", "C4"),
        ("A,tap,11/25/26,raw,Iron,0.3,,mg/L,,,", "C4"),
        ("A,cellar,2026-10-01,raw,Iron,0.3,,mg/L,,,", "B4"),
        ("A,tap,2026-10-01,raw,Iron,0.3,,mg/L,,,abc", "K4"),
        ("A,tap,2026-10-01,raw,Iron,0.3,,mg/L,,,5 ug/L", "K4"),
    ],
)
def test_a_cell_that_cannot_be_or_contradicts_is_named(row: str, cell: str, tmp_path: Path) -> None:
    with pytest.raises(ReadingFileError) as caught:
        read(typed(tmp_path, "A,tap,2026-10-01,raw,Lead,4,4,ppb,,,", row))
    assert caught.value.args[1] == cell


def test_the_list_of_words_has_no_empty_one(tmp_path: Path) -> None:
    with pytest.raises(ReadingFileError) as caught:
        read(typed(tmp_path, "A,,,wrongvalue,Iron,0.3,,mg/L,,,"))
    assert caught.value.args[2].endswith("first_draw, flushed, raw, treated")


@pytest.mark.parametrize("day", ["10/1/2026", "2026-10-01"])
def test_a_clear_day_is_kept_as_iso(day: str, tmp_path: Path) -> None:
    (sample,) = read(typed(tmp_path, f"A,,{day},,Iron,0.3,,mg/L,,,")).samples
    assert sample.collected == "2026-10-01"


@pytest.mark.parametrize(
    ("name", "text", "unit", "code"),
    [
        ("pH", "61", "", "typed.cannot_be"),  # the scale ends at 14
        ("pH", "13.5", "", "typed.far"),  # natural groundwater: 4.5 to 10.5
        ("pH", "61", "SU", "typed.cannot_be"),
        ("Iron", "-0.3", "mg/L", "typed.cannot_be"),
        ("Calcium", "90000", "mg/L", "typed.far"),
    ],
)
def test_a_number_out_of_range_is_looked_at(
    name: str, text: str, unit: str, code: str, tmp_path: Path
) -> None:
    (result,) = read(typed(tmp_path, f"A,,,,{name},{text},{text},{unit},,,")).results
    assert [message.code for message in result.review] == [code]


def test_a_usual_number_needs_no_look(tmp_path: Path) -> None:
    (result,) = read(typed(tmp_path, "A,,,,pH,6.1,,,,,")).results
    assert result.use == "as_is"


def test_not_found_takes_the_limit_beside_it(tmp_path: Path) -> None:
    (result,) = read(typed(tmp_path, "A,,,,Lead,ND,ND,ug/L,,,0.5")).results
    assert (result.state, result.value) == ("below", Decimal("0.5"))


def test_one_letter_answers_for_a_germ(tmp_path: Path) -> None:
    (result,) = read(typed(tmp_path, "A,,,,E. coli,A,A,,,,")).results
    assert result.present is False
