"""Reads a corrected CSV back into the reading that it was made from.

Every line of the CSV keeps its own part of the reading (`welltold.correction_sheet`), so that the
reading comes back exactly; nothing is lost. A line that is gone, a line that was added, or a cell
changed outside the three columns for corrections is an error that names the row.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cache
from typing import TYPE_CHECKING, Any

from .correcting import WrongEntryError, corrected
from .correction_sheet import COLUMNS, TYPED, lines
from .errors import ReadingFileError
from .messages import LANGUAGES, Message, say, speaking, spoken
from .reading import Correction, Lab, Reading, Result, Sample, Source, Unread
from .respelled import same_cell

if TYPE_CHECKING:
    from pydantic import TypeAdapter

Row = tuple[int, Mapping[str, str]]
"""A row's number as a spreadsheet counts it, and its cells by column; empty ones may be absent."""
_FREE = {*TYPED, "kept"}
_ENOUGH = 10
"""So many of our column names in one row are no accident."""


@dataclass(frozen=True, slots=True)
class _Kept:
    """One line's own part of the reading."""

    row: int
    of: int
    source: Source | None = None
    lab: Lab | None = None
    samples: tuple[Sample, ...] = ()
    sample: int = 0
    result: Result | None = None
    unread: Unread | None = None
    warning: Message | None = None


@dataclass(frozen=True, slots=True)
class _Line:
    number: int
    cells: Mapping[str, str]
    kept: _Kept


def is_head(cells: Iterable[str]) -> bool:
    """Whether these are the column names of a CSV that `welltold read --csv` wrote."""
    return len({cell.strip() for cell in cells} & set(COLUMNS)) >= _ENOUGH


def rebuild(file: str, head: Sequence[str], rows: Iterable[Row]) -> Reading:
    """Return the reading of a CSV, with its corrections.

    ``file`` names it in errors. Raises ReadingFileError.
    """
    for column in COLUMNS:
        if column not in head:
            raise ReadingFileError(file, "row 1", say("correct.column_missing", column=column).text)
    found = [_Line(number, cells, _kept(file, number, cells)) for number, cells in rows]
    found.sort(key=lambda line: line.kept.row)
    _all_there(file, found)
    for line, written in zip(found, _as_written(_reading(file, found)), strict=True):
        _unchanged(file, line, written)
    return _reading(
        file, [replace(line, kept=replace(line.kept, result=_result(file, line))) for line in found]
    )


def _kept(file: str, number: int, cells: Mapping[str, str]) -> _Kept:
    from pydantic import ValidationError

    try:
        found = json.loads(cells.get("kept", ""), parse_float=Decimal)
        return _adapter().validate_python(found)
    except (ValidationError, ValueError, RecursionError) as error:
        why = say("correct.nothing_kept").text
        raise ReadingFileError(file, f"row {number}", why) from error


@cache
def _adapter() -> TypeAdapter[_Kept]:
    from pydantic import TypeAdapter

    return TypeAdapter(_Kept)


def _all_there(file: str, found: Sequence[_Line]) -> None:
    """Raise an error unless each line of one sheet is there once."""
    sheets = {line.cells.get("sha256", "") for line in found}
    if len(sheets) > 1:
        raise ReadingFileError(file, "sha256", say("correct.several", count=len(sheets)).text)
    total = found[0].kept.of if found else 1
    seen: dict[int, int] = {}
    for line in found:
        first = seen.setdefault(line.kept.row, line.number)
        if first != line.number:
            why = say("correct.row_twice", first=first).text
            raise ReadingFileError(file, f"row {line.number}", why)
    for row in range(1, total + 1):
        if row not in seen:
            why = say("correct.row_missing", row=row + 1, count=total + 1).text
            raise ReadingFileError(file, f"row {row + 1}", why)


def _reading(file: str, found: Sequence[_Line]) -> Reading:
    parts = [line.kept for line in found]
    sheet = next((part for part in parts if part.source is not None), None)
    last = max((part.sample for part in parts), default=0)
    if sheet is None or sheet.source is None or last >= max(len(sheet.samples), 1):
        raise ReadingFileError(file, "row 2", say("correct.nothing_kept").text)
    results: list[list[Result]] = [[] for _ in sheet.samples]
    for part in parts:
        if part.result:
            results[part.sample].append(part.result)
    return Reading(
        source=sheet.source,
        lab=sheet.lab or Lab(),
        samples=tuple(
            replace(sample, results=tuple(own))
            for sample, own in zip(sheet.samples, results, strict=True)
        ),
        unread=tuple(part.unread for part in parts if part.unread),
        warnings=tuple(part.warning for part in parts if part.warning),
    )


def _as_written(reading: Reading) -> Iterator[tuple[Mapping[str, Any], ...]]:
    """Yield each line in every language: whoever reads the CSV back may speak another one.

    The language spoken now stands first.
    """
    tongues = sorted(LANGUAGES, key=lambda tongue: tongue != spoken())
    told: list[list[Mapping[str, Any]]] = []
    for tongue in tongues:
        with speaking(tongue):
            told.append(list(lines(reading)))
    return zip(*told, strict=True)


def _unchanged(file: str, line: _Line, written: Sequence[Mapping[str, Any]]) -> None:
    """Raise an error when a cell outside the columns for corrections says something else."""
    for column in COLUMNS:
        olds = ["" if each[column] is None else str(each[column]) for each in written]
        old, new = olds[0], line.cells.get(column, "")
        if column in _FREE or any(each == new or same_cell(each, new) for each in olds):
            continue
        why = say("correct.changed", old=old or '""', new=new or '""').text
        raise ReadingFileError(file, f"row {line.number}, column {column}", why)


def _result(file: str, line: _Line) -> Result | None:
    """Return the line's result, corrected where something was typed."""
    text, by, at = (line.cells.get(column, "").strip() for column in TYPED)
    result = line.kept.result
    place = f"row {line.number}, column corrected_text"
    if not text:
        if result and result.correction:
            raise ReadingFileError(file, place, say("correct.withdrawn").text)
        return result
    if result is None:
        raise ReadingFileError(file, place, say("correct.not_a_result_row").text)
    try:
        return corrected(result, Correction(text.removeprefix("'"), None, by, at))
    except WrongEntryError as error:
        place = f"row {line.number}, column corrected_{error.column}"
        raise ReadingFileError(file, place, error.why) from error
