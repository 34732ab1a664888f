"""Titles over tables: the place that one names for rows of days, and those in a head's columns.

"1. Entry point 2, weekly" names the place of every row that gives only a day.
"""

from __future__ import annotations

import re

from .cells import Line
from .tokens import analyte_in, analytes_within, unit_of
from .words import head_of

_NUMBERED = re.compile(
    r"^(?:(?:table|section|part)\s+)?\(?(?:\d{1,2}|[A-Z])(?:\.\d{1,2})?[.):]\s+", re.I
)
_CLAUSE = re.compile(r",\s|;\s|:\s|\.\s(?=[A-Z])|\s[-–—|]\s")
_PLACE = re.compile(
    r"(?i)\b(?:wells?|well ?head|entry points?|point of entry|taps?|faucets?|springs?|hydrants?"
    r"|towers?|reservoirs?|cisterns?|tanks?|plants?|clearwell|effluent|influent|intakes?|sinks?|kitchen|barns?"
    r"|stations?|outfall|piezometers?|bore ?holes?|pump ?house)\b"
)
_LOG = re.compile(
    r"(?i)\s+(?:(?:operat(?:ing|ions?|or)|daily|weekly|monthly|water|quality|monitoring)\s+)*"
    r"(?:logs?|log ?sheets?|records?|readings?|data|results)$"
)
"""What the sheet is, behind the place: "Entry Point 001 operating log"."""
_LONGEST = 9
_OWNED = 2
"""Parts of a title that begins with the owner of the place."""
_TITLE = 2
"""Words of a title; a head of one word may stand over another."""
_STRONG = 0.95
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
    named = [place for c in title.cells if (place := _place(c.text)) is not None]
    return named[0] if len(named) == 1 else None


def _place(text: str) -> str | None:
    """Return the first words of a title where they name one place and no test.

    Behind the name of an owner, "Village of Osk - Entry Point 001", a place begins the second.
    """
    clauses = [c.strip(" .") for c in _CLAUSE.split(_NUMBERED.sub("", text.strip()))]
    first = _LOG.sub("", clauses[0])
    found = _PLACE.search(first)
    if found is None and len(clauses) == _OWNED:
        first = _LOG.sub("", clauses[1])
        found = _PLACE.match(first)
    if found is None or len(first.split()) > _LONGEST:
        return None
    if analytes_within(first) or analyte_in(first):
        return None
    plural = found[0].lower().endswith("s") and not any(c.isdigit() for c in first)
    return None if plural else first


def is_title_row(upper: Line, main: Line) -> bool:
    """Whether a row of a sheet right over a head is a title in cells of its own.

    It begins over the first column, whose head is plain and does not go with it.
    """
    first, head = upper.cells[0], main.cells[0]
    if first.left != head.left or len(first.text.split()) < _TITLE or _plain(first.text):
        return False
    if head.text.lower() not in {"date", "time"} and not _plain(head.text):
        return False
    return not _plain(f"{first.text} {head.text}") and unit_of(first.text) is None


def _plain(text: str) -> bool:
    head = head_of(text)
    return head is not None and head.score >= _STRONG
