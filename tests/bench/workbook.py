"""CPU time of a long export in a workbook, against pandas with the quickest reader of cells."""

from __future__ import annotations

import random
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pandas as pd
import xlsxwriter
from figures import Figure

import welltold

ROWS = 50_000
TESTS = (
    ("Nitrate as N", "mg/L", 2),
    ("Iron", "mg/L", 3),
    ("Manganese", "mg/L", 4),
    ("Hardness, Total", "mg/L as CaCO3", 0),
    ("Lead", "ug/L", 2),
)
HEADS = ("Lab ID", "Client ID", "Date", "Analyte", "Result", "Unit", "RL", "Method", "Flag")
TIMES = 3


def export(path: Path, samples: int, code: str) -> None:
    """Write an export of `ROWS` results of so many samples, its numbers in one format."""
    chance = random.Random(7)  # noqa: S311 - water is drawn, no secrets
    book = xlsxwriter.Workbook(path)
    look = book.add_format({"num_format": code})
    sheet = book.add_worksheet("Results")
    sheet.write_row(0, 0, HEADS)
    for row in range(ROWS):
        sample = row * samples // ROWS
        name, unit, digits = TESTS[row % len(TESTS)]
        day = f"2026-{sample % 12 + 1:02d}-{sample % 28 + 1:02d}"
        sheet.write_row(row + 1, 0, (f"L26-{sample:05d}", f"Well {sample}", day, name))
        if chance.random() < 0.2:
            sheet.write_string(row + 1, 4, "<0.5")
        else:
            sheet.write_number(row + 1, 4, round(chance.lognormvariate(0, 1.2), digits), look)
        flag = "J" if chance.random() < 0.05 else ""
        sheet.write_row(row + 1, 5, (unit, 0.5, "EPA 200.7", flag))
    book.close()


def quickest(work: Callable[[], object]) -> float:
    """CPU seconds of a call, the least of a few."""
    used = []
    for _ in range(TIMES):
        start = time.process_time()
        work()
        used.append(time.process_time() - start)
    return min(used)


def figures() -> Iterator[Figure]:
    """Yield the cost of long exports: of many samples, of few, with formatted numbers."""
    with tempfile.TemporaryDirectory() as folder:
        for samples, code in ((10_000, "General"), (50, "General"), (10_000, "0.000")):
            path = Path(folder) / f"{samples}{code}.xlsx"
            export(path, samples, code)
            ours = quickest(lambda path=path: welltold.read(path))  # type: ignore[misc]
            theirs = quickest(lambda path=path: pd.read_excel(path, engine="calamine"))  # type: ignore[misc]
            name = f"workbook of {ROWS:,} rows, {samples:,} samples, format {code} / pandas"
            yield Figure(name, ours / theirs, "x", 8)
