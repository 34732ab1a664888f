"""What an earlier sheet raised, and what this one cannot follow."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pytest
from history_sheets import (
    SHEETS,
    D,
    arsenic,
    earlier_of,
    germs,
    nitrate,
    raised_before,
    report_with,
    sheet_of,
    view,
)
from lxml import html as lxml_html
from openpyxl import load_workbook
from report_making import sample, view_of
from test_reports_schema import validator

import welltold
from welltold.earlier import with_earlier
from welltold.jsonform import to_jsonable
from welltold_reports import render_text, write
from welltold_reports.xlsx import workbook


def test_a_health_concern_of_an_earlier_day_that_is_not_tested_now_is_told() -> None:
    left = earlier_of(view(nitrate("8")), raised_before()).left
    assert [(one.analyte, one.verdict, one.tested) for one in left] == [
        ("arsenic", "health_concern", False),
        ("e_coli", "health_concern", False),
        ("copper", "cant_tell", False),
    ]


def test_what_is_not_tested_now_counts_as_that_where_the_sheet_lists_it() -> None:
    now = view(nitrate("8"), {"slug": "arsenic", "text": "", "verdict": "not_tested"})
    assert "arsenic" in {one.analyte for one in earlier_of(now, raised_before()).left}


def test_what_stands_beside_the_present_result_is_not_told_twice() -> None:
    now = view(nitrate("8"), arsenic("0.012"), germs("Absent", verdict="no_concern_found"))
    left = earlier_of(now, raised_before()).left
    assert [one.analyte for one in left] == ["copper"]


def test_another_bottle_of_the_same_place_tests_for_it_too() -> None:
    metals = sample(sheet_of(nitrate("8")), "A", "Kitchen tap")
    slip = sample(sheet_of(germs("Absent", verdict="no_concern_found")), "B", "Kitchen tap")
    other = sample(sheet_of(arsenic("0.012")), "C", "Barn")
    before = view(
        germs("Present", verdict="health_concern"),
        arsenic("14", unit="ug/L", levels=(), verdict="health_concern"),
        sha="b",
        point="Kitchen tap",
    )
    left = earlier_of(view_of(metals, slip, other), before).left
    assert [one.analyte for one in left] == ["arsenic"]


def test_the_list_names_the_result_its_day_and_its_verdict_in_words() -> None:
    report = report_with(view(nitrate("8")), raised_before())
    assert report.history is not None
    assert report.history.left_heading == "On earlier sheets and not tested now"
    first, second, third = report.history.left
    assert first == (
        "Arsenic: 14 µg/L, March 1, 2024 (b.pdf). Verdict for that sheet: Health concern. "
        "Test this again."
    )
    assert second.startswith("E. coli bacteria: Present, March 1, 2024 (b.pdf). Verdict for")
    assert "Can't tell." in third


def test_a_number_without_its_basis_is_told_with_the_reason() -> None:
    """12 mg/L may count the nitrogen or all of the nitrate: 12 or 2.7 mg/L as N."""
    bare = nitrate("12", value=None, basis=None, verdict="cant_tell", levels=())
    now = view(nitrate("0.1", operator="<", verdict="no_concern_found"))
    report = report_with(now, view(bare, day="2024-03-01", sha="b"))
    assert report.history is not None
    assert report.history.left_heading.startswith("On earlier sheets and not tested now, or")
    (line,) = report.history.left
    assert line.startswith("Nitrate: 12 mg/L, March 1, 2024 (b.pdf). This sheet tests for it too")
    assert "There is no number that we can compare." in line


def test_what_has_a_table_with_its_reason_is_not_listed_as_well() -> None:
    bare = nitrate("12", value=None, basis=None, verdict="cant_tell", levels=())
    report = report_with(view(nitrate("8")), view(bare, day="2024-03-01", sha="b"))
    assert report.history is not None
    assert report.history.left == ()
    assert len(report.history.blocks) == 1


def test_every_health_concern_is_listed_and_of_open_ones_the_first() -> None:
    metals = ["copper", "lead", "iron", "manganese", "barium", "cadmium", "chromium", "zinc"]
    open_ = [
        {"slug": slug, "text": "ND", "unit": "mg/L", "verdict": "cant_tell"} for slug in metals
    ]
    before = view(*open_, germs("Present", verdict="health_concern"), day="2024-03-01", sha="b")
    report = report_with(view(nitrate("8")), before)
    assert report.history is not None
    lines = report.history.left
    assert lines[0].startswith("E. coli")
    assert len(lines) == 1 + 6 + 1
    assert lines[-1].startswith("Open on earlier sheets too: 2 more.")
    assert len(earlier_of(view(nitrate("8")), before).left) == 9


@pytest.mark.parametrize(
    ("language", "told"),
    [("en", "On earlier sheets and not tested now"), ("es", "En hojas anteriores y sin analizar")],
)
def test_every_form_tells_what_is_not_tested_now(tmp_path: Path, language: Any, told: str) -> None:
    old = tmp_path / "old.csv"
    old.write_text(
        "Sample ID,Location,Collected,Analyte,Result,Unit\n"
        "1,Well head,2024-03-01,Arsenic,14,ug/L\n1,Well head,2024-03-01,E. coli,Present,\n",
        encoding="utf-8",
    )
    now, before = welltold.read(SHEETS / "hard-rusty.pdf"), welltold.read(old)
    seen = welltold.interpret(now, earlier=[before], language=language)
    (page,) = write(seen, tmp_path, ["html"], name="x")[:1]
    text = lxml_html.document_fromstring(page.read_bytes()).text_content()
    for one in (render_text(seen), text):
        assert told in " ".join(one.split())
        assert "14 µg/L" in one
    assert not list(validator("welltold.report-1.json").iter_errors(to_jsonable(seen)))


def test_the_workbook_lists_what_is_not_tested_now() -> None:
    book = load_workbook(io.BytesIO(workbook(with_earlier(view(nitrate("8")), [raised_before()]))))
    rows = list(book["Earlier sheets"].iter_rows(values_only=True))
    (row,) = (row for row in rows if row[3] == "Arsenic")
    assert row[2:6] == ("2024-03-01", "Arsenic", "14", "ug/L")
    assert row[10].startswith("This sheet does not test for it. Verdict for that sheet: Health")


def test_a_number_that_we_worked_out_is_rounded_and_marked() -> None:
    """Hardness from 38 mg/L of calcium and 15 of magnesium: 157 mg/L as CaCO3."""
    row = {"slug": "hardness", "unit": "mg/L", "basis": "CaCO3"}
    worked = {**row, "text": "", "value": D("156.6560016800179611994750548")}
    now = view({**row, "text": "357", "value": D(357)})
    report = report_with(now, view(worked, sha="b", day="2024-03-01"))
    assert report.history is not None
    told = report.history.blocks[0].table.rows[0][1]
    assert told == "157 mg/L (worked out from other results)"


def test_that_sheets_may_be_of_two_wells_stands_before_their_numbers() -> None:
    now = view(nitrate("8"), point="Kitchen tap")
    text = render_text(with_earlier(now, [view(nitrate("7"), sha="b", point="Well head")]))
    text = " ".join(text.split("Earlier sheets of this well")[1].split())
    first = text.index("Leave the earlier sheet out if it is from another well.")
    assert first < text.index("Lab numbers differ") < text.index("Result on the sheet")
