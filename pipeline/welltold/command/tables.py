"""A reading as a table on the terminal."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import asdict

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from ..doubts import Doubt, doubts_of, heading_of, labels_of, place_of
from ..messages import say
from ..reading import Numbers, Reading, Result, Sample
from ..rows import place_in_words
from ..speech import in_sentence, plain_name

COLUMNS = ("analyte", "text", "unit", "basis", "place")


def wide_console() -> Console:
    """Return a console on stdout that does not squeeze a table when it goes into a file or pipe."""
    return Console(highlight=False, width=None if sys.stdout.isatty() else 160)


def print_reading(reading: Reading) -> None:
    """Print every result with its place, then what needs a look and what was not understood."""
    console = wide_console()
    console.print(Text(_headline(reading), style="bold"))
    for sample in reading.samples:
        console.print(_table(sample))
    doubts = doubts_of(reading)
    if doubts:
        console.print(Text(_word("look_first"), style="bold"))
    for doubt in doubts:
        console.print(Text(_doubt(doubt, reading.results)))
    if reading.unread:
        console.print(Text(_word("not_understood"), style="bold"))
    for line in reading.unread:
        place = place_in_words((line.where,)) or ""
        console.print(Text(f"  {line.text}  {place}\n    {line.reason.text}"))
    for warning in reading.warnings:
        console.print(Text(_word("note", text=warning.text)))
    if reading.numbers is not None:
        console.print(Text(_numbers(reading.numbers)))


def _doubt(doubt: Doubt, results: Sequence[Result]) -> str:
    """Return one thing to look at: what it is and where, why, and which results it settles."""
    reasons = " ".join(message.text for message in doubt.reasons)
    if doubt.of == "result":
        result = results[doubt.results[0] - 1]
        return f"  {result.label}: {result.text}  {place_of(doubt)}\n    {reasons}"
    names = labels_of(doubt)
    return f"  {heading_of(doubt)}:  {place_of(doubt)}\n    {reasons}\n    {names}"


def _headline(reading: Reading) -> str:
    source = reading.source
    counts = {"results": len(reading.results), "samples": len(reading.samples)}
    parts = [source.file, _word("head", **counts)]
    if reading.lab.name:
        parts.insert(1, reading.lab.name)
    if reading.doubts:
        parts.append(_word("to_look", count=reading.doubts))
    return ", ".join(parts)


def _numbers(numbers: Numbers) -> str:
    """Return what became of the numbers of the file; what there is none of goes without saying."""
    roles = asdict(numbers)
    shown = roles.pop("shown")
    parts = [
        _word(f"numbers_{role}", count=count)
        for role, count in roles.items()
        if count or role == "unread"
    ]
    return _word("numbers", shown=shown, roles=", ".join(parts))


def _table(sample: Sample) -> Table:
    named = [text for text in (sample.id, sample.point, sample.collected) if text]
    table = Table(title="  ".join(named) or None, title_justify="left", box=box.SIMPLE_HEAD)
    for column in COLUMNS:
        table.add_column(_word(f"column_{column}"), overflow="fold")
    table.add_column(_word("column_look"), justify="center")
    for result in sample.results:
        table.add_row(*_cells(result))
    return table


def _cells(result: Result) -> list[Text]:
    known = plain_name(result.analyte)
    name = in_sentence(known) if known else _word("not_known", label=result.label)
    cells = (
        name,
        result.text,
        result.unit or "",
        result.basis or "",
        place_in_words(result.where) or "",
        _word("look") if result.review else "",
    )
    return [Text(cell) for cell in cells]


def _word(name: str, /, **fields: object) -> str:
    return say(f"table.{name}", **fields).text
