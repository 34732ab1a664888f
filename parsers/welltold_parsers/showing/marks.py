"""From a reading to the marks on its pages, and to the list that goes with them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence, Set
from dataclasses import dataclass
from typing import Literal

from welltold.doubts import Doubt, doubts_of, heading_of, labels_of, place_of
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
    first: bool = True
    """Whether this is the first frame with its number; a doubt of many results has many."""


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
    numbers: tuple[str, ...] = ()
    """The numbers of all doubts that this line has a part in."""
    group: bool = False
    """Whether this is a doubt that several results share; each has a line of its own too."""


@dataclass(frozen=True, slots=True)
class Shown:
    """Everything to draw and to list of one reading."""

    marks: tuple[Mark, ...]
    entries: tuple[Entry, ...]

    def count(self, kind: Kind) -> int:
        """Return how many results and lines are of this kind."""
        return sum(entry.kind == kind and not entry.group for entry in self.entries)


def marks_of(reading: Reading) -> Shown:
    """Return the marks of all results and of all lines that were not understood, in order."""
    marks: list[Mark] = []
    entries: list[Entry] = []
    doubts = numbered(reading)
    told: set[str] = set()
    of = [(sample, result) for sample in reading.samples for result in sample.results]
    for place, (sample, result) in enumerate(of, start=1):
        own = doubts.get(place, [])
        entries += [_group(n, one) for n, one in own if one.of != "result" and n not in told]
        entry = _entry(result, own, visible(sample.id or sample.point or ""))
        entries.append(entry)
        marks += _marks(result, entry, told)
        told |= {number for number, _ in own}
    for number, line in enumerate(reading.unread, start=1):
        entry = _unread(line, f"U{number}")
        entries.append(entry)
        title = f"{entry.number}. {entry.state}: {entry.why[0]}"
        marks.append(Mark("unread", line.where, line.text, entry.number, title))
    marks.sort(key=lambda mark: KINDS.index(mark.kind), reverse=True)
    return Shown(tuple(marks), tuple(entries))


def numbered(reading: Reading) -> dict[int, list[tuple[str, Doubt]]]:
    """Return the doubts of each result, which count from 1, each with its number."""
    found: dict[int, list[tuple[str, Doubt]]] = {}
    for number, doubt in enumerate(doubts_of(reading), start=1):
        for result in doubt.results:
            found.setdefault(result, []).append((str(number), doubt))
    return found


def _group(number: str, doubt: Doubt) -> Entry:
    """Return the line of a doubt that several results share."""
    return Entry(
        "look",
        number,
        "",
        visible(heading_of(doubt)),
        "",
        visible(labels_of(doubt)),
        word("kind_look"),
        tuple(visible(reason.text) for reason in doubt.reasons),
        place_of(doubt),
        next((place for place in doubt.where if place.of == "value"), None),
        numbers=(number,),
        group=True,
    )


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


def _entry(result: Result, doubts: Sequence[tuple[str, Doubt]], sample: str) -> Entry:
    kind = kind_of(result)
    alone = next(((n, doubt) for n, doubt in doubts if doubt.of == "result"), None)
    why = alone[1].reasons if alone else ()
    made = result.correction
    put = (word("corrected", by=made.by, text=made.text, printed=result.text),) if made else ()
    value = next((place for place in result.where if place.of == "value"), None)
    return Entry(
        kind,
        alone[0] if alone else "",
        sample,
        visible(result.label),
        visible(_with_unit(result)),
        plain_name(result.analyte) or word("known_not"),
        word(f"kind_{kind}"),
        tuple(visible(text) for text in (*put, *(reason.text for reason in why))),
        place_in_words(result.where) or "",
        value or next(iter(result.where), None),
        others=tuple(visible(f"{one.text} ({one.why})") for one in result.alternatives),
        numbers=tuple(number for number, _ in doubts),
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
        numbers=(number,),
    )


def _marks(result: Result, entry: Entry, told: Set[str]) -> Iterator[Mark]:
    """Yield the frames of one result; ``told``: the numbers that another frame has already."""
    title = f"{entry.label}: {entry.result} ({entry.state})"
    title = f"{', '.join(entry.numbers)}. {title}" if entry.numbers else title
    texts = {"label": result.label, "unit": result.unit, "limit": result.printed_limit}
    for place in _once(result.where):
        if place.of == "value":
            for number in entry.numbers or ("",):
                yield Mark(entry.kind, place, result.text, number, title, number not in told)
            told = told | set(entry.numbers)
        elif place.of == "label":
            yield Mark("label", place, texts["label"] or "", title=word("kind_label"))
        elif place.of == "unit":
            yield Mark("unit", place, texts["unit"] or "", title=word("kind_unit"))
        elif place.of == "limit" and any(c.isalnum() for c in texts["limit"] or ""):
            yield Mark("limit", place, texts["limit"] or "", title=word("kind_limit"))


def _once(places: Iterable[Where]) -> Iterable[Where]:
    return dict.fromkeys(places)
