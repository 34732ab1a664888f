"""Doubts at what stands beside a value that was read from a picture: its name, its unit."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from welltold.analytes import identify
from welltold.messages import Message, say
from welltold.reading import Result, Where
from welltold_parsers.geometry import Box, Page, Questioned

from .crops import words_in

_UNSURE = 0.6
"""A letter of a name or unit read with less certainty is doubted."""
_UNKNOWN = 0.95
"""In a name that is not known: it may be a known one misread."""


_SYMBOL = re.compile(r"[A-Z][A-Za-z0-9|](?![A-Za-z])")
_ALIKE = "lIi1|"


class Doubt(NamedTuple):
    """What speaks against a result, and the share of such results that is right."""

    share: float
    reason: Message


def beside(result: Result, page: Page) -> Iterator[Doubt]:
    """Yield the doubts at a result's places on a page, its value's own letters left out."""
    for place in result.where:
        if place.box is None or place.page != page.number:
            continue
        for one in _questioned(page, place.box):
            yield Doubt(0.85, say(f"scan.{one.why}", other=one.other))
        if place.of in {"label", "unit"}:
            yield from _unsure(result, place, page)
    if other := _twin(result.label):
        yield Doubt(0.6, say("scan.label_alike", text=result.label, other=other))
    if result.state == "below" and result.value is None and result.present is None:
        yield Doubt(0.9, say("read.limit_not_found"))
    if result.unit and result.unit.startswith("pg"):
        yield Doubt(0.6, say("scan.micro", unit=result.unit))


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


def _unsure(result: Result, place: Where, page: Page) -> Iterator[Doubt]:
    words = words_in(page, place.box) if place.box else []
    sure = min((word.confidence for word in words), default=1.0)
    least = _UNKNOWN if place.of == "label" and result.analyte is None else _UNSURE
    if sure < least:
        text = " ".join(word.text for word in words)
        yield Doubt(0.9, say(f"scan.{place.of}_unsure", text=text))
