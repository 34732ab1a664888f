"""Earlier sheets of a well: matched by tap, put into one unit, never compared where it misleads."""

from __future__ import annotations

import io
import json
import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from lxml import html as lxml_html
from openpyxl import load_workbook
from report_making import Sheet, level, note, sample, view_of
from test_reports_schema import validator
from typer.testing import CliRunner

import welltold
from welltold.command.app import app
from welltold.earlier import with_earlier
from welltold.errors import FileMissingError
from welltold.interpretation import Interpretation
from welltold.jsonform import to_jsonable
from welltold.past import Earlier, EarlierResult
from welltold_reports import render_text, write
from welltold_reports.history_chart import MOST, history_svg
from welltold_reports.homeowner import HomeownerReport, build
from welltold_reports.xlsx import workbook

D = Decimal
SHEETS = Path(__file__).parents[2] / "samples" / "sheets"


def sheet_of(*rows: dict[str, Any]) -> Sheet:
    sheet = Sheet()
    for row in rows:
        slug, text, verdict = row.pop("slug"), row.pop("text"), row.pop("verdict", "watch")
        sheet.row(slug, slug.capitalize(), text, verdict, **row)
    return sheet


def view(
    *rows: dict[str, Any], day: str | None = "2026-11-16", sha: str = "a", **more: Any
) -> Interpretation:
    """A sheet with one sample."""
    found, sheet = sample(sheet_of(*rows), **more)
    one = view_of((replace(found, collected=day), sheet))
    source = replace(one.reading.source, sha256=sha * 64, file=f"{sha}.pdf")
    return replace(one, reading=replace(one.reading, source=source))


def nitrate(text: str, **more: Any) -> dict[str, Any]:
    more = {"unit": "mg/L", "basis": "N", **more}
    levels = (level("primary_limit", "10", "mg/L", "N"),)
    return {"slug": "nitrate", "text": text, "value": D(text.lstrip("<>")), "levels": levels} | more


def arsenic(text: str, **more: Any) -> dict[str, Any]:
    more = {"unit": "mg/L", "levels": (level("primary_limit", "0.010"),), **more}
    return {"slug": "arsenic", "text": text, "value": D(text.lstrip("<>")), **more}


def earlier_of(now: Interpretation, *before: Interpretation) -> Earlier:
    found = with_earlier(now, before).samples[0].earlier
    assert found is not None
    return found


def only(now: Interpretation, *before: Interpretation) -> EarlierResult:
    (history,) = earlier_of(now, *before).analytes
    (result,) = history.results
    return result


def codes(result: EarlierResult) -> set[str]:
    return {one.code.removeprefix("earlier.") for one in result.why}


# -- values ---------------------------------------------------------------------------------------


def test_without_earlier_sheets_nothing_is_added() -> None:
    now = view(nitrate("8"))
    assert with_earlier(now, ()) is now
    assert "earlier" not in to_jsonable(now)["samples"][0]


@pytest.mark.parametrize(
    ("row", "value"),
    [
        (arsenic("4.0", unit="ug/L", levels=()), "0.0040"),
        (arsenic("12000", unit="ng/L", levels=()), "0.012"),
        (arsenic("0.004"), "0.004"),
    ],
)
def test_an_earlier_value_is_put_into_the_present_unit(row: dict[str, Any], value: str) -> None:
    result = only(view(arsenic("0.012")), view(row, day="2024-06-01", sha="b"))
    assert result.comparable
    assert result.value == D(value)


def test_nitrate_as_nitrate_is_put_onto_nitrogen() -> None:
    """62.0049 g/mol of NO3 hold 14.0067 g of N (IUPAC 2021): 44.268 mg/L as NO3 is 10.00 as N."""
    before = view(nitrate("44.268", basis="NO3", levels=()), day="2024-06-01", sha="b")
    result = only(view(nitrate("8")), before)
    assert result.value is not None
    assert abs(result.value - D(10)) < D("0.001")


