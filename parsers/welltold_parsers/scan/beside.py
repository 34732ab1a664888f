"""Doubts at what stands beside a value that was read from a picture: its name, its unit."""

from __future__ import annotations

import re
from collections.abc import Iterator, Set
from functools import lru_cache
from typing import NamedTuple

from rapidfuzz import process
from rapidfuzz.distance import Levenshtein

from welltold.analytes import identify, known_names, normalise
from welltold.messages import Message, say
from welltold.reading import Result
from welltold.units import unit
from welltold_parsers.geometry import Box, Page, Questioned, Word

from .crops import around, those_of, words_in

_UNSURE = 0.6
"""A letter of a name or unit read with less certainty is doubted."""
_UNKNOWN = 0.95
"""In a name that is not known: it may be a known one misread."""


_LONG, _FAR = 5, 3
"""A name of so many letters that differs from all others in so many of them stands alone."""
_SYMBOL = re.compile(r"[A-Z][A-Za-z0-9|](?![A-Za-z])")
_ALIKE = "lIi1|"
_SOME_UNIT = re.compile(r"\(?[mµμunp][a-z0-9]{1,3}[/|\\][A-Za-z1|]{1,2}[.):]*")
"""A mass or an amount in a litre, with letters lost or mistaken."""


Place = tuple[int, Box]
"""A page and a box on it."""


class Doubt(NamedTuple):
    """What speaks against a result, and the share of such results that is right."""

    share: float
    reason: Message


def beside(result: Result, page: Page, agreed: Set[Place], *, limits: bool) -> Iterator[Doubt]:
    """Yield the doubts at a result's places on a page, its value's own letters left out.

    ``agreed`` has the places where a second reading gave the same; ``limits`` says that other
    results of the sheet have the limits of their tests.
    """
    for place in result.where:
        if place.box is None or place.page != page.number:
            continue
        for one in _questioned(page, place.box):
            yield Doubt(0.85, say(f"scan.{one.why}", other=one.other))
    for kind, words in unsure(result, page):
        if kind == "label" and stands_alone(result.label):
            continue
        if place_of(page, words) not in agreed or not _known(result, kind):
            text = " ".join(word.text for word in words)
            yield Doubt(0.9, say(f"scan.{kind}_unsure", text=text))
    if other := _twin(result.label):
        yield Doubt(0.6, say("scan.label_alike", text=result.label, other=other))
    if limits and result.state == "below" and result.value is None and result.present is None:
        yield Doubt(0.9, say("read.limit_not_found"))
    yield from _of_unit(result, page)


def _of_unit(result: Result, page: Page) -> Iterator[Doubt]:
    if _unit_between(result, page):
        yield Doubt(0.6, say("scan.unit_between", unit=result.unit or ""))
    if result.unit and result.unit.startswith("pg"):
        yield Doubt(0.6, say("scan.micro", unit=result.unit))
    elif result.unit and unit(result.unit) is None:
        yield Doubt(0.7, say("scan.unit_unknown", unit=result.unit))


def unsure(result: Result, page: Page) -> Iterator[tuple[str, list[Word]]]:
    """Yield the name and the unit of a result where a letter of it was read with little certainty.

    Each with what it is ("label", "unit") and its words.
    """
    for place in result.where:
        if place.of not in {"label", "unit"} or place.box is None or place.page != page.number:
            continue
        told = result.label if place.of == "label" else result.unit or ""
        words = those_of(words_in(page, place.box), told)
        least = _UNKNOWN if place.of == "label" and result.analyte is None else _UNSURE
        if words and min(word.confidence for word in words) < least:
            yield place.of, words


def place_of(page: Page, words: list[Word]) -> Place:
    """Return where words stand: the page and the box round all of them."""
    return page.number, around(words)


def _unit_between(result: Result, page: Page) -> bool:
    """Whether something like a unit, not known as one, stands between a value and its unit above.

    It may be the misread unit of a later heading: "Results in meg/L".
    """
    places = {one.of: one.box for one in result.where if one.page == page.number}
    unit_box, value_box = places.get("unit"), places.get("value")
    if unit_box is None or value_box is None or unit_box[3] >= value_box[1]:
        return False
    return any(
        unit_box[3] < word.top and word.bottom < value_box[1] and _may_be_unit(word.text)
        for word in page.words
    )


@lru_cache(maxsize=4096)
def _may_be_unit(text: str) -> bool:
    found = _SOME_UNIT.fullmatch(text)
    return found is not None and unit(text) is None


def _known(result: Result, kind: str) -> bool:
    if kind == "unit":
        return result.unit is not None and unit(result.unit) is not None
    found = identify(result.label)
    return found is not None and found.how == "exact"


@lru_cache(maxsize=4096)
def stands_alone(label: str) -> bool:
    """Whether a label is the name of a test from which every other name is far.

    Then a letter read with little certainty cannot have made it out of another test's name.
    """
    own, key = identify(label), normalise(label)
    if own is None or own.how != "exact" or len(key) < _LONG:
        return False
    near = process.extract(
        key, known_names(), scorer=Levenshtein.distance, score_cutoff=_FAR - 1, limit=None
    )
    others = (identify(name) for name, _, _ in near)
    return all(other is None or other.slug == own.slug for other in others)


def _twin(label: str) -> str | None:
    """Return a chemical symbol that looks like a label and names something else: Tl and TI."""
    found = _SYMBOL.match(label)
    if found is None:
        return None
    own = identify(found[0])
    texts = [found[0][:-1] + letter for letter in _ALIKE if found[0][-1] in _ALIKE]
    twins = ((text, identify(text)) for text in texts if text != found[0])
    return next(
        (text for text, twin in twins if twin and (own is None or twin.slug != own.slug)), None
    )


def _questioned(page: Page, box: Box) -> Iterator[Questioned]:
    for one in page.scan.questioned if page.scan else ():
        across = min(one.box[2], box[2]) - max(one.box[0], box[0])
        down = min(one.box[3], box[3]) - max(one.box[1], box[1])
        least = min(one.box[3] - one.box[1], box[3] - box[1])
        if across > 0 and down > 0.3 * least:
            yield one
