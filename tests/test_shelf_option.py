"""The dealer's shelf on the command line, and how each figure of a train is explained."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from welltold.command.app import app
from welltold.errors import ExitCode, FileMissingError

SHEET = """analyte,result,unit
Hardness,257,mg/L as CaCO3
Iron,<0.05,mg/L
pH,7.4,
"""
SITE = "[home]\npeople = 5\nbathrooms = 2\n[well]\npump_gpm = 9\n"
SHELF = "name,stage,medium,tank_in,media_ft3\nS-12,softener,resin,12,2\nS-x,softener,resin,wide,2\n"
Run = Callable[..., Result]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    for name, text in (("sheet.csv", SHEET), ("site.toml", SITE), ("shelf.csv", SHELF)):
        (tmp_path / name).write_text(text, "utf-8")
    sheet, site = str(tmp_path / "sheet.csv"), str(tmp_path / "site.toml")
    return lambda *more: CliRunner().invoke(app, ["report", sheet, "--site", site, *more])


def test_sizes_come_from_the_shelf_beside_the_site_file(run: Run) -> None:
    told = json.loads(run("--shelf", "shelf.csv", "--json").stdout)
    size = told["samples"][0]["trains"][0]["stages"][0]["size"]
    assert (size["shelf_item"], size["tank_in"], size["media_ft3"]) == ("S-12", 12, 2)
    assert "shelf_item" not in run("--json").stdout


def test_a_bad_row_is_told_with_its_line_and_column_and_the_good_one_used(run: Run) -> None:
    done = run("--shelf", "shelf.csv", "--json")
    assert 'Line 3, tank_in: "wide" is not a number' in done.stderr
    assert done.exit_code == ExitCode.doubts
    assert run("--json").exit_code == ExitCode.ok


@pytest.mark.parametrize(
    ("language", "said"),
    [("en", "1 row of your shelf file was left out"), ("es", "Se omitió 1 fila")],
)
def test_the_work_sheet_says_how_many_rows_were_left_out(
    run: Run, tmp_path: Path, language: str, said: str
) -> None:
    told = ("--format", "html", "--language", language, "--out", str(tmp_path / "out"))
    run("--shelf", "shelf.csv", *told)
    page = (tmp_path / "out" / "sheet.worksheet.html").read_text("utf-8")
    assert said in page
    run(*told)
    page = (tmp_path / "out" / "sheet.worksheet.html").read_text("utf-8")
    assert said not in page


def test_a_batch_with_a_bad_row_of_the_shelf_needs_a_look(tmp_path: Path) -> None:
    inbox = tmp_path / "in"
    inbox.mkdir()
    (inbox / "sheet.csv").write_text(SHEET, "utf-8")
    (tmp_path / "shelf.csv").write_text(SHELF, "utf-8")
    words = ["batch", str(inbox), "--out", str(tmp_path / "out"), "--format", "json"]
    assert CliRunner().invoke(app, words).exit_code == ExitCode.ok
    more = ["--shelf", str(tmp_path / "shelf.csv")]
    assert CliRunner().invoke(app, [*words, *more]).exit_code == ExitCode.doubts


def test_a_shelf_that_is_not_there_is_told(run: Run) -> None:
    done = run("--shelf", "no-such.csv", "--json")
    assert isinstance(done.exception, FileMissingError)


@pytest.mark.parametrize("what", ["size", "softener"])
def test_each_figure_is_told_with_its_formula_and_its_source(run: Run, what: str) -> None:
    # 5 people x 75 gal x 257 / 17.118 gpg = 5,630 grains a day (dealer note: 5 x 80 x 15 = 6,000)
    text = run("--explain", what).stdout
    assert "water softener:" in text
    assert "375 gal x 15.01 gpg = 5630 grains a day. [arithmetic]" in text
    assert text.count("[") >= 20


def test_a_stage_that_is_not_there_has_no_figures(run: Run) -> None:
    assert "nothing to work out here: ultraviolet lamp" in run("--explain", "uv").stdout
