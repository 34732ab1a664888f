"""Parts what somebody read on site, with a kit or a pocket meter, from what a laboratory found.

    WATER TEST AT SITE (field kit)      Hardness 17   Iron 0.5
    BACTERIA SAMPLE  Lab no. 26-118     Coliform: absent

One sheet has both, and only the laboratory's results have its number. A title tells where the
readings on site begin, and the next line that speaks of a laboratory where they end. They become
a sample of their own, and a person is asked, because the sheet may mean one bottle for both.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from welltold.reading import Result, Sample

from .cells import Line
from .dates import stamp
from .doubt import lowered
from .region_titles import is_sentence
from .tokens import analytes_within, value_of

_ON_SITE = re.compile(
    r"(?i)\b(?:readings?|tests?|tested|checks?|screening)\b[^.;:]{0,30}?"
    r"\b(?:at|on)[- ](?:the )?(?:site|house|home|property|premises|well ?head)\b"
    r"|\bon-?site (?:water )?(?:tests?|readings?|checks?|screening)\b"
    r"|\b(?:field|pocket|home) (?:test(?:ing)? )?kits?\b"
)
_AT = ("site", "house", "home", "property", "premises", "head", "kit")
"""Each such title has one of these; to look for them first takes a tenth of the time."""
_LAB = re.compile(
    r"(?i)\b(?:lab|laborator(?:y|ies))\b"
    r"|\bbacteria(?:l|logical)? (?:sample|test|exam\w*|analysis)\b"
)
_PLACE = re.compile(r"(?i)\(([^()]*)\)")
_NO_PLACE = re.compile(r"(?i)\b(?:kits?|meters?|strips?|hours?|tests?)\b|\d")
_LONGEST = 18
"""A title has no more words."""


class _Zone(NamedTuple):
    """A part of a page with readings made on site."""

    page: int | None
    top: float
    bottom: float
    title: Line


def parted_on_site(
    samples: Sequence[Sample], parts: Sequence[Sequence[Line]], *, day_first: bool
) -> tuple[Sample, ...]:
    """Return the samples, readings made on site parted from the results of a laboratory."""
    zones = [zone for lines in parts for zone in _zones(lines)]
    if not zones:
        return tuple(samples)
    return tuple(made for one in samples for made in _parted(one, zones, day_first=day_first))


def _zones(lines: Sequence[Line]) -> Iterator[_Zone]:
    if not lines or lines[0].sheet is not None:
        return
    for at, title in enumerate(lines):
        if not _is_title(title):
            continue
        end = next((x.top for x in lines[at + 1 :] if _speaks_of_a_lab(x)), float("inf"))
        yield _Zone(title.page, title.top, end, title)


def _is_title(line: Line) -> bool:
    text = line.text
    if (
        not any(map(text.lower().__contains__, _AT))
        or _ON_SITE.search(text) is None
        or len(text.split()) > _LONGEST
        or text.endswith(".")
    ):
        return False
    named = analytes_within(text) and any(value_of(c.text) is not None for c in line.cells[1:])
    return not is_sentence(text) and not named


def _speaks_of_a_lab(line: Line) -> bool:
    """Whether a line begins or names a laboratory's part; a test with its value does not."""
    return _LAB.search(line.text) is not None and not analytes_within(line.cells[0].text)


def _parted(sample: Sample, zones: Sequence[_Zone], *, day_first: bool) -> Iterator[Sample]:
    left = list(sample.results)
    found: list[Sample] = []
    for zone in zones:
        mine = [result for result in left if _stands_in(result, zone)]
        left = [result for result in left if result not in mine]
        if mine:
            found.append(_on_site(mine, zone, day_first=day_first))
    if not left or not found:
        yield sample
        return
    yield from found
    yield replace(sample, results=tuple(left))


def _stands_in(result: Result, zone: _Zone) -> bool:
    told = [p for p in result.where if p.of == "value" and p.box is not None]
    return bool(told) and all(
        p.page == zone.page and p.box is not None and zone.top <= p.box[1] < zone.bottom
        for p in told
    )


def _on_site(results: Sequence[Result], zone: _Zone, *, day_first: bool) -> Sample:
    text = zone.title.text
    day = stamp(text, day_first=day_first)
    return Sample(
        point=next((p for m in _PLACE.finditer(text) if (p := _place(m[1]))), None),
        collected=day.iso if day is not None else None,
        results=tuple(lowered(result, "sample_on_site") for result in results),
    )


def _place(text: str) -> str | None:
    """Return the place that brackets in a title name: "(field kit, at the yard hydrant)"."""
    _, at, place = text.rpartition("at the ")
    place = place if at else text
    return None if _NO_PLACE.search(place) else place.strip() or None
