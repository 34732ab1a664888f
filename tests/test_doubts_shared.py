"""A doubt that many results share is told once, with all that it settles."""

from __future__ import annotations

import json
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from lxml import html
from openpyxl import load_workbook

import welltold
from welltold.command.tables import print_reading
from welltold.doubts import doubts_of, heading_of, told_of
from welltold.jsonform import to_jsonable
from welltold.messages import catalogue, say, speaking
from welltold.reading import Reading, Result, Sample, Source, Where
from welltold.tables import read_table
from welltold_parsers.geometry import Sheet, SheetCell
from welltold_parsers.showing import show
from welltold_parsers.showing.grid import grid_of
from welltold_parsers.showing.marks import Mark, marks_of
from welltold_parsers.showing.svg import placed

SHEETS = Path(__file__).parents[1] / "samples" / "sheets"
NO_UNIT = say("read.unit_missing")
FAR = say("read.value_far")
NO_NAME = say("read.sample_nameless")


def head(text: str, left: float = 300.0, page: int = 1) -> Where:
    return Where("header", page, None, (left, 90.0, left + 40, 100.0), None, text)


def one(label: str, top: float, *review: welltold.Message, under: Where | None = None) -> Result:
    value = Where("value", 1, None, (300.0, top, 330.0, top + 10))
    where = (value, under) if under else (value,)
    return Result(None, label, "1.0", "value", review=review, where=where)


def reading(*samples: tuple[Result, ...]) -> Reading:
    named = tuple(Sample(id=f"S-{n}", results=results) for n, results in enumerate(samples, 1))
    return Reading(Source("a.pdf", "0" * 64, "pdf", 1), samples=named)


def test_one_reason_of_a_column_is_one_doubt_and_what_is_of_one_number_stays_with_it() -> None:
    under = head("Result 2")
    results = (
        one("Lead", 120, NO_UNIT, under=under),
        one("Iron", 140, NO_UNIT, FAR, under=under),
        one("Zinc", 160, under=under),
        one("Zinc", 180, NO_UNIT, under=under),
    )
    column, alone = doubts_of(reading(results))
    assert (column.of, column.name, column.count) == ("column", "Result 2", 3)
    assert (column.labels, column.results) == (("Lead", "Iron", "Zinc"), (1, 2, 4))
    assert column.reasons == (NO_UNIT,)
    assert [place.of for place in column.where] == ["header", "value", "value", "value"]
    assert (alone.of, alone.labels, alone.reasons, alone.results) == (
        "result",
        ("Iron",),
        (FAR,),
        (2,),
    )
    assert heading_of(column) == "3 results of the column “Result 2”"
    with speaking("es"):
        assert told_of(column) == "3 resultados de la columna “Result 2” (Lead, Iron, Zinc)"


def test_a_column_goes_on_over_pages_and_two_columns_stay_two() -> None:
    first, again, other = head("Result"), head("Result", page=2), head("Repeat", 400)
    results = (
        one("Lead", 120, NO_UNIT, under=first),
        one("Iron", 140, NO_UNIT, under=again),
        one("Zinc", 160, NO_UNIT, under=other),
        one("Tin", 180, NO_UNIT, under=other),
    )
    assert [(d.name, d.results) for d in doubts_of(reading(results))] == [
        ("Result", (1, 2)),
        ("Repeat", (3, 4)),
    ]


def test_a_doubt_of_one_result_alone_and_a_number_to_compare_are_told_by_themselves() -> None:
    results = (one("Lead", 120, FAR), one("Iron", 140, FAR), one("Zinc", 160, NO_UNIT))
    found = doubts_of(reading(results))
    assert [(d.of, d.labels) for d in found] == [
        ("result", ("Lead",)), ("result", ("Iron",)), ("result", ("Zinc",)),
    ]  # fmt: skip


def test_doubts_of_samples_are_told_by_sample() -> None:
    here = (one("Lead", 120, NO_NAME), one("Iron", 140, NO_NAME))
    there = (one("Lead", 220, NO_NAME), one("Iron", 240, NO_NAME))
    found = doubts_of(reading(here, there))
    assert [(d.of, d.name, d.results) for d in found] == [
        ("sample", "S-1", (1, 2)),
        ("sample", "S-2", (3, 4)),
    ]


def test_every_reason_of_every_result_is_in_exactly_one_doubt() -> None:
    under = head("Result")
    results = tuple(
        one(
            f"Test {n}",
            100 + n,
            *(m for at, m in enumerate((NO_UNIT, FAR, NO_NAME)) if n >> at & 1),
            under=under if n % 3 else None,
        )
        for n in range(16)
    )
    whole = reading(results)
    told = [
        (number, reason.code)
        for d in doubts_of(whole)
        for number in d.results
        for reason in d.reasons
    ]
    assert sorted(told) == sorted(
        (number, reason.code) for number, r in enumerate(whole.results, 1) for reason in r.review
    )


def test_reasons_that_are_shared_are_sentences_of_the_catalogue() -> None:
    for row in read_table("shared_doubts.csv"):
        room, _, name = row.text("reason").partition(".")
        assert name in catalogue(room)


# -- where it is told -----------------------------------------------------------------------------


