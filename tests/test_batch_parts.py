"""The parts of a batch that need no worker: which files, where to, what was done before."""

from __future__ import annotations

from concurrent.futures import Future
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pebble import ProcessExpired

from welltold.batch import Options, why_anew
from welltold.batch.files import digest, find_files, report_folder
from welltold.batch.journal import NAME, Done, Journal
from welltold.batch.worker import Task, limit_memory, main_reports, outcome_of
from welltold.errors import (
    EmptyFileError,
    EmptyFolderError,
    FileMissingError,
    InternalFaultError,
    OutOfMemoryError,
    OutOfTimeError,
    ReaderDiedError,
    WelltoldError,
)

OPTIONS = Options(out="out", formats=("json",), as_of="2026-11-25")
DONE = Done([{"file": "a.pdf"}], [])


def test_hidden_files_and_the_output_folder_are_not_input(tmp_path: Path) -> None:
    for name in ("b.pdf", "sub/a.csv", ".hidden.pdf", ".git/x", "out/summary.csv"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("x", "utf-8")
    found = [str(p.relative_to(tmp_path)) for p in find_files(tmp_path, tmp_path / "out")]
    assert found == ["b.pdf", "sub/a.csv"]


def test_a_folder_without_files_is_told(tmp_path: Path) -> None:
    with pytest.raises(EmptyFolderError):
        find_files(tmp_path, tmp_path / "out")


def test_a_missing_folder_a_file_and_the_output_itself_are_told_apart(tmp_path: Path) -> None:
    sheet = tmp_path / "a.pdf"
    sheet.write_text("x", "utf-8")
    cases = {tmp_path / "none": "no such folder", sheet: "not a folder", tmp_path: "cannot go"}
    for folder, words in cases.items():
        with pytest.raises(FileMissingError, match=words):
            find_files(folder, tmp_path)


def test_two_sheets_never_share_a_folder_of_reports() -> None:
    sheets = [Path(name) for name in ("a.pdf", "a.csv", "a", "b/a.pdf", "b_a.pdf", "a.X1.pdf")]
    assert len({report_folder(Path("out"), sheet) for sheet in sheets}) == len(sheets)


def test_a_folder_of_reports_has_no_ending_that_a_program_would_open() -> None:
    """A folder called well.pages or well.key is one file to a desktop, and well.pdf looks so."""
    folders = {"a.pdf": "a-pdf", "b/2.3.CSV": "b/2.3-CSV", "scan": "scan.sheet"}
    for sheet, folder in folders.items():
        assert report_folder(Path("out"), Path(sheet)) == Path("out/reports") / folder


NAMES = st.text("ab.-", min_size=1, max_size=6).filter(lambda name: not name.startswith("."))


@given(NAMES, NAMES)
def test_folders_of_reports_are_told_apart_as_their_sheets_are(one: str, other: str) -> None:
    same = report_folder(Path("out"), Path(one)) == report_folder(Path("out"), Path(other))
    assert same == (one == other)


def test_a_batch_goes_on_where_it_stopped(tmp_path: Path) -> None:
    Journal(tmp_path, OPTIONS.stamp()).add("a.pdf", "12ab", DONE)
    assert Journal(tmp_path, OPTIONS.stamp()).finished("a.pdf", "12ab") == DONE


def test_a_changed_sheet_or_option_is_done_again(tmp_path: Path) -> None:
    Journal(tmp_path, OPTIONS.stamp()).add("a.pdf", "12ab", DONE)
    assert Journal(tmp_path, OPTIONS.stamp()).finished("a.pdf", "34cd") is None
    later = replace(OPTIONS, as_of="2026-12-01", as_of_asked=True)
    assert Journal(tmp_path, later.stamp()).finished("a.pdf", "12ab") is None


def test_what_differs_is_known_where_nothing_of_the_last_run_can_be_kept(tmp_path: Path) -> None:
    site = tmp_path / "site.toml"
    site.write_text("one", "utf-8")
    first = replace(OPTIONS, out=str(tmp_path), site="site.toml", inputs=(str(site),))
    journal = Journal(tmp_path, first.stamp(), first.asked())
    assert why_anew(first) is None  # nothing was done before
    journal.add("a.pdf", "12ab", DONE)
    assert why_anew(first) is None  # the same again
    assert why_anew(replace(first, jobs=7)) is None  # shapes no report
    assert why_anew(replace(first, site=None, inputs=())) == ("--site", "site.toml")
    assert why_anew(replace(first, paper="a4", packs=("x",))) == ("--levels", "--paper")
    site.write_text("two", "utf-8")
    assert why_anew(first) == ("site.toml",)


def test_what_an_earlier_run_than_the_last_did_is_kept_without_a_word(tmp_path: Path) -> None:
    one = replace(OPTIONS, out=str(tmp_path))
    for options in (one, replace(one, paper="a4")):
        journal = Journal(tmp_path, options.stamp(), options.asked())
        journal.add("a.pdf", "12ab", DONE)
    assert why_anew(one) is None


def test_a_run_that_did_not_write_down_its_options_differs_in_nobody_knows_what(
    tmp_path: Path,
) -> None:
    Journal(tmp_path, "another").add("a.pdf", "12ab", DONE)
    assert why_anew(replace(OPTIONS, out=str(tmp_path))) == ()


def test_midnight_does_not_make_a_finished_report_old() -> None:
    assert replace(OPTIONS, as_of="2026-11-26").stamp() == OPTIONS.stamp()


def test_an_edited_file_of_levels_makes_every_report_old(tmp_path: Path) -> None:
    levels = tmp_path / "county.toml"
    levels.write_text("one", "utf-8")
    options = replace(OPTIONS, inputs=(str(levels),))
    before = options.stamp()
    levels.write_text("two", "utf-8")
    assert options.stamp() != before


def test_a_report_that_is_gone_is_made_again(tmp_path: Path) -> None:
    report = tmp_path / "a.homeowner.html"
    report.write_text("x", "utf-8")
    Journal(tmp_path, OPTIONS.stamp()).add("a.pdf", "12ab", Done([], [report.name]))
    assert Journal(tmp_path, OPTIONS.stamp()).finished("a.pdf", "12ab") is not None
    report.unlink()
    assert Journal(tmp_path, OPTIONS.stamp()).finished("a.pdf", "12ab") is None


@pytest.mark.parametrize("line", ['{"stamp": "x", "ke', "[1, 2]", '{"a": 1}', "null", "[" * 5000])
def test_a_line_that_is_not_ours_does_not_hide_the_others(tmp_path: Path, line: str) -> None:
    Journal(tmp_path, OPTIONS.stamp()).add("a.pdf", "12ab", DONE)
    with (tmp_path / NAME).open("a", encoding="utf-8") as out:
        out.write(line + "\n")
    assert Journal(tmp_path, OPTIONS.stamp()).finished("a.pdf", "12ab") == DONE


def test_each_sample_is_led_to_its_own_report() -> None:
    written = ["a.1.homeowner.html", "a.2.homeowner.html", "a.xlsx"]
    assert main_reports(written, 2) == ["a.1.homeowner.html", "a.2.homeowner.html"]
    assert main_reports(["a.xlsx"], 2) == ["a.xlsx", "a.xlsx"]


@pytest.mark.parametrize(
    ("fault", "told"),
    [
        (TimeoutError(), OutOfTimeError),
        (MemoryError(), OutOfMemoryError),
        (ProcessExpired("killed"), ReaderDiedError),
        (ZeroDivisionError("x"), InternalFaultError),
        (EmptyFileError("a.pdf"), EmptyFileError),
    ],
)
def test_why_a_file_gave_nothing_is_told_by_its_own_error(
    fault: Exception, told: type[WelltoldError]
) -> None:
    future: Future[Done] = Future()
    future.set_exception(fault)
    task = Task("a.pdf", "a.pdf", "12ab", "out/a.pdf", "out", ("json",), "2026-11-25", None, None)
    assert type(outcome_of(task, future)) is told


def test_a_digest_is_the_published_one(tmp_path: Path) -> None:
    """FIPS 180-2, appendix B.1: the SHA-256 of the three letters "abc"."""
    (tmp_path / "abc").write_bytes(b"abc")
    assert digest(tmp_path / "abc") == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )


def test_a_system_that_refuses_a_limit_of_memory_stops_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    import resource

    asked: list[tuple[int, int]] = []

    def refuse(_: int, limits: tuple[int, int]) -> None:
        asked.append(limits)
        raise ValueError("not allowed")

    monkeypatch.setattr(resource, "setrlimit", refuse)
    monkeypatch.setattr(resource, "getrlimit", lambda _: (1 << 20, 1 << 20))
    limit_memory(2048)
    assert asked == [(1 << 20, 1 << 20)]