def test_what_was_not_found_keeps_its_limit_and_its_sign() -> None:
    result = only(view(arsenic("0.012")), view(arsenic("<0.005", operator="<"), sha="b"))
    assert (result.operator, result.value, result.comparable) == ("<", D("0.005"), True)


CANNOT = {
    "no_day": (nitrate("8"), nitrate("7"), {"day": None}),
    "unit": (nitrate("8"), nitrate("7", unit="pCi/L", basis=None, levels=()), {}),
    "look": (nitrate("8"), nitrate("7", review=(note("smudged"),)), {}),
    "fraction": (arsenic("0.012", fraction="total"), arsenic("0.004", fraction="dissolved"), {}),
}


@pytest.mark.parametrize("case", CANNOT)
def test_what_cannot_be_compared_is_told(case: str) -> None:
    now, then, more = CANNOT[case]
    result = only(view(dict(now)), view(dict(then), sha="b", **more))
    assert not result.comparable
    assert codes(result) == {case}


@pytest.mark.parametrize(
    ("slug", "now", "then", "told"),
    [
        ("nitrate", "raw", "treated", True),
        ("nitrate", "raw", "flushed", False),
        ("nitrate", "first_draw", "flushed", False),
        ("lead", "first_draw", "flushed", True),
        ("copper", "flushed", "first_draw", True),
        ("lead", None, "first_draw", False),
    ],
)
def test_water_drawn_in_another_way(slug: str, now: Any, then: Any, *, told: bool) -> None:
    """Treatment changes everything; standing in the pipes what the pipes give off."""
    row = {"slug": slug, "value": D(5), "text": "5", "unit": "mg/L"}
    result = only(view(dict(row), taken=now), view(dict(row), taken=then, sha="b"))
    assert (codes(result) == {"taken"}) is told


def test_germs_are_compared_as_found_or_not() -> None:
    row = {"slug": "total_coliform", "text": "Present", "present": True}
    then = {"slug": "total_coliform", "text": "Absent", "present": False}
    result = only(view(row), view(then, sha="b"))
    assert (result.comparable, result.present) == (True, False)


# -- which samples --------------------------------------------------------------------------------


def test_the_same_sheet_is_not_its_own_past() -> None:
    (sheet,) = earlier_of(view(nitrate("8")), view(nitrate("8"))).sheets
    assert not sheet.matched
    assert [one.code for one in sheet.why] == ["earlier.same_sheet"]


def test_samples_of_one_tap_are_found_by_its_name() -> None:
    """The words that only tell how it was drawn do not count as another place."""
    now = view(nitrate("8"), point="Kitchen tap")
    rows = [
        sample(sheet_of(nitrate(text)), id_, point)
        for text, id_, point in (("1", "A", "Barn"), ("7", "B", "KITCHEN TAP"), ("2", "C", None))
    ]
    before = view_of(*rows)
    found = earlier_of(now, before)
    assert [(one.sample, one.matched) for one in found.sheets] == [("B", True)]
    assert found.analytes[0].results[0].value == D(7)


def test_no_sample_is_guessed_among_several() -> None:
    before = view_of(
        *(
            sample(sheet_of(nitrate(text)), text, point)
            for text, point in (("1", "Barn"), ("2", ""))
        )
    )
    (sheet,) = earlier_of(view(nitrate("8"), point="Kitchen tap"), before).sheets
    assert [one.code for one in sheet.why] == ["earlier.no_match"]


def test_two_single_samples_are_taken_for_one_well_and_other_names_are_told() -> None:
    now = view(nitrate("8"), point="Kitchen tap")
    (sheet,) = earlier_of(now, view(nitrate("7"), sha="b", point="Well head")).sheets
    assert sheet.matched
    assert [one.code for one in sheet.why] == ["earlier.only_samples", "earlier.other_name"]


def test_a_newer_sheet_is_told() -> None:
    (sheet,) = earlier_of(view(nitrate("8")), view(nitrate("7"), sha="b", day="2026-12-01")).sheets
    assert "earlier.newer" in [one.code for one in sheet.why]


