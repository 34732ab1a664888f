"""A sheet of which no result was understood: what looks like one is shown all the same."""

from __future__ import annotations

import json
import pickle
from pathlib import Path

import pytest
from tests.test_command import welltold

import welltold as library
from welltold.errors import ExitCode, NoResultError

LETTER = (
    "Tamarack County Health Department\n\n"
    "The water did not meet the standard because coliform bacteria were present.\n"
)


def test_lines_that_look_like_results_are_shown_though_none_was_understood(tmp_path: Path) -> None:
    sheet = tmp_path / "letter.txt"
    sheet.write_text(LETTER, encoding="utf-8")
    told = welltold("read", sheet)
    assert told.returncode == ExitCode.no_result
    assert "coliform bacteria were present" in told.stdout
    assert "no result" in told.stderr
    (unread,) = json.loads(welltold("read", sheet, "--json").stdout)["unread"]
    assert "coliform" in unread["text"]


def test_the_error_keeps_those_lines_for_a_script_and_over_a_process(tmp_path: Path) -> None:
    sheet = tmp_path / "letter.txt"
    sheet.write_text(LETTER, encoding="utf-8")
    with pytest.raises(NoResultError) as caught:
        library.read(sheet)
    back = pickle.loads(pickle.dumps(caught.value))  # noqa: S301 - our own bytes
    assert str(back) == str(caught.value)
    assert back.reading is not None
    assert [u.reason.code for u in back.reading.unread] == ["read.sentence_open"]


def test_a_report_of_such_a_sheet_is_refused(tmp_path: Path) -> None:
    sheet = tmp_path / "letter.txt"
    sheet.write_text(LETTER, encoding="utf-8")
    told = welltold("report", sheet, "--out", tmp_path / "out")
    assert told.returncode == ExitCode.no_result
    assert not list((tmp_path / "out").rglob("*.html"))
