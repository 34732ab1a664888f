"""How a document writes its numbers and its days."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import chain, islice

from .cells import Line
from .dates import settles_day_first

_COMMA = re.compile(r"^[<>≤≥]?\s*\d{1,3},(?:\d{1,2}|\d{4,})$|^[<>]?\s*0,\d+$")
_POINT = re.compile(r"^[<>≤≥]?\s*\d*\.\d+$")
_EITHER = re.compile(r"^[<>≤≥]?\s*[1-9]\d{0,2}(?:\.\d{3})+$")
"""A thousand with a point, or three decimals: "1.240"."""
LOOKED_AT = 3000
"""Lines at the beginning of a document that tell its habits."""


def texts_of(parts: Sequence[Sequence[Line]]) -> Iterator[str]:
    """Yield the texts of the first lines of a document, cell by cell."""
    for line in islice(chain.from_iterable(parts), LOOKED_AT):
        for cell in line.cells:
            yield cell.text


def decimal_comma(parts: Sequence[Sequence[Line]]) -> bool:
    """Whether the document writes decimal commas: some do, and none a decimal point.

    "1.240" beside several decimal commas is a thousand and more.
    """
    commas = points = either = 0
    for text in texts_of(parts):
        if len(text) < 24:
            first, _, rest = text.partition(" ")
            word = rest.partition(" ")[0] if first in {"<", ">"} else first
            if "." not in word and "," not in word:
                continue
            commas += _COMMA.match(word) is not None
            points += _POINT.match(word) is not None
            either += _EITHER.match(word) is not None
    return commas > 0 and points in {0, either if commas > either else 0}


def day_first_told(parts: Sequence[Sequence[Line]]) -> bool | None:
    """Whether dates put the day first: some can only be read so, none the other way; None: open."""
    told = {settles_day_first(text) for text in texts_of(parts) if "/" in text or "-" in text}
    told.discard(None)
    return told.pop() if len(told) == 1 else None
