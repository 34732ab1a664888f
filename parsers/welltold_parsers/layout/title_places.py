"""The place that a title names for a table whose rows give only days: "1. Entry point 2"."""

from __future__ import annotations

import re

from .cells import Line
from .tokens import analyte_in, analytes_within

_NUMBERED = re.compile(
    r"^(?:(?:table|section|part)\s+)?\(?(?:\d{1,2}|[A-Z])(?:\.\d{1,2})?[.):]\s+", re.I
)
_CLAUSE = re.compile(r",\s|;\s|:\s|\.\s(?=[A-Z])|\s[-–—|]\s")
_PLACE = re.compile(
    r"(?i)\b(?:wells?|well ?head|entry points?|point of entry|taps?|faucets?|springs?|hydrants?"
    r"|towers?|reservoirs?|cisterns?|tanks?|plants?|clearwell|effluent|influent|intakes?|sinks?|kitchen|barns?"
    r"|stations?|outfall|piezometers?|bore ?holes?|pump ?house)\b"
)
_LONGEST = 9
_FAR = 3.5
"""Line heights between a title and its table."""


def place_of_title(title: Line | None, head: Line) -> str | None:
    """Return the place that the line over a table names with its first words, or None.

    "Wells sampled" names none: a place stands in the singular or has a number.
    """
    if title is None or title.sheet != head.sheet or title.page != head.page:
        return None
    near = (
        head.index - title.index <= 3
        if head.sheet is not None
        else (0 <= head.top - title.bottom <= _FAR * title.height)
    )
    if not near:
        return None
    first = _CLAUSE.split(_NUMBERED.sub("", title.text.strip()), maxsplit=1)[0].strip(" .")
    found = _PLACE.search(first)
    if (
        found is None
        or len(first.split()) > _LONGEST
        or analytes_within(first)
        or analyte_in(first)
    ):
        return None
    plural = found[0].lower().endswith("s") and not any(c.isdigit() for c in first)
    return None if plural else first
