"""A fact of a sample as it is kept: what stands beside a number or a place is taken off."""

from __future__ import annotations

import re
from functools import lru_cache

from .dates import Stamp, is_date, stamp, time_of
from .drafts import NUMBERS
from .empties import says_nothing
from .ticked_places import ticked_place
from .words import head_key

_ID_AND_PLACE = re.compile(r"^((?=\S*\d)\S+)\s+\(([^()]{3,40})\)$")
_KIND_OF_SOURCE = re.compile(
    r"(?i)(?:(?:private|public|individual|domestic|drilled|dug|residential|home|household|potable"
    r"|drinking|ground|surface|raw|community)[ -]*)*(?:wells?|springs?|water(?: supply)?|supply)"
)
"""What kind of source it is, no place: "Private Well"."""
_WHEN = ("collected", "received")
_AMOUNT = re.compile(r"(?i)\d+(?:\.\d+)?\s?(?:m?l|liters?|m?g|oz)\b(?!-)")
"""How much water was sent: "500 mL (gross)" is no number of a sample."""
_BOXED = re.compile(r"[\[(]\s?[xX✓✔]?\s?[\])]")
"""A ticked or empty box: "Preservation [X] On ice" is none either."""
_SOURCE = re.compile(r"(?i)\b(?:sources?|origin|supply|well|fuente|pozo)\b")
"""A key that asks which water it is, rather than where the bottle was filled."""
_TAP = re.compile(
    r"(?i)\b(?:taps?|sinks?|faucets?|spigots?|hydrants?|fountains?|bibb?s?|kitchen|bath(?:room)?)\b"
)
_STANDING = re.compile(
    r"(?i)^((?=\S*\d)\S+)\s+[(\[-]?\s?(?:final|preliminary|draft|revised|amended|complete|completed"
    r"|reported|in progress|pending|new)[)\]]?$"
)
"""A number with how far its report has come: "WQ-03317 Final"."""


def fact_as_kept(role: str, text: str, *, day_first: bool) -> str | Stamp | None:
    """Return a fact without what says nothing; a day as it was read; None: it is no such fact."""
    text = _clean(text)
    if role == "point" and (chosen := ticked_place(text)) != text:
        text = "" if is_kind_of_source(chosen) else chosen
    if not text:
        return None
    if role in _WHEN:
        return stamp(text, day_first=day_first, packed=True)
    if role == "collected_time":
        return _time(text)
    if role in NUMBERS:
        text = without_standing(text)
        if _AMOUNT.match(text) or _BOXED.search(text):
            return None
    if role in {"lab_id", "report_id"} and not any(c.isdigit() for c in text):
        return None
    return None if role == "report_id" and is_date(text) else text


def number_and_place(text: str) -> tuple[str, str | None]:
    """Return the number of a sample and the place in brackets behind it: "26-117 (kitchen)"."""
    text = without_standing(text.strip())
    both = _ID_AND_PLACE.match(text.strip())
    return (both[1], both[2]) if both else (text, None)


def without_standing(text: str) -> str:
    """Return a number without how far its report has come."""
    plain = _STANDING.match(text)
    return plain[1] if plain else text


def is_kind_of_source(text: str) -> bool:
    """Whether a text says what kind of source it is, and names no place: "Private Well"."""
    return _KIND_OF_SOURCE.fullmatch(text) is not None


def of_one_head(one: str, other: str) -> bool:
    """Whether two keys may tell the place of one sample: "Sampling point", then "Source".

    The same key again begins the next sample of a list.
    """
    return bool(one and other) and head_key(one) != head_key(other)


def nearer(one: tuple[str, str], other: tuple[str, str]) -> tuple[str, str]:
    """Return the place, with its key, that says more closely where the bottle was filled.

    A tap is nearer than a well or a street, whatever its key; else a key that asks for the
    source alone tells less than one that asks for the place.
    """
    taps = [bool(_TAP.search(place)) for place, _ in (one, other)]
    if taps[0] != taps[1]:
        return one if taps[0] else other
    return one if _SOURCE.search(other[1]) and not _SOURCE.search(one[1]) else other


@lru_cache(maxsize=4096)
def _clean(text: str) -> str:
    """Return a fact's text with single blanks; "" where it says nothing."""
    text = " ".join(text.split()).strip(" ,;")
    return text if any(c.isalnum() for c in text) and not says_nothing(text) else ""


def _time(text: str) -> str | None:
    packed = re.fullmatch(r"([0-2]\d)([0-5]\d)", text)
    return time_of(text) or (f"{packed[1]}:{packed[2]}" if packed else None)
