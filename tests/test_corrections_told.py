"""Corrected readings in the command and in the report."""

from __future__ import annotations

import csv
import io
import json
from datetime import date
from pathlib import Path

from correction_tables import SHEETS, command, enter, hard_sheet, row_of, saved

import welltold
from welltold.correction_sheet import COLUMNS
from welltold.errors import ExitCode
from welltold_reports.homeowner import build
from welltold_reports.terminal import render_text


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
    tmp_path: Path,
) -> None:
    _, table, file = hard_sheet(tmp_path)
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