def test_results_stand_in_order_of_time() -> None:
    days = ["2024-01-05", "2019-01-05", "2025-01-05", "2021-01-05"]
    before = [view(nitrate("7"), day=day, sha=str(at)) for at, day in enumerate(days)]
    (history,) = earlier_of(view(nitrate("8")), *before).analytes
    assert [one.collected for one in history.results] == sorted(days)


# -- pages ----------------------------------------------------------------------------------------


def report_with(now: Interpretation, *before: Interpretation) -> HomeownerReport:
    return build(with_earlier(now, before), 0)


def test_the_picture_is_linear_from_zero_and_has_the_level() -> None:
    before = [
        view(nitrate("5"), day="2019-05-12", sha="b"),
        view(nitrate("<2.5", operator="<"), day="2021-06-02", sha="c"),
    ]
    report = report_with(view(nitrate("20.0", verdict="health_concern")), *before)
    assert report.history is not None
    (block,) = report.history.blocks
    chart = block.chart
    assert chart is not None
    assert [(one.mark, one.at, one.now) for one in chart.columns] == [
        ("dot", 25.0, False),
        ("up_to", 12.5, False),
        ("dot", 100.0, True),
    ]
    assert [one.at for one in chart.levels] == [50.0]
    assert [one.value for one in chart.columns] == ["5", "<2.5", "20.0"]
    assert [one.day for one in chart.columns] == ["May 2019", "Jun 2021", "Nov 2026"]
    for told in ("May 12, 2019: 5 mg/L", "not found, could be 0 to 2.5 mg/L", "EPA level: 10 mg/L"):
        assert told in chart.alt
    drawn = etree.fromstring(history_svg(chart, "h"))
    assert drawn.get("aria-label") == chart.alt
    assert len(drawn.findall(".//{*}circle")) == 2
    assert not re.search(r"#(?!1a1a1a|h\b)", history_svg(chart, "h")), "one ink, no colour"


def test_every_earlier_result_stands_in_the_table_with_its_reason() -> None:
    before = [view(nitrate("7"), day=None, sha="b"), view(nitrate("6"), day="2020-02-02", sha="c")]
    report = report_with(view(nitrate("8")), *before)
    assert report.history is not None
    rows = report.history.blocks[0].table.rows
    assert [row[1] for row in rows] == ["6 mg/L", "7 mg/L", "8 mg/L"]
    assert "does not say when it was taken" in rows[1][2]
    assert len(report.history.sheets) == 1


def test_a_number_printed_in_another_unit_is_told_as_it_is_drawn() -> None:
    """39.84 mg/L of NO3 hold 9.0 mg/L of N (14.0067 of 62.0049 g/mol)."""
    before = view(nitrate("39.84", basis="NO3", levels=()), day="2021-06-01", sha="b")
    report = report_with(view(nitrate("14")), before)
    assert report.history is not None
    rows = report.history.blocks[0].table.rows
    assert rows[0][1].startswith("39.84")
    assert "In the picture: 9.000 mg/L as N." in rows[0][2]
    assert "In the picture" not in rows[1][2]


def test_the_newest_results_are_drawn_where_there_are_many() -> None:
    before = [view(nitrate("7"), day=f"20{at}-05-05", sha=f"{at % 10}") for at in range(10, 26)]
    report = report_with(view(nitrate("8")), *before)
    assert report.history is not None
    (block,) = report.history.blocks
    assert block.chart is not None
    assert len(block.chart.columns) == MOST
    assert block.chart.columns[-1].now
    assert len(block.table.rows) == 17
    assert block.note == "The picture shows the 7 newest results."