def doubtful(name: str = "hard-rusty.pdf") -> Reading:
    """A sample sheet of which the first five results lack their unit; the third is far too."""
    whole = welltold.read(SHEETS / name)
    sample = whole.samples[0]
    results = [
        replace(r, review=((NO_UNIT, FAR) if n == 2 else (NO_UNIT,)) if n < 5 else ())
        for n, r in enumerate(sample.results)
    ]
    return replace(whole, samples=(replace(sample, results=tuple(results)), *whole.samples[1:]))


def test_the_place_of_a_heading_says_what_is_printed_there() -> None:
    found = welltold.read(SHEETS / "hard-rusty.pdf").results[0].where
    assert [place.text for place in found if place.of == "header"] == ["Your result"]
    assert all(place.text is None for place in found if place.of != "header")


def test_the_terminal_tells_it_once(capsys: pytest.CaptureFixture[str]) -> None:
    whole = doubtful()
    print_reading(whole)
    told = " ".join(capsys.readouterr().out.split())
    assert told.count(NO_UNIT.text) == 1
    assert "5 results of the column “Your result”:" in told
    assert ", ".join(r.label for r in whole.results[:5]) in told


@pytest.mark.parametrize("name", ["hard-rusty.pdf", "metals-latin1.csv", "fixed-width.txt"])
def test_all_frames_of_a_doubt_carry_its_number_and_the_list_tells_it_once(
    name: str, tmp_path: Path
) -> None:
    whole = doubtful(name)
    shown = marks_of(whole)
    assert [m.number for m in shown.marks if m.number].count("1") >= 5
    assert shown.count("look") == 5
    text = show(whole, SHEETS / name, tmp_path, "page").read_text("utf-8")
    page = html.fromstring(text.encode())
    assert len(page.xpath("//*[@id='frame-1']")) == len(page.xpath("//*[@id='doubt-1']")) == 1
    assert text.count(NO_UNIT.text) == 1
    (line,) = page.xpath("//tr[@id='doubt-1']")
    assert "5 results of" in line.text_content()
    numbers = [row.text_content().split() for row in page.xpath("//td[@class='no']")]
    assert numbers[:6] == [["1"], ["1"], ["1"], ["1,", "2"], ["1"], ["1"]]


def test_the_published_reading_tells_it_once_and_each_result_keeps_its_reasons(
    tmp_path: Path,
) -> None:
    whole = doubtful()
    out = to_jsonable(whole)
    told = [(d["of"], d["count"], d["results"]) for d in out["doubts"]]
    assert told == [("column", 5, [1, 2, 3, 4, 5]), ("result", 1, [3])]
    first = out["samples"][0]["results"][2]
    assert [reason["code"] for reason in first["review"]] == ["read.unit_missing", "read.value_far"]
    path = tmp_path / "reading.json"
    path.write_text(json.dumps(out), "utf-8")
    assert to_jsonable(welltold.read(path))["doubts"] == out["doubts"]


def test_the_report_tells_it_once_among_its_notes_and_in_its_workbook(tmp_path: Path) -> None:
    view = welltold.interpret(doubtful())
    paths = welltold.write(view, tmp_path, ["html", "xlsx"], name="r")
    page = html.fromstring(next(p for p in paths if p.suffix == ".html").read_bytes())
    lines = [li.text_content() for li in page.xpath("//li")]
    assert sum("5 results of the column “Your result”" in line for line in lines) == 1
    book = load_workbook(next(p for p in paths if p.suffix == ".xlsx"))
    rows = [tuple(cell.value for cell in row) for row in book.worksheets[-1].rows]
    assert sum(row[-1] == NO_UNIT.text for row in rows) == 1


# -- numbers beside frames ------------------------------------------------------------------------

Box = tuple[float, float, float, float]


def numbered(box: Box, *numbers: str) -> list[Mark]:
    return [Mark("look", Where("value", 1, None, box), "7", number) for number in numbers]


def test_several_numbers_of_one_frame_stand_in_their_order_and_apart() -> None:
    tags = [tag for _, _, tag in placed(numbered((100.0, 50.0, 120.0, 60.0), "1", "2", "12"))]
    assert all(a[2] < b[0] for a, b in pairwise(tags))
    assert tags[-1][2] <= 100.0


def test_a_number_does_not_lie_over_what_was_read_beside_it() -> None:
    beside: Box = (90.0, 50.0, 98.0, 60.0)
    marks = [
        *numbered((100.0, 50.0, 120.0, 60.0), "3"),
        Mark("used", Where("value", box=beside), "5"),
    ]
    (_, _, tag), _ = placed(marks)
    assert tag[3] <= 50.0
    alone = [tag for _, _, tag in placed(numbered((100.0, 50.0, 120.0, 60.0), "3"))]
    assert alone[0][2] <= 100.0
    assert alone[0][3] > 50.0


def test_rows_that_are_empty_on_the_sheet_are_not_called_left_out() -> None:
    rows = tuple((SheetCell(at, 1, "x"),) for at in (1, 2, 5))
    gaps = [(row.gap, row.empty) for row in grid_of(Sheet("", rows), []).rows if row.gap]
    assert gaps == [(2, True)]
    many = Sheet("", tuple((SheetCell(at, 1, "x"),) for at in range(1, 400)))
    far = grid_of(many, [Mark("used", Where("value", sheet="", cell="A300"), "x")])
    assert [(row.gap, row.empty) for row in far.rows if row.gap] == [(296, False)]
