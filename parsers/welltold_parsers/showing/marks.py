"""From a reading to the marks on its pages, and to the list that goes with them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from welltold.messages import say
from welltold.reading import Reading, Result, Unread, Where
from welltold.rows import place_in_words
from welltold.speech import plain_name

Kind = Literal["used", "look", "unread", "corrected", "limit", "unit", "label"]
KINDS: tuple[Kind, ...] = ("look", "unread", "corrected", "used", "limit", "unit", "label")
"""The strongest first: where two marks fall on one place, that one is drawn last."""
VALUES = KINDS[:4]
_OBEYED = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff]"
)


@dataclass(frozen=True, slots=True)
class Mark:
    """One frame or line on the sheet."""

    kind: Kind
    where: Where
    text: str
    """What is expected to stand there."""
    number: str = ""
    """The number of a doubt; "" for what needs no look."""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the list beside the pictures."""

    kind: Kind
    number: str
    sample: str
    label: str
    result: str
    read_as: str
    state: str
    why: tuple[str, ...]
    place: str
    where: Where | None
    crop: str = ""
    """The place on a scan enlarged, as a ``data:`` address; "" for what needs no look."""
    others: tuple[str, ...] = ()
    """What else was read there."""


@dataclass(frozen=True, slots=True)
class Shown:
    """Everything to draw and to list of one reading."""

    marks: tuple[Mark, ...]
    entries: tuple[Entry, ...]

    def count(self, kind: Kind) -> int:
        """Return how many entries are of this kind."""
        return sum(entry.kind == kind for entry in self.entries)


def marks_of(reading: Reading) -> Shown:
    """Return the marks of all results and of all lines that were not understood, in order."""
    marks: list[Mark] = []
    entries: list[Entry] = []
    looks = 0
    for sample, result in ((one, r) for one in reading.samples for r in one.results):
        looks += result.use == "look"
        name = visible(sample.id or sample.point or "")
        entry = _entry(result, str(looks) if result.use == "look" else "", name)
        entries.append(entry)
        marks += _marks(result, entry)
    for number, line in enumerate(reading.unread, start=1):
        entry = _unread(line, f"U{number}")
        entries.append(entry)
        title = f"{entry.number}. {entry.state}: {entry.why[0]}"
        marks.append(Mark("unread", line.where, line.text, entry.number, title))
    marks.sort(key=lambda mark: KINDS.index(mark.kind), reverse=True)
    return Shown(tuple(marks), tuple(entries))


def visible(text: str) -> str:
    """Return the text without control characters and marks that turn its direction."""
    return _OBEYED.sub("", text)


def word(name: str, /, **fields: object) -> str:
    """Return one sentence of this room's catalogue."""
    return say(f"show.{name}", **fields).text


def kind_of(result: Result) -> Kind:
    """Return how the value of a result is marked."""
    if result.use == "look":
        return "look"
    return "corrected" if result.correction else "used"


def _entry(result: Result, number: str, sample: str) -> Entry:
    kind = kind_of(result)
    made = result.correction
    put = (word("corrected", by=made.by, text=made.text, printed=result.text),) if made else ()
    value = next((place for place in result.where if place.of == "value"), None)
    return Entry(
        kind,
        number,
        sample,
        visible(result.label),
        visible(_with_unit(result)),
        plain_name(result.analyte) or word("known_not"),
        word(f"kind_{kind}"),
        tuple(visible(text) for text in (*put, *(reason.text for reason in result.review))),
        place_in_words(result.where) or "",
        value or next(iter(result.where), None),
        others=tuple(visible(f"{one.text} ({one.why})") for one in result.alternatives),
    )


def _with_unit(result: Result) -> str:
    unit = result.unit or ""
    return result.stated if unit in result.stated else f"{result.stated} {unit}"


def _unread(line: Unread, number: str) -> Entry:
    return Entry(
        "unread",
        number,
        "",
        visible(line.text),
        "",
        "",
        word("kind_unread"),
        (visible(line.reason.text),),
        place_in_words((line.where,)) or "",
        line.where,
    )


def _marks(result: Result, entry: Entry) -> Iterator[Mark]:
    title = f"{entry.label}: {entry.result} ({entry.state})"
    title = f"{entry.number}. {title}" if entry.number else title
    texts = {"label": result.label, "unit": result.unit, "limit": result.printed_limit}
    for place in _once(result.where):
        if place.of == "value":
            yield Mark(entry.kind, place, result.text, entry.number, title)
        elif place.of == "label":
            yield Mark("label", place, texts["label"] or "", title=word("kind_label"))
        elif place.of == "unit":
            yield Mark("unit", place, texts["unit"] or "", title=word("kind_unit"))
        elif place.of == "limit":
            yield Mark("limit", place, texts["limit"] or "", title=word("kind_limit"))


def _once(places: Iterable[Where]) -> Iterable[Where]:
    return dict.fromkeys(places)
