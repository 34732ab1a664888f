"""Lines that tell the place, the test and the result in one: a school's list of its outlets.

"Room 153 (Sink)(copper): 4.350 mg/L", "Gym fountain - lead: 2.1 ppb", "Lead, Room 12: <1 ppb"
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from welltold.analytes import identify
from welltold.tables import read_table

from .cells import Line, join
from .context import Context
from .single_lines import printed_from
from .tokens import analytes_within, is_method, value_of

_NAME = r"(?P<name>[A-Za-z][A-Za-z .]{1,40}?)"
_SAYS = r"\s*(?::|=|\s[-–—])\s*(?P<value>\S.{0,40}?)\s*$"
_BRACKETED = re.compile(rf"^(?P<place>.{{2,60}}?)\s*[(\[]\s*{_NAME}\s*[)\]]{_SAYS}")
_BEHIND = re.compile(rf"^(?P<place>.{{2,60}}?)\s*(?:,|\s[-–—])\s+{_NAME}{_SAYS}")
_BEFORE = re.compile(
    rf"^{_NAME}\s*(?:,|\s[-–—]|[(\[]|\s(?:at|in))\s*(?P<place>.{{2,60}}?)[)\]]?{_SAYS}"
)
_NO_PLACE = re.compile(r"(?i)\b(?:limit|level|mcl|standard|method|page|total|dissolved|as)\b|:")
_WORD = re.compile(r"[A-Za-z]{3,}")


def read_at_place(line: Line, context: Context) -> bool:
    """Read a line that tells a place, a test and its result; return whether it is one."""
    if context.closed or len(line.cells) > 2 or line.answer is not None:
        return False
    text = line.text
    for place, name, value in _readings(text):
        cell = join(line.cells)
        printed = printed_from(context, name, cell, value, cell)
        printed.draft = context.samples.of({"point": place})
        context.emit(printed)
        return True
    return False


def _readings(text: str) -> Iterator[tuple[str, str, str]]:
    """Yield place, test and result, as one of the forms tells them."""
    for form in (_BRACKETED, _BEHIND, _BEFORE):
        found = form.match(text)
        if found is None or identify(found["name"].strip(), fuzzy=False) is None:
            continue
        value = value_of(found["value"])
        numbered = value is not None and any(c.isdigit() for c in found["value"])
        place = found["place"].strip(" -–—,")
        if numbered and _is_place(place, alone=form is _BRACKETED):
            yield place, found["name"].strip(), found["value"]


@cache
def _places() -> frozenset[str]:
    words = {row.text("word") for row in read_table("place_words.csv")}
    return frozenset(words | {f"{word}s" for word in words})


def _is_place(text: str, *, alone: bool) -> bool:
    """Whether a text names a place: by a word for one, or, where ``alone`` tells, by a number."""
    if _NO_PLACE.search(text) or is_method(text) or analytes_within(text):
        return False
    words = [word.lower() for word in _WORD.findall(text)]
    named = any(word in _places() for word in words)
    return named or (alone and bool(words) and any(c.isdigit() for c in text))
