"""A reading as a table on the terminal."""

from __future__ import annotations

import sys

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from ..reading import Reading, Result, Sample
from ..rows import place_in_words


def wide_console() -> Console:
    """Return a console on stdout that does not squeeze a table when it goes into a file or pipe."""
    return Console(highlight=False, width=None if sys.stdout.isatty() else 160)


def print_reading(reading: Reading) -> None:
    """Print every result with its place, then what needs a look and what was not understood."""
    console = wide_console()
    console.print(Text(_headline(reading), style="bold"))
    for sample in reading.samples:
        console.print(_table(sample))
    doubts = [result for result in reading.results if result.review]
    if doubts:
        console.print(Text("Please look at these against the sheet:", style="bold"))
    for result in doubts:
        reasons = " ".join(message.text for message in result.review)
        place = place_in_words(result.where) or ""
        console.print(Text(f"  {result.label}: {result.text}  {place}\n    {reasons}"))
    if reading.unread:
        console.print(Text("Not understood, please read these yourself:", style="bold"))
    for line in reading.unread:
        place = place_in_words((line.where,)) or ""
        console.print(Text(f"  {line.text}  {place}\n    {line.reason.text}"))
    for warning in reading.warnings:
        console.print(Text(f"Note: {warning.text}"))


def _headline(reading: Reading) -> str:
    source = reading.source
    parts = [source.file, f"{len(reading.results)} results in {len(reading.samples)} sample(s)"]
    if reading.lab.name:
        parts.insert(1, reading.lab.name)
    if reading.doubts:
        parts.append(f"{reading.doubts} to look at")
    return ", ".join(parts)


def _table(sample: Sample) -> Table:
    named = [text for text in (sample.id, sample.point, sample.collected) if text]
    table = Table(title="  ".join(named) or None, title_justify="left", box=box.SIMPLE_HEAD)
    for heading in ("Analyte", "As printed", "Unit", "Basis", "Place"):
        table.add_column(heading, overflow="fold")
    table.add_column("Look?", justify="center")
    for result in sample.results:
        table.add_row(*_cells(result))
    return table


def _cells(result: Result) -> list[Text]:
    name = result.analyte or f"{result.label} (not known)"
    cells = (
        name,
        result.text,
        result.unit or "",
        result.basis or "",
        place_in_words(result.where) or "",
        "look" if result.review else "",
    )
    return [Text(cell) for cell in cells]
