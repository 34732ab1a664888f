"""CPU time of the start, of a page and of a report, each against a yardstick in the same run."""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pdfplumber
import trains
import workbook
from figures import Figure

import welltold
from welltold_parsers.doors import open_document
from welltold_parsers.layout import read_document

ROOT = Path(__file__).parents[2]
SHEETS = ROOT / "samples" / "sheets"
COMMAND = str(Path(sys.executable).parent / "welltold")


def child_cpu(*command: str, times: int = 15) -> float:
    """Mean CPU milliseconds of a command run as a process of its own."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    for _ in range(times):
        subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return used / times * 1000


def own_cpu(work: Callable[[], object], times: int) -> float:
    """Mean CPU milliseconds of a call in this process, after one call to warm up."""
    work()
    start = time.process_time()
    for _ in range(times):
        work()
    return (time.process_time() - start) / times * 1000


def pdf_sheets() -> list[Path]:
    """The sample PDFs that can be read."""
    found = []
    for path in sorted(SHEETS.glob("*.pdf")):
        try:
            welltold.read(path)
        except welltold.WelltoldError:
            continue
        found.append(path)
    return found


def report_cpu(sheets: list[Path]) -> float:
    """Mean CPU milliseconds of all pages of a sample, each sheet once.

    The press remembers what it has set before, so the same sheet again would cost a fifth.
    """
    views = [welltold.interpret(welltold.read(path), as_of=date(2026, 11, 25)) for path in sheets]
    with tempfile.TemporaryDirectory() as folder:
        welltold.write(views[0], folder, ["html", "pdf", "json"])
        start = time.process_time()
        for view in views[1:]:
            welltold.write(view, folder, ["html", "pdf", "json"])
        used = time.process_time() - start
    return used / sum(max(len(view.samples), 1) for view in views[1:]) * 1000


def plumber(path: Path) -> None:
    """What the page would cost with a well-known library: words and tables."""
    with pdfplumber.open(path) as pdf:
        for page in pdf.pages:
            page.extract_words()
            page.extract_tables()


def figures() -> Iterator[Figure]:
    """Yield the speed figures."""
    sheets = pdf_sheets()
    bare = child_cpu(sys.executable, "-c", "pass")
    version = child_cpu(COMMAND, "--version")
    yield Figure("welltold --version / python -c pass", version / bare, "x", 8)
    pandas = child_cpu(sys.executable, "-c", "import pandas", times=5)
    one_page = str(SHEETS / "clean-well.pdf")
    read = child_cpu(COMMAND, "read", one_page, "--json", times=5)
    yield Figure("welltold read one-page.pdf --json / import pandas", read / pandas, "x", 1.5)
    ours = sum(own_cpu(lambda p=path: read_document(open_document(p)), 5) for path in sheets)
    theirs = sum(own_cpu(lambda p=path: plumber(p), 1) for path in sheets)
    yield Figure(
        f"words, layout and results / pdfplumber words + tables ({len(sheets)} sheets)",
        ours / theirs,
        "x",
        0.2,
    )
    view = welltold.interpret(welltold.read(sheets[0]), as_of=date(2026, 11, 25))
    yield Figure("a report in HTML + PDF + JSON", report_cpu(sheets), "ms CPU", 200)
    judge = own_cpu(lambda: welltold.interpret(view.reading, as_of=date(2026, 11, 25)), 10)
    yield Figure("interpreting the same sheet", judge, "ms CPU")
    yield from workbook.figures()
    yield from chemistry()
    yield from trains.figures()


MANY = 100_000


def chemistry() -> Iterator[Figure]:
    """Yield what 100,000 waters cost in one call, over so many single calls."""
    import dataclasses

    import numpy as np

    from welltold.chemistry import Water, heated, precipitation_potential, saturation

    chance = np.random.default_rng(20261125)
    many = Water(
        ph=chance.uniform(5, 9, MANY),
        alkalinity=chance.uniform(5, 500, MANY),
        calcium=chance.uniform(1, 200, MANY),
        magnesium=chance.uniform(1, 50, MANY),
        sulfate=chance.uniform(1, 300, MANY),
        temperature=chance.uniform(3, 60, MANY),
        solids=chance.uniform(50, 2500, MANY),
    )
    columns = [getattr(many, field.name) for field in dataclasses.fields(Water)]
    single = [
        Water(*(float(one[i]) if isinstance(one, np.ndarray) else one for one in columns))
        for i in range(200)
    ]
    for work in (saturation, heated, precipitation_potential):
        together = own_cpu(lambda w=work: w(many), 2)
        alone = own_cpu(lambda w=work: [w(water) for water in single], 2) / len(single) * MANY
        name = f"{work.__name__} of {MANY:,} waters / as many single calls"
        yield Figure(name, together / alone * 200, "/ 200", 1)
