"""A reading as a CSV that a person can correct in a spreadsheet.

One line a result, below a line for the sheet itself; lines that were not understood and warnings
follow, so that nothing is lost. The columns are those of `welltold.rows`, between ``kind`` and
``kept``. ``kept`` holds the line's own part of the reading, exact to the last digit, because a
spreadsheet program changes what it shows (12.0 becomes 12). `welltold.corrections` reads it back.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict
from typing import Any

from .messages import say
from .reading import Reading, Result
from .respelled import guarded
from .rows import COLUMNS as RESULT_COLUMNS
from .rows import place_in_words, row

COLUMNS = ("kind", "file", "sha256", *RESULT_COLUMNS[1:], "kept")
TYPED = ("corrected_text", "corrected_by", "corrected_at")
"""The columns that a person fills in."""

Line = dict[str, Any]


def to_csv(readings: Iterable[Reading], *, head: bool = True) -> str:
    """Return the lines of the readings as CSV text, with one header line unless ``head`` is off."""
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS, lineterminator="\n")
    if head:
        writer.writeheader()
    for reading in readings:
        for line in lines(reading):
            writer.writerow({column: _cell(value) for column, value in line.items()})
    return out.getvalue()


def lines(reading: Reading) -> Iterator[Line]:
    """Yield the CSV's lines of one reading, with the keys of `COLUMNS`."""
    parts = list(_parts(reading))
    for number, (shown, kept) in enumerate(parts, start=1):
        numbered = {"row": number, "of": len(parts), **kept}
        text = json.dumps(numbered, default=str, separators=(",", ":"))
        base = {"file": reading.source.file, "sha256": reading.source.sha256}
        yield dict.fromkeys(COLUMNS) | base | shown | {"kept": text}


def result_line(reading: Reading, sample: int, result: Result) -> Line:
    """Return what a result's line shows."""
    shown = row(reading.source, reading.samples[sample], result)
    return {"kind": "result", **shown}


def _parts(reading: Reading) -> Iterator[tuple[Line, Mapping[str, Any]]]:
    """Yield what each line shows, and what it keeps."""
    samples = [_pruned({**asdict(sample), "results": ()}) for sample in reading.samples]
    sheet = {"source": asdict(reading.source), "lab": asdict(reading.lab), "samples": samples}
    yield {"kind": "sheet", "review": say("correct.how").text}, sheet
    for number, sample in enumerate(reading.samples):
        for result in sample.results:
            kept = {"sample": number, "result": _kept(result)}
            yield result_line(reading, number, result), kept
    for line in reading.unread:
        shown = {"kind": "unread", "text": line.text, "review": line.reason.text}
        yield shown | {"place": place_in_words((line.where,))}, {"unread": asdict(line)}
    for warning in reading.warnings:
        yield {"kind": "warning", "review": warning.text}, {"warning": asdict(warning)}


def _kept(result: Result) -> dict[str, Any]:
    """Return a result without the fields that say nothing."""
    found = {"analyte": None} | _pruned(asdict(result))
    found["where"] = [_pruned(place) for place in found.get("where", ())]
    return found


def _pruned(fields: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in fields.items() if value is not None and value != ()}


def _cell(value: Any) -> Any:
    return guarded(value) if isinstance(value, str) and not value.startswith("{") else value