def test_one_number_far_above_the_level_does_not_flatten_the_others() -> None:
    """The axis ends at four levels: 40 mg/L for nitrate."""
    before = [
        view(nitrate("5"), day="2019-05-12", sha="b"),
        view(nitrate("180"), day="2020-05-12", sha="c"),
        view(nitrate("40", operator=">"), day="2021-05-12", sha="d"),
        view(nitrate("<50", operator="<"), day="2022-05-12", sha="e"),
    ]
    report = report_with(view(nitrate("20.0")), *before)
    assert report.history is not None
    chart = report.history.blocks[0].chart
    assert chart is not None
    assert [(one.mark, one.at) for one in chart.columns] == [
        ("dot", 12.5), ("beyond", 100.0), ("beyond", 100.0), ("up_to", 100.0), ("dot", 50.0)
    ]  # fmt: skip
    assert [one.at for one in chart.levels] == [25.0]
    assert "180 mg/L" in chart.alt
    assert chart.columns[1].value == "180"


def test_sheets_of_which_the_same_is_told_share_a_line() -> None:
    before = [view(nitrate("7"), day=f"202{at}-05-05", sha=f"{at}") for at in range(3)]
    report = report_with(view(nitrate("8")), *before)
    assert report.history is not None
    (line,) = report.history.sheets
    assert line.startswith("0.pdf, 1.pdf and 2.pdf: ")


def test_one_number_is_no_picture() -> None:
    report = report_with(view(nitrate("8")), view(nitrate("7"), day=None, sha="b"))
    assert report.history is not None
    assert report.history.blocks[0].chart is None


def test_what_is_quiet_now_and_was_quiet_before_takes_no_room() -> None:
    now, before = nitrate("0.5", verdict="no_concern_found"), nitrate("0.4")
    report = report_with(view(now), view(before, sha="b", day="2020-02-02"))
    assert report.history is not None
    assert report.history.blocks == ()
    was_high = view(nitrate("14"), sha="b", day="2020-02-02")
    again = report_with(view(nitrate("0.5", verdict="no_concern_found")), was_high)
    assert again.history is not None
    assert [one.name for one in again.history.blocks] == ["Nitrate"]


def test_no_verdict_and_no_first_page_changes_with_an_earlier_sheet() -> None:
    now = view(nitrate("8"))
    with_past = with_earlier(now, [view(nitrate("80"), sha="b", day="2020-02-02")])
    assert with_past.samples[0].findings == now.samples[0].findings
    assert build(with_past, 0).first == build(now, 0).first


def test_page_one_tells_of_a_past_concern_that_nobody_tested_since() -> None:
    """Else "no health concern" would be read as the end of the arsenic and germs of 2024.

    The verdicts stay as they are. What was tested since says nothing of the past on page 1: its
    own verdict stands there. Nor does what could not be told then: it is listed with the rest.
    """
    first = report_with(view(nitrate("0.5", verdict="no_concern_found")), raised_before()).first
    assert first.main[-1] == (
        "An earlier sheet had a health concern that this one does not test: "
        "arsenic and E. coli bacteria."
    )
    assert first.steps[0].when == "Today"
    assert first.steps[0].text.startswith("Test again: arsenic and E. coli bacteria.")
    why = {row.use: row.why for row in first.uses if row.answer == "Can't tell"}
    assert set(why) == {"Drink", "Baby, formula", "Cook", "Brush teeth", "Pets"}
    assert why["Drink"].startswith("Not tested: arsenic, E. coli bacteria")
    now = view(nitrate("8"), arsenic("0.012"), germs("Absent", verdict="no_concern_found"))
    assert build(with_earlier(now, [raised_before()]), 0).first == build(now, 0).first


