"""The past of a well on the pages, in the text and in the workbook; what is quiet takes no room."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

from history_sheets import SHEETS, D, arsenic, germs, nitrate, raised_before, report_with, view
from lxml import etree
from lxml import html as lxml_html
from openpyxl import load_workbook
from test_reports_schema import validator
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.earlier import with_earlier
from welltold.errors import FileMissingError
from welltold.jsonform import to_jsonable
from welltold_reports import render_text, write
from welltold_reports.history_chart import MOST, history_svg
from welltold_reports.homeowner import build
from welltold_reports.xlsx import workbook


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
