"""Mends units that a reader of print takes for something else: "ing/L", "mg l.", "pCi/I".

A unit is mended where its letters look like those of one known unit and of no other. Each is told,
and what stands beside it is doubted. A unit that is known as it stands is never touched: "ng/L" may
be a misread "mg/L", and nothing here can tell.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache

from welltold.unit_spellings import spellings
from welltold.units import Unit, unit
from welltold_parsers.geometry import Questioned, Word

_ALIKE = str.maketrans({**dict.fromkeys("i1|!", "l"), "9": "g", "0": "o"})
_SPLIT = re.compile(r"rn|^(?:ln|nl|nn|lrl|tn)(?=g)")
"""An m of which strokes part, or are lost."""
_DROPPED = re.compile(r"[\s/\\:;'\",._·]+")
_CORE = re.compile(r"((?:.*\()?)([^()]+?)(\)?[*,.]*)")
_LETTERS = 2
"""A unit has so many letters at least, or nothing is mended."""
_LONGEST = 12
_KINDS = frozenset({"mass", "conductance", "organisms", "activity"})
_NEAR = 0.6
"""Heights of a line between the two words of one unit."""


def mended_units(words: Sequence[Word]) -> tuple[list[Word], tuple[Questioned, ...]]:
    """Return the words of a page with their units mended, and what stood there."""
    done: list[Word] = []
    told: list[Questioned] = []
    for word in words:
        last = done[-1] if done else None
        if last is not None and (both := _joined(last, word)):
            done[-1] = both
            told.append(_told(both, f"{last.text} {word.text}"))
            continue
        text = meant(word.text)
        done.append(replace(word, text=text) if text else word)
        if text:
            told.append(_told(word, word.text))
    return done, tuple(told)


def _told(word: Word, other: str) -> Questioned:
    return Questioned((word.left, word.top, word.right, word.bottom), "unit_mended", other)


def _joined(one: Word, other: Word) -> Word | None:
    """Return a unit that was torn in two, such as "mg l."."""
    height = one.bottom - one.top
    beside = abs(one.top + one.bottom - other.top - other.bottom) < 0.6 * height
    if not beside or not -1 < other.left - one.right < _NEAR * height or len(other.text) > 3:
        return None
    text = meant(f"{one.text} {other.text}") if unit(other.text) is None else None
    if text is None:
        return None
    top, bottom = min(one.top, other.top), max(one.bottom, other.bottom)
    sure = min(one.confidence, other.confidence)
    return Word(text, one.left, top, other.right, bottom, sure)


def meant(text: str) -> str | None:
    """Return the spelling that a misread unit must be; None where nothing or more than one fits."""
    parts = _CORE.fullmatch(text)
    if parts is None or len(text) > 4 * _LONGEST:
        return None
    before, core, behind = parts.groups()
    known = unit(core) or unit(text)
    if known or sum(c.isalpha() for c in core) < _LETTERS or len(core) > _LONGEST:
        return None
    if core.isupper() and core.isalpha():  # "BQL" is an abbreviation
        return None
    found = _by_looks().get(_looks(core))
    return f"{before}{found}{behind.rstrip('.,')}" if found else None


def _looks(text: str) -> str:
    """Return a text with letters that look alike made one, and what is easily lost left out."""
    plain = text.lower().replace("µ", "u").replace("μ", "u").translate(_ALIKE)
    bare = _SPLIT.sub("m", _DROPPED.sub("", plain))
    return f"mc{bare[2:]}" if bare.startswith("meg") else bare  # a speck closes the c


@cache
def _by_looks() -> Mapping[str, str]:
    """Return a spelling for each look that only one unit has; a slash may be read as a letter."""
    found: dict[str, tuple[Unit, str]] = {}
    twice: set[str] = set()
    for spelling, entry in spellings().items():
        plain = spelling.isascii() and "/" in spelling and spelling[0].isalpha()
        if not plain or len(spelling) > _LONGEST or entry.unit.kind not in _KINDS:
            continue
        for look in _looks_of(spelling):
            if look in found and found[look][0].name != entry.unit.name:
                twice.add(look)
            found.setdefault(look, (entry.unit, spelling))
    return {look: text for look, (_, text) in found.items() if look not in twice}


def _looks_of(spelling: str) -> Iterator[str]:
    for slash in ("", "l"):
        look = _looks(spelling.replace("/", slash))
        if len(look) > _LETTERS:
            yield look