def test_nobody_is_told_to_boil_what_may_still_hold_the_arsenic_of_the_last_sheet() -> None:
    """Boiling makes arsenic stronger; one kitchen gets one instruction."""
    found = [{"slug": "total_coliform", "text": "Present", "present": True, "unit": "P/A"}]
    found += [{"slug": slug, "text": "0.2", "value": D("0.2"), "unit": "mg/L", "basis": "N"}
              for slug in ("nitrate", "nitrite")]  # fmt: skip
    verdicts = ("health_concern", "no_concern_found", "no_concern_found")
    rows = [{**one, "verdict": said} for one, said in zip(found, verdicts, strict=True)]
    rows[0]["urgency"] = "soon"
    now = view(*rows)
    assert "Boil first" in {row.answer for row in build(now, 0).first.uses}
    report = build(with_earlier(now, [raised_before()]), 0)
    assert {row.answer for row in report.first.uses} & {"Use bottled", "Boil first"} == {
        "Use bottled"
    }
    assert "Do not boil this water. Boiling does not remove arsenic." in report.first.steps[0].text


def test_json_keeps_the_contract() -> None:
    before = [view(nitrate("7"), day=None, sha="b"), view(nitrate("6"), day="2020-02-02", sha="c")]
    report = to_jsonable(with_earlier(view(nitrate("8")), before))
    assert not list(validator("welltold.report-1.json").iter_errors(report))
    (history,) = report["samples"][0]["earlier"]["analytes"]
    assert [one["value"] for one in history["results"]] == [6, 7]
    assert [one["comparable"] for one in history["results"]] == [True, False]


def test_pages_with_a_history_are_escaped_and_the_same_each_time(tmp_path: Path) -> None:
    nasty = view(nitrate("7"), sha="b", day="2020-02-02", point="<script>alert(1)</script>\u202e")
    both = with_earlier(view(nitrate("8")), [nasty])
    first, again = (write(both, tmp_path / one, ["html", "pdf"], name="x") for one in ("a", "b"))
    assert [path.read_bytes() for path in first] == [path.read_bytes() for path in again]
    root = lxml_html.document_fromstring(first[0].read_bytes())
    assert not list(root.iter("script"))
    assert "<script>alert(1)</script>" in root.text_content()
    assert "\u202e" not in root.text_content()


def test_text_and_workbook_have_the_past_too() -> None:
    now = with_earlier(view(nitrate("8")), [view(nitrate("5"), day="2019-05-12", sha="b")])
    text = render_text(now)
    assert "Earlier sheets of this well" in text
    assert "May 12, 2019" in text
    sheet = load_workbook(io.BytesIO(workbook(now)))["Earlier sheets"]
    _, row = sheet.iter_rows(values_only=True)
    assert row[2:7] == ("2019-05-12", "Nitrate", "5", "mg/L", 5)


def test_the_command_takes_earlier_sheets(tmp_path: Path) -> None:
    words = ["report", str(SHEETS / "nitrate-bacteria.pdf"), "--json"]
    words += ["--earlier", str(SHEETS / "letter.pdf"), "--earlier", str(SHEETS / "clean-well.pdf")]
    done = CliRunner().invoke(app, words)
    sheets = json.loads(done.stdout)["samples"][0]["earlier"]["sheets"]
    assert [(one["file"], one["matched"]) for one in sheets] == [
        ("letter.pdf", True),
        ("clean-well.pdf", True),
    ]


def test_an_earlier_sheet_that_is_not_there_is_named(tmp_path: Path) -> None:
    words = ["report", str(SHEETS / "nitrate-bacteria.pdf"), "--earlier", str(tmp_path / "x.pdf")]
    done = CliRunner().invoke(app, words)
    assert isinstance(done.exception, FileMissingError)


# -- what an earlier sheet raised, and what this one cannot follow ---------------------------------


def germs(text: str, **more: Any) -> dict[str, Any]:
    return {"slug": "e_coli", "text": text, "present": text == "Present", **more}


def raised_before() -> Interpretation:
    return view(
        nitrate("3"),
        arsenic("14", unit="ug/L", levels=(), verdict="health_concern"),
        germs("Present", verdict="health_concern"),
        {"slug": "iron", "text": "3", "value": D(3), "unit": "mg/L", "verdict": "nuisance_only"},
        {"slug": "copper", "text": "ND", "unit": "mg/L", "verdict": "cant_tell"},
        day="2024-03-01",
        sha="b",
    )


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
