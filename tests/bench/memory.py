"""Memory over a long batch: level, or growing with every file."""

from __future__ import annotations

import itertools
import tempfile
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import speed
from figures import Figure

import welltold

EARLY, LATE = 150, 500


def resident_mb() -> float:
    """Resident memory of this process in MB (Linux)."""
    for line in Path("/proc/self/status").read_text("ascii").splitlines():
        if line.startswith("VmRSS:"):
            return int(line.split()[1]) / 1024
    raise RuntimeError("no VmRSS line")


def figures() -> Iterator[Figure]:
    """Yield resident memory after 500 files against that after 150."""
    sheets = itertools.cycle(speed.pdf_sheets())
    early = 0.0
    with tempfile.TemporaryDirectory() as folder:
        for count in range(1, LATE + 1):
            view = welltold.interpret(welltold.read(next(sheets)), as_of=date(2026, 11, 25))
            welltold.write(view, folder, ["html", "pdf", "json"])
            if count == EARLY:
                early = resident_mb()
    late = resident_mb()
    yield Figure(f"memory after {LATE} files / after {EARLY}", late / early, "x", 1.1)
    yield Figure(f"memory after {LATE} files", late, "MB")
