"""The table that a person filled in (``welltold template reading``).

Its columns are fixed, so nothing is inferred. What cannot be, or contradicts itself, is an error
that names the cell: whoever typed it can look again. `typed_result` reads one line.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from welltold.correcting import WrongEntryError, iso_day
from welltold.messages import say
from welltold.reading import Reading, Result, Sample, Source, Taken, Unread
from welltold.typed_value import Commas, needs_comma

from .geometry import Document
from .typed_line import COLUMNS, Line
from .typed_result import result_of

TAKEN = ("first_draw", "flushed", "raw", "treated")


def claims(document: Document) -> bool:
    """Say whether this document is a typed table: its head names exactly our columns."""
    return _head(document) is not None


def extract(document: Document) -> Reading:
    """Return the reading of a typed table; ReadingFileError on a value outside its column."""
    lines = list(_lines(document))
    commas: Commas = "both" if any(needs_comma(m.text("result")) for m in lines) else "no"
    unread = list(_remarks(document))
    samples = []
    for members in _by_sample(lines):
        results: list[Result] = []
        for line in members:
            found = result_of(line, commas=commas)
            if isinstance(found, Unread):
                unread.append(found)
            else:
                results.append(found)
        samples.append(_sample(members, tuple(results)))
    return Reading(
        source=Source(document.file, document.sha256, "typed", 1),
        samples=tuple(samples),
        unread=tuple(unread),
        warnings=(*document.warnings, say("typed.by_hand")),
    )


def _head(document: Document) -> int | None:
    """Return the row of the column names, or None."""
    if len(document.sheets) != 1:
        return None
    for row in document.sheets[0].rows[:20]:
        names = tuple(cell.text.strip().lower() for cell in row)
        if names == COLUMNS and row[-1].column == len(COLUMNS):
            return row[0].row
    return None


def _below(document: Document) -> Iterator[Line]:
    head = _head(document)
    for row in document.sheets[0].rows:
        if head is not None and row[0].row > head:
            yield Line(document.file, {cell.column: cell for cell in row})


def _lines(document: Document) -> Iterator[Line]:
    for line in _below(document):
        if line.first.text.startswith("#"):
            continue
        if line.last.column > len(COLUMNS):
            raise line.wrong(None, say("typed.too_many_cells", count=len(COLUMNS)).text)
        yield line


def _remarks(document: Document) -> Iterator[Unread]:
    """Yield what was left out as a remark but looks like a sample called "#1"."""
    for line in _below(document):
        first = line.first.text
        if first.startswith("#") and first[1:2].strip() and line.text("result"):
            yield Unread(line.shown(), line.where()[0], say("typed.remark"))


def _by_sample(lines: list[Line]) -> Iterator[list[Line]]:
    """Yield the lines of each sample, also of one that returns later in the table.

    Lines without a sample's number are told apart by their point.
    """
    groups: dict[tuple[str, str], list[Line]] = {}
    for line in lines:
        number, point = line.text("sample"), line.text("point")
        groups.setdefault((number, "" if number else point), []).append(line)
    yield from groups.values()


def _sample(members: list[Line], results: tuple[Result, ...]) -> Sample:
    for line in members:
        taken = line.text("taken").lower()
        if taken and taken not in TAKEN:
            known = ", ".join(TAKEN)
            raise line.wrong("taken", say("typed.not_one_of", text=taken, known=known).text)
    return Sample(
        id=members[0].text("sample") or None,
        point=_agreed(members, "point", [line.text("point") for line in members]),
        collected=_agreed(members, "collected", [_day(line) for line in members]),
        taken=cast(
            "Taken | None", _agreed(members, "taken", [m.text("taken").lower() for m in members])
        ),
        results=results,
    )


def _agreed(members: list[Line], column: str, told: list[str]) -> str | None:
    """Return what the lines of one sample say in a column; an error where two lines differ."""
    first = next((text for text in told if text), None)
    for line, text in zip(members, told, strict=True):
        if text and text != first:
            raise line.wrong(column, say("typed.differs", text=text, first=first).text)
    return first


def _day(line: Line) -> str:
    text = line.text("collected")
    try:
        return iso_day(text) if text else ""
    except WrongEntryError as error:
        raise line.wrong("collected", error.why) from error
