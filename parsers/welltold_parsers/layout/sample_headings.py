"""Headings that are a sample's number, place and day without any key."""

from __future__ import annotations

import re

from .blocks import without_continued
from .dates import stamp
from .general_words import tells_state
from .samples import Samples
from .tokens import analyte_in, is_method

_SAMPLE_LINE = re.compile(r"^((?=\S*\d\S*\d)[A-Z]{0,6}[-/]?\d[\w/.-]{3,18})(?=[\s:,(])(.*)$")
_MARKED = re.compile(r"^\s*(?:[-–—:|/]\s|\()")
"""How a place begins behind a number: "26-0417 - kitchen", "26-0417 (kitchen)"."""
_PLACE = 6
"""The most words of a place behind a number that was told before."""


def note_sample(text: str, samples: Samples) -> bool:
    """Take up a heading that is a sample's number, place and day; return whether it is one."""
    text = without_continued(text)
    if _note_known(text, samples):
        return True
    found = _SAMPLE_LINE.match(text)
    if not found or is_method(found[1]) or analyte_in(text) is not None:
        return False
    rest = found[2]
    day = stamp(rest, day_first=samples.day_first)
    if day is not None:
        samples.note("collected", rest[day.start : day.end])
        rest = f"{rest[: day.start]} {rest[day.end :]}"
    place = rest.strip(" -–—:|/(),.;")
    if day is None and not _MARKED.match(found[2]):
        return False
    if tells_state(place):
        return True  # the number of the report
    samples.note("sample_id", found[1])
    if place:
        samples.note("point", place)
    return True


def _note_known(text: str, samples: Samples) -> bool:
    """Take up a heading that begins with a sample's number that was told before."""
    first, _, place = text.partition(" ")
    if any(c.isdigit() for c in text) and (role := samples.role_of(text)):
        samples.note(role, text)
        return True
    role = samples.role_of(first) if sum(c.isdigit() for c in first) > 1 else None
    if role is None or len(place.split()) > _PLACE:
        return False
    samples.note(role, first)
    if place.strip(" -–—:|()"):
        samples.note("point", place.strip(" -–—:|()"))
    return True
