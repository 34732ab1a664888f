"""The parts of a batch that need no worker: which files, which names, what was done before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from welltold.batch import Journal, Options, find_files, report_files, unique_names
from welltold.errors import EmptyFolderError, FileMissingError

OPTIONS = Options(out="out", formats=("json",), as_of="2026-11-25")


def test_hidden_files_and_the_output_folder_are_not_input(tmp_path: Path) -> None:
    for name in ("b.pdf", "sub/a.csv", ".hidden.pdf", ".git/x", "out/summary.csv"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text("x", "utf-8")
    found = [str(p.relative_to(tmp_path)) for p in find_files(tmp_path, tmp_path / "out")]
    assert found == ["b.pdf", "sub/a.csv"]


def test_a_folder_without_files_is_told(tmp_path: Path) -> None:
    with pytest.raises(EmptyFolderError):
        find_files(tmp_path, tmp_path / "out")


def test_a_missing_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        find_files(tmp_path / "none", tmp_path / "out")


@given(
    st.lists(
        st.sampled_from(["a.pdf", "a.csv", "a", "b/a.pdf", "b_a.pdf", "b_a.csv", "b/a.csv", "a_2"]),
        unique=True,
        min_size=1,
    )
)
def test_no_two_files_share_a_report_name(names: list[str]) -> None:
    folder = Path("inbox")
    given_names = unique_names(folder, [folder / name for name in names])
    assert len(set(given_names.values())) == len(names)


def test_a_batch_goes_on_where_it_stopped(tmp_path: Path) -> None:
    sheet = tmp_path / "a.pdf"
    sheet.write_text("one", "utf-8")
    rows = [{"file": "a.pdf"}]
    Journal(tmp_path / "done.jsonl", OPTIONS.stamp()).add(sheet, rows)
    again = Journal(tmp_path / "done.jsonl", OPTIONS.stamp())
    assert again.rows_of(sheet) == rows


def test_a_changed_sheet_or_option_is_done_again(tmp_path: Path) -> None:
    sheet = tmp_path / "a.pdf"
    sheet.write_text("one", "utf-8")
    Journal(tmp_path / "done.jsonl", OPTIONS.stamp()).add(sheet, [])
    later = replace(OPTIONS, as_of="2026-12-01")
    assert Journal(tmp_path / "done.jsonl", later.stamp()).rows_of(sheet) is None
    sheet.write_text("two", "utf-8")
    assert Journal(tmp_path / "done.jsonl", OPTIONS.stamp()).rows_of(sheet) is None


def test_a_journal_cut_off_in_its_last_line_keeps_the_others(tmp_path: Path) -> None:
    sheet = tmp_path / "a.pdf"
    sheet.write_text("one", "utf-8")
    path = tmp_path / "done.jsonl"
    Journal(path, OPTIONS.stamp()).add(sheet, [])
    with path.open("a", encoding="utf-8") as out:
        out.write('{"stamp": "x", "ke')
    assert Journal(path, OPTIONS.stamp()).rows_of(sheet) == []


def test_each_sample_is_led_to_its_own_report() -> None:
    written = [Path("a.1.homeowner.html"), Path("a.2.homeowner.html"), Path("a.xlsx")]
    assert report_files(written, 2) == ["a.1.homeowner.html", "a.2.homeowner.html"]
    assert report_files([Path("a.xlsx")], 2) == ["a.xlsx", "a.xlsx"]
