"""Readings as tables that a person corrects, for the tests of corrections."""

from __future__ import annotations

import csv
import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import welltold
from welltold.correction_sheet import to_csv
from welltold.messages import Message
from welltold.reading import Reading

ROOT = Path(__file__).parents[1]
SHEETS = ROOT / "samples" / "sheets"
READABLE = sorted(
    path
    for path in SHEETS.iterdir()
    if (ROOT / "samples" / "expected" / f"{path.stem}.json").exists()
    and path.stem not in {"price-list", "pump-invoice", "truncated"}
)
Table = list[dict[str, str]]


def table_of(reading: Reading) -> Table:
    return list(csv.DictReader(io.StringIO(to_csv([reading]))))


def saved(table: Table, path: Path, *, encoding: str = "utf-8", delimiter: str = ",") -> Path:
    with path.open("w", encoding=encoding, newline="", errors="replace") as out:
        writer = csv.DictWriter(out, list(table[0]), delimiter=delimiter)
        writer.writeheader()
        writer.writerows(table)
    return path


def enter(table: Table, row: int, text: str, by: str = "K. Larch", at: str = "2026-11-25") -> None:
    table[row] |= {"corrected_text": text, "corrected_by": by, "corrected_at": at}


def row_of(table: Table, analyte: str) -> int:
    return next(number for number, row in enumerate(table) if row["analyte"] == analyte)


def hard_sheet(folder: Path) -> tuple[Reading, Table, Path]:
    reading = welltold.read(SHEETS / "hard-rusty.pdf")
    reading = replace(reading, unread=(), warnings=(Message("read.y", {}, "Told."),))
    return reading, table_of(reading), folder / "hard-rusty.csv"


def command(*words: str | Path) -> subprocess.CompletedProcess[str]:
    rooms = ":".join(str(ROOT / room) for room in ("pipeline", "parsers", "reports"))
    return subprocess.run(
        [sys.executable, "-m", "welltold", *map(str, words)],
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": rooms, "COLUMNS": "100"},
    )
