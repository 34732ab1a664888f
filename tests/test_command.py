"""The command as a person or a script meets it: what is on stdout, what on stderr, which code."""

from __future__ import annotations

import csv
import inspect
import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.command.demo import demo
from welltold.errors import ExitCode

ROOT = Path(__file__).parents[1]
SHEETS = ROOT / "samples" / "sheets"
ROOMS = os.pathsep.join(str(ROOT / room) for room in ("pipeline", "parsers", "reports"))


def welltold(*words: str | Path, folder: Path | None = None) -> subprocess.CompletedProcess[str]:
    """Run the command as a process of its own, as a shell would."""
    return subprocess.run(
        [sys.executable, "-m", "welltold", *map(str, words)],
        capture_output=True,
        text=True,
        cwd=folder,
        check=False,
        env={**os.environ, "PYTHONPATH": ROOMS, "COLUMNS": "100"},
    )


def table(path: Path) -> list[dict[str, str]]:
    """The rows of a CSV file."""
    return list(csv.DictReader(path.read_text("utf-8").splitlines()))


def test_one_file_as_json_goes_to_stdout() -> None:
    done = welltold("read", SHEETS / "clean-well.pdf", "--json")
    found = json.loads(done.stdout)
    assert found["schema"] == "welltold.reading/1"
    assert found["source"]["file"] == "clean-well.pdf"
    assert done.stderr == ""
    assert done.returncode in {ExitCode.ok, ExitCode.doubts}


def test_several_files_as_json_are_one_line_each() -> None:
    done = welltold("read", SHEETS / "clean-well.pdf", SHEETS / "metals-latin1.csv", "--json")
    files = [json.loads(line)["source"]["file"] for line in done.stdout.splitlines()]
    assert files == ["clean-well.pdf", "metals-latin1.csv"]


def test_readings_are_written_under_the_sheets_name(tmp_path: Path) -> None:
    done = welltold("read", SHEETS / "clean-well.pdf", "--json", "--out", tmp_path / "new")
    assert done.stdout == ""
    assert [p.name for p in (tmp_path / "new").iterdir()] == ["clean-well.json"]


def test_one_bad_file_neither_stops_nor_hides_another(tmp_path: Path) -> None:
    done = welltold("read", SHEETS / "truncated.pdf", SHEETS / "clean-well.pdf", "--out", tmp_path)
    assert done.returncode == ExitCode.set_aside
    assert [p.name for p in tmp_path.iterdir()] == ["clean-well.json"]
    assert "truncated.pdf" in done.stderr


def test_two_files_of_one_name_do_not_overwrite_each_other(tmp_path: Path) -> None:
    first, second = tmp_path / "a.csv", tmp_path / "sub" / "a.txt"
    second.parent.mkdir()
    for path in (first, second):
        path.write_bytes((SHEETS / "metals-latin1.csv").read_bytes())
    done = welltold("read", first, second, "--out", tmp_path / "out")
    assert "would both be written" in done.stderr
    assert json.loads((tmp_path / "out" / "a.json").read_text("utf-8"))["source"]["file"] == "a.csv"


def test_csv_holds_one_line_a_result() -> None:
    done = welltold("read", SHEETS / "metals-latin1.csv", "--csv")
    lines = [row for row in csv.DictReader(done.stdout.splitlines()) if row["kind"] == "result"]
    expected = json.loads((ROOT / "samples/expected/metals-latin1.json").read_text("utf-8"))
    assert len(lines) == sum(len(s["results"]) for s in expected["samples"])
    assert {row["file"] for row in lines} == {"metals-latin1.csv"}


