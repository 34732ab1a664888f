"""Finds the unit inside a label, a column's head or a line of text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from .unit_spellings import Spelling, look_up, unit

LONGEST = 60
"""No printed unit has more characters."""
MARKS = "([{,;:|=_–—"
_STARTS = re.compile(r"[\s,;:|=_–—]+|(?=[(\[{])|\.(?=[A-Za-z%])|(?<=[A-Za-z)]) ?- ?(?=[A-Za-z(])")
_FOOTNOTE = re.compile(r"[\s*†‡§¹²³⁴⁵⁶⁷⁸⁹]+$")
_CLOSING_IN = re.compile(r"(?:^|\s)(?:in|en|units?|reported in|unit of measure)$", re.IGNORECASE)


@lru_cache(maxsize=8192)
def trailing_unit(text: str) -> tuple[str, str] | None:
    """Split a unit off the end of a label or a column's head.

    Returns what stands before it and the unit as printed, without its brackets: "Iron (mg/L)" ->
    ("Iron", "mg/L"). A basis that stands with the name stays there. A text that is nothing but a
    unit gives ("", text). None when the text does not end in a unit; a name is never eaten.
    """
    whole = _FOOTNOTE.sub("", text)
    best = next(_splits(whole), None)
    if best is not None:
        rest, spelling = best
        return _twice_printed(rest, spelling), spelling
    alone = look_up(whole)
    return ("", _bare(whole)) if alone else None


def _splits(text: str) -> Iterator[tuple[str, str]]:
    """Yield (rest, unit) for every place where a unit may begin, the longest unit first."""
    for start in _STARTS.finditer(text):
        dotted = "." if start.group() == "." else ""
        rest, spelling = _rest(text[: start.start()], dotted), text[start.end() :]
        if not rest or not spelling or len(spelling) > LONGEST:
            continue
        found = look_up(spelling)
        if found and _may_follow(found, text[: start.end()] + spelling[:1], rest):
            yield rest, _bare(spelling)


def _may_follow(found: Spelling, before: str, rest: str) -> bool:
    """Whether this spelling may be cut off behind this label."""
    if not found.after:
        return True
    if found.after == "never":
        return False
    if found.after == "mark":
        # ``before`` ends in the unit's own first character, which may be the bracket
        return any(character in MARKS for character in before.rstrip()[-4:-1] + before[-1:])
    return any(word in rest.lower() for word in found.after.split("|"))


def _bare(spelling: str) -> str:
    """Return a printed unit without brackets around it."""
    text = spelling.strip(" ,;:")
    if text[:1] in "([{" and text[-1:] in ")]}" and not any(c in "([{" for c in text[1:]):
        return text[1:-1].strip()
    return text


def _rest(text: str, dotted: str) -> str:
    """Cut separators off a label's end; full stops only where one stands for a blank."""
    rest = text.rstrip(" \t\n\u00a0,;:|=_–—-([{" + dotted)
    shorter = _CLOSING_IN.sub("", rest)
    return rest if shorter == rest else shorter.rstrip(" ,;:-–—")


def _twice_printed(rest: str, spelling: str) -> str:
    """Drop the same unit printed once more before it: "Lead (ug/L) (ppb)"."""
    before = next(_splits(rest), None)
    if before is not None:
        one, other = unit(before[1]), unit(spelling)
        if one and other and (one.name, one.basis) == (other.name, other.basis):
            return before[0]
    return rest


@lru_cache(maxsize=2048)
def units_in(text: str) -> tuple[str, ...]:
    """Return the units that occur anywhere in a text, as printed, in order.

    For lines such as "all results in mg/L unless noted". Only spellings that cannot be mistaken
    for words count, so no single letters and no "units".
    """
    pieces = _pieces(text)
    found: list[str] = []
    place = 0
    while place < len(pieces):
        length = next((n for n in range(6, 0, -1) if _unit_at(text, pieces, place, n)), 0)
        if length:
            start, end = pieces[place][0], pieces[place + length - 1][1]
            found.append(_printed(text[start:end]))
        place += length or 1
    return tuple(found)


def _printed(piece: str) -> str:
    """Return a unit found in a line without the full stop that ends the sentence."""
    closed = _closed(piece)
    return closed if "." in closed[:-1] else closed.rstrip(".")


def _pieces(text: str) -> list[tuple[int, int]]:
    return [(m.start(), m.end()) for m in re.finditer(r"[^\s,;:()\[\]{}|=]+", text)]


def _unit_at(text: str, pieces: list[tuple[int, int]], place: int, length: int) -> bool:
    if place + length > len(pieces):
        return False
    start, end = pieces[place][0], pieces[place + length - 1][1]
    piece = text[start:end]
    if length > 1 and any(mark in piece for mark in ",;:|="):
        return False
    found = look_up(_closed(piece))
    return found is not None and not found.after


def _closed(piece: str) -> str:
    """Add the closing bracket that a cut left behind: "mg/L (as N" -> "mg/L (as N)"."""
    return piece + ")" if piece.count("(") > piece.count(")") else piece
