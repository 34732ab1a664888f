"""What a person should look at, each told once: one doubt of a column is one look, not twelve.

Each result keeps its own reasons. Here those that many results share are put together, by column,
by sample or over the whole sheet, as ``data/shared_doubts.csv`` says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal, cast, get_args

from .messages import Message, say
from .reading import Reading, Result, Sample, Where
from .rows import place_in_words
from .tables import read_table

Of = Literal["result", "column", "sample", "sheet"]
_NAMED = 30
"""So many results are named where a doubt is told."""
_LETTERS = re.compile(r"([A-Z]+)\d+")
_Key = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Doubt:
    """One thing to look at, and all results that it settles."""

    of: Of
    """What the results share; "result" for a single one."""
    name: str | None
    """The heading of the column or the name of the sample, as printed; None where none is."""
    count: int
    """How many results."""
    labels: tuple[str, ...]
    """Their names on the sheet, each once."""
    reasons: tuple[Message, ...]
    where: tuple[Where, ...]
    """The heading first, if one is known, then each value."""
    results: tuple[int, ...]
    """Which results of the reading, from 1, in the order of its samples."""


def doubts_of(reading: Reading) -> tuple[Doubt, ...]:
    """Return what there is to look at, in the order of the first result of each."""
    all_of = [(sample, result) for sample in reading.samples for result in sample.results]
    groups: dict[_Key, list[int]] = {}
    for number, (sample, result) in enumerate(all_of, start=1):
        for reason in result.review:
            key = _shared(reason, sample, result)
            if key is not None:
                groups.setdefault(key, []).append(number)
    groups = {key: numbers for key, numbers in groups.items() if len(numbers) > 1}
    found = [_together(key, numbers, all_of) for key, numbers in groups.items()]
    for number, (sample, result) in enumerate(all_of, start=1):
        own = tuple(m for m in result.review if _shared(m, sample, result) not in groups)
        if own:
            found.append(_single(number, result, own))
    return tuple(sorted(found, key=lambda one: (one.results[0], one.of == "result")))


def heading_of(doubt: Doubt) -> str:
    """Return what a doubt is of, in words: "12 results of the column “Result 2”"."""
    if doubt.of == "result":
        return doubt.labels[0]
    named = f"{doubt.of}_named" if doubt.name else doubt.of
    return say(f"table.doubt_{named}", count=doubt.count, name=doubt.name or "").text


def place_of(doubt: Doubt) -> str:
    """Return in words where to look: at the heading, else at the first value."""
    head = [place for place in doubt.where if place.of == "header"]
    return place_in_words(tuple(head[:1] or doubt.where[:1])) or ""


def told_of(doubt: Doubt) -> str:
    """Return in one line what results a doubt is of, by their names on the sheet."""
    return f"{heading_of(doubt)} ({labels_of(doubt)})"


def labels_of(doubt: Doubt, most: int = _NAMED) -> str:
    """Return the names of the results in one line, the first ``most`` of them."""
    names, left = doubt.labels[:most], len(doubt.labels) - most
    more = [say("table.doubt_more", count=left).text] if left > 0 else []
    return ", ".join([*names, *more])


def _together(key: _Key, numbers: list[int], of: Sequence[tuple[Sample, Result]]) -> Doubt:
    """Return the doubt that these results share; ``key`` begins with its kind and its reason."""
    kind, reason = cast("Of", key[0]), key[1]
    sample, first = of[numbers[0] - 1]
    results = [of[number - 1][1] for number in numbers]
    heads = [place for result in results for place in result.where if place.of == "header"]
    values = [place for result in results for place in result.where if place.of == "value"]
    name = {"column": _column_name(first), "sample": sample.id or sample.point}.get(kind) or ""
    return Doubt(
        kind,
        _plain(name) or None,
        len(numbers),
        tuple(dict.fromkeys(_plain(result.label) for result in results)),
        tuple(message for message in first.review if _same(message) == reason)[:1],
        tuple(dict.fromkeys((*(heads if kind == "column" else ()), *values))),
        tuple(numbers),
    )


def _single(number: int, result: Result, reasons: tuple[Message, ...]) -> Doubt:
    values = tuple(place for place in result.where if place.of == "value")
    return Doubt("result", None, 1, (_plain(result.label),), reasons, values, (number,))


def _shared(reason: Message, sample: Sample, result: Result) -> _Key | None:
    """Return what tells which results share this reason; None: it is told of each by itself."""
    kind = _kinds().get(reason.code)
    if kind is None:
        return None
    if kind == "column":
        return (kind, _same(reason), *_column(result))
    return (kind, _same(reason), id(sample) if kind == "sample" else None)


def _same(reason: Message) -> tuple[str, str]:
    return reason.code, reason.text


def _column(result: Result) -> Iterator[object]:
    """Yield what tells one column of a sheet from the others: its heading, else where it stands."""
    head = next((place for place in result.where if place.of == "header"), None)
    value = next((place for place in result.where if place.of == "value"), None)
    if head is not None:  # the same heading on the next page goes on with the column
        yield from (head.sheet, head.text or head)
    elif value is not None:
        yield from (value.sheet, value.page, _letter(value))


def _column_name(result: Result) -> str | None:
    head = next((place for place in result.where if place.of == "header"), None)
    value = next((place for place in result.where if place.of == "value"), None)
    return (head.text if head else None) or (_letter(value) if value else None)


def _plain(text: str) -> str:
    return " ".join(text.split())


def _letter(place: Where) -> str | None:
    """Return the letter of a column of a workbook."""
    found = _LETTERS.fullmatch(place.cell or "") if place.sheet is not None else None
    return found[1] if found else None


@cache
def _kinds() -> Mapping[str, Of]:
    kinds = frozenset(get_args(Of)) - {"result"}
    return {
        row.text("reason"): cast("Of", row.choice("shared_by", kinds))
        for row in read_table("shared_doubts.csv")
    }