BAD_FILES: dict[str, tuple[bytes, ExitCode]] = {
    "empty.pdf": (b"", ExitCode.file_empty),
    "photo.pdf": (b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + bytes(200), ExitCode.file_damaged),
    "cut.pdf": (b"%PDF-1.7\n1 0 obj\n<< /Type /Catalog", ExitCode.file_damaged),
    "cut.xlsx": ((SHEETS / "county-survey.xlsx").read_bytes()[:4000], ExitCode.file_damaged),
    "words.txt": (b"Thank you for your order.\nWe hope to see you soon.\n", ExitCode.no_result),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_a_bad_file_is_one_line_with_its_own_code(tmp_path: Path, name: str) -> None:
    content, code = BAD_FILES[name]
    path = tmp_path / name
    path.write_bytes(content)
    done = welltold("read", path)
    assert done.returncode == code
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "Traceback" not in done.stderr
    assert done.stderr.startswith(f"welltold: {path}")


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    done = welltold("read", tmp_path / "none.pdf")
    assert done.returncode == ExitCode.file_missing


def test_an_output_folder_that_cannot_be_written(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("not a folder", "utf-8")
    done = welltold("report", SHEETS / "clean-well.pdf", "--out", blocked / "sub")
    assert done.returncode == ExitCode.output_unwritable
    assert len(done.stderr.splitlines()) == 1


def test_a_folder_without_files(tmp_path: Path) -> None:
    (tmp_path / "inbox").mkdir()
    done = welltold("batch", tmp_path / "inbox", "--out", tmp_path / "out")
    assert done.returncode == ExitCode.folder_empty


def test_the_report_as_json_follows_the_site_file_and_the_date(tmp_path: Path) -> None:
    site = tmp_path / "site.toml"
    site.write_text('[home]\npersons = ["infant"]\n', "utf-8")
    sheet = SHEETS / "nitrate-bacteria.pdf"
    done = welltold("report", sheet, "--json", "--site", site, "--as-of", "2026-11-25")
    found = json.loads(done.stdout)
    assert found["schema"] == "welltold.report/1"
    assert found["as_of"] == "2026-11-25"
    assert found["site"] == {"home": {"persons": ["infant"]}}
    nitrate = next(f for f in found["samples"][0]["findings"] if f["analyte"] == "nitrate")
    # 17.6 mg/L as N on the sheet; the primary limit is 10 (40 CFR 141.62(b)(7)).
    assert (nitrate["verdict"], nitrate["urgency"]) == ("health_concern", "now")


def test_a_mistake_in_the_site_file_is_told_with_what_is_known(tmp_path: Path) -> None:
    site = tmp_path / "site.toml"
    site.write_text("[home]\nbathroms = 2\n", "utf-8")
    done = welltold("report", SHEETS / "clean-well.pdf", "--site", site, "--out", tmp_path / "out")
    assert done.returncode == ExitCode.site_invalid
    assert "bathrooms" in done.stderr


def test_a_saved_reading_gives_the_same_report(tmp_path: Path) -> None:
    sheet = SHEETS / "hard-rusty.pdf"
    welltold("read", sheet, "--out", tmp_path)
    once = welltold("report", sheet, "--json", "--as-of", "2026-11-25").stdout
    again = welltold("report", tmp_path / "hard-rusty.json", "--json", "--as-of", "2026-11-25")
    assert json.loads(again.stdout) == json.loads(once)


def test_levels_are_shown_with_their_citation() -> None:
    done = welltold("levels", "As")
    assert "141.62(b)(16)" in done.stdout
    assert "0.01" in done.stdout


def test_an_unknown_analyte_names_the_nearest() -> None:
    done = welltold("levels", "arsenik-ish")
    assert done.returncode == ExitCode.analyte_unknown
    assert "arsenic" in done.stderr


def test_a_template_is_never_written_over_a_file_that_was_filled_in(tmp_path: Path) -> None:
    mine = tmp_path / "site.toml"
    mine.write_text("[home]\nbathrooms = 2\n", encoding="utf-8")
    refused = welltold("template", "site", "--out", mine)
    assert refused.returncode != 0
    assert "there already" in refused.stderr
    assert mine.read_text(encoding="utf-8") == "[home]\nbathrooms = 2\n"


@pytest.mark.parametrize("name", ["site", "reading"])
def test_templates_go_to_the_screen_or_to_a_file(tmp_path: Path, name: str) -> None:
    shown = welltold("template", name).stdout
    welltold("template", name, "--out", tmp_path / "filled")
    assert (tmp_path / "filled").read_text("utf-8") == shown
    assert len(shown.splitlines()) > 5


def test_the_version_is_told() -> None:
    assert welltold("--version").stdout.startswith("welltold 0.")


COMMANDS = (
    "read",
    "report",
    "batch",
    "levels",
    "demo",
    "template site",
    "template reading",
    "template levels",
)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example(command: str) -> None:
    shown = CliRunner().invoke(app, [*command.split(), "--help"]).output
    assert f"welltold {command}" in " ".join(shown.split())
    assert "Example" in shown


def test_bad_usage_has_its_own_code() -> None:
    assert welltold("report", "--format", "docx", "x.pdf").returncode == ExitCode.usage
    assert welltold("read").returncode == ExitCode.usage


def test_a_batch_reports_sets_aside_and_goes_on(tmp_path: Path) -> None:
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    for name in ("clean-well.pdf", "truncated.pdf", "nitrate-bacteria.pdf", "metals-latin1.csv"):
        (inbox / name).write_bytes((SHEETS / name).read_bytes())
    words = ("batch", inbox, "--out", tmp_path / "out", "--format", "html", "--format", "json")
    first = welltold(*words)
    assert first.returncode == ExitCode.set_aside
    rows = table(tmp_path / "out/summary.csv")
    assert rows[0]["file"] == "nitrate-bacteria.pdf"  # to call today, so first
    assert {row["file"] for row in rows} == {
        "clean-well.pdf",
        "nitrate-bacteria.pdf",
        "metals-latin1.csv",
    }
    assert all((tmp_path / "out" / row["report_file"]).exists() for row in rows)
    aside = table(tmp_path / "out/set-aside.csv")
    assert [row["file"] for row in aside] == ["truncated.pdf"]
    assert aside[0]["exit_code"] == str(int(ExitCode.file_damaged))
    again = welltold(*words)
    assert "3 reported (3 from an earlier run)" in again.stderr
    assert table(tmp_path / "out/summary.csv") == rows
    assert "done anew" not in first.stderr + again.stderr
    fewer = welltold(*words[:-2])
    told = "Every sheet is done anew. This is not as in the last run: --format."
    assert told in fewer.stderr
    assert "3 reported (0 from an earlier run)" in fewer.stderr


def test_make_and_the_command_write_the_demo_into_one_folder() -> None:
    out = inspect.signature(demo).parameters["out"].default
    recipe = (ROOT / "Makefile").read_text("utf-8")
    assert "$(BIN)/welltold demo\n" in recipe
    assert f"rm -rf $(VENV) {out}\n" in recipe
    assert f"/{out}/" in (ROOT / ".gitignore").read_text("utf-8").splitlines()
    for told in ("README.md", "DEVELOPERS.md"):
        assert f"on the invented samples, into ./{out}" in (ROOT / told).read_text("utf-8")


@pytest.mark.parametrize("command", ["read", "report"])
def test_a_folder_is_sent_to_batch(command: str, tmp_path: Path) -> None:
    done = CliRunner().invoke(app, [command, str(tmp_path)])
    assert done.exit_code == ExitCode.folder_given
    assert "`welltold batch FOLDER`" in done.stderr
    words = [command, str(tmp_path), "--language", "ES"]
    assert "`welltold batch CARPETA`" in CliRunner().invoke(app, words).stderr


def test_choices_may_be_typed_in_capitals(tmp_path: Path) -> None:
    sheet = tmp_path / "a.csv"
    sheet.write_text("analyte,result,unit\nIron,0.4,mg/L\n", "utf-8")
    words = ["report", str(sheet), "--out", str(tmp_path / "out"), "--paper", "A4"]
    done = CliRunner().invoke(app, [*words, "--format", "HTML", "--language", "En"])
    assert done.exit_code == ExitCode.ok
    assert (tmp_path / "out" / "a.homeowner.html").is_file()


def test_a_word_document_is_named_as_not_read(tmp_path: Path) -> None:
    path = tmp_path / "a.docx"
    with zipfile.ZipFile(path, "w") as made:
        made.writestr("word/document.xml", "<w/>")
    done = CliRunner().invoke(app, ["read", str(path)])
    assert "a Word document" in done.stderr
    assert "no Word documents (DOCX)" in done.stderr


def test_help_names_all_that_can_be_read_and_all_that_can_be_written() -> None:
    assert "pictures" in CliRunner().invoke(app, ["read", "--help"]).stdout
    told = CliRunner().invoke(app, ["template", "--help"]).stdout
    assert "letterhead, shelf" in " ".join(told.replace("│", " ").split())
