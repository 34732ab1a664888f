"""A batch that is stopped, or whose worker runs out of time, loses nothing that was done."""

from __future__ import annotations

import csv
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

from welltold.errors import ExitCode

ROOT = Path(__file__).parents[1]
SHEET = ROOT / "samples" / "sheets" / "metals-latin1.csv"
ROOMS = os.pathsep.join(str(ROOT / room) for room in ("pipeline", "parsers", "reports"))


def batch(inbox: Path, out: Path, *more: str) -> subprocess.Popen[str]:
    words = [sys.executable, "-m", "welltold", "batch", str(inbox), "--out", str(out)]
    return subprocess.Popen(
        [*words, "--jobs", "1", "--format", "json", *more],
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": ROOMS},
    )


def inbox_of(tmp_path: Path, count: int) -> Path:
    inbox = tmp_path / "inbox"
    inbox.mkdir()
    for number in range(count):
        (inbox / f"sheet-{number:03d}.csv").write_bytes(SHEET.read_bytes())
    return inbox


def wait_for(path: Path, process: subprocess.Popen[str]) -> None:
    """Wait until the batch has written a line; it is stopped by the test's own time limit."""
    for _ in range(2400):
        if path.exists() and path.stat().st_size:
            return
        assert process.poll() is None, "the batch ended before it was stopped"
        time.sleep(0.05)
    raise AssertionError("nothing was finished in two minutes")


def test_a_stopped_batch_keeps_what_is_done_and_goes_on(tmp_path: Path) -> None:
    inbox, out = inbox_of(tmp_path, 300), tmp_path / "out"
    first = batch(inbox, out)
    wait_for(out / "done.jsonl", first)
    first.send_signal(signal.SIGINT)
    _, told = first.communicate(timeout=120)
    assert first.returncode == ExitCode.stopped
    assert "left for the next run" in told
    rows = list(csv.DictReader((out / "summary.csv").read_text("utf-8").splitlines()))
    done = len((out / "done.jsonl").read_text("utf-8").splitlines())
    assert 0 < len(rows) == done < 300


def test_a_file_that_takes_too_long_is_set_aside_and_the_others_go_on(tmp_path: Path) -> None:
    inbox, out = inbox_of(tmp_path, 1), tmp_path / "out"
    head = "Sample,Analyte,Result,Unit\n"
    lines = (f"S-{n},Iron,{n % 97}.{n % 10},mg/L\n" for n in range(300_000))
    (inbox / "endless.csv").write_text(head + "".join(lines), "utf-8")
    done = batch(inbox, out, "--seconds", "25")
    done.communicate(timeout=180)
    (aside,) = csv.DictReader((out / "set-aside.csv").read_text("utf-8").splitlines())
    assert (aside["file"], aside["exit_code"]) == ("endless.csv", str(int(ExitCode.out_of_time)))
    (row,) = csv.DictReader((out / "summary.csv").read_text("utf-8").splitlines())
    assert row["file"] == "sheet-000.csv"
