"""Approximate matching of analyte names that never crosses look-alikes.

A misspelt name is accepted only when it is very near to one analyte's name and clearly farther from
every other analyte's, and when nothing that tells chemicals apart was changed: digits, isomer
prefixes, multiplying prefixes, endings, and whole words such as nitrate or chloride. What to keep
is data (``lookalikes.csv``).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from .analyte_table import known_names, names_by_key, words_only
from .tables import read_table

SHORTEST = 6
"""Names of fewer letters are never matched approximately."""
SHORTEST_BLURRED = 4
"""Words of fewer letters are not repaired: "Co" and "C0" may both be meant."""
MARGIN = 2
"""By how many edits every other analyte must be farther away."""
KINDS = frozenset({"word", "part", "ending"})

_BLUR = str.maketrans({"1": "l", "i": "l", "0": "o", "5": "s", "|": "l"})


@dataclass(frozen=True, slots=True)
class Near:
    """The listed name that a misspelt one most likely is."""

    name: str
    score: float
    """1 minus edits per letter."""


@cache
def _guards() -> tuple[frozenset[str], re.Pattern[str]]:
    """Return the words that must not change, and the pattern of the pieces that must not."""
    listed: dict[str, list[str]] = {kind: [] for kind in KINDS}
    for row in read_table("lookalikes.csv"):
        listed[row.choice("kind", KINDS)].append(row.text("text"))
    pieces = "|".join(sorted(listed["part"], key=len, reverse=True))
    endings = "|".join(sorted(listed["ending"], key=len, reverse=True))
    return frozenset(listed["word"]), re.compile(rf"(?:{endings})\b|{pieces}")


def protected_words(name: str) -> frozenset[str]:
    """Return the words of a normalised name that tell look-alikes apart."""
    return _guards()[0].intersection(name.split())


def signature(name: str) -> tuple[frozenset[str], tuple[str, ...]]:
    """Return what approximate matching must keep of a normalised name, beside its figures."""
    return protected_words(name), tuple(_guards()[1].findall(name))


def figures(name: str) -> tuple[str, ...]:
    """Return the words of a normalised name that hold digits, or are too short to be words."""
    return tuple(t for t in name.split() if len(t) < 3 or not t.isalpha())


def allowed_edits(length: int) -> int:
    """Return how many letters may be wrong in a name of that many characters."""
    return 0 if length < SHORTEST else 1 if length < 12 else 2


@cache
def _by_figures() -> Mapping[tuple[str, ...], tuple[str, ...]]:
    """Return the listed names by their figures: only names of equal figures compare."""
    table: dict[tuple[str, ...], list[str]] = {}
    for name in known_names():
        table.setdefault(figures(name), []).append(name)
    return {held: tuple(listed) for held, listed in table.items()}


def nearest(name: str) -> Near | None:
    """Return the one listed name that a misspelt normalised name must be, or None."""
    from rapidfuzz.distance import OSA
    from rapidfuzz.process import extract

    limit = allowed_edits(len(name))
    rivals = _by_figures().get(figures(name), ())
    if not limit or not rivals:
        return None
    # abbreviations are rivals but no answers: one letter off NMeFOSAA is another chemical
    hits = extract(name, rivals, scorer=OSA.distance, limit=None, score_cutoff=limit + MARGIN - 1)
    if not hits:
        return None
    best, edits, _ = min(hits, key=lambda hit: (hit[1], hit[0] not in words_only(), hit[0]))
    slugs = names_by_key()
    crowded = any(
        far < edits + MARGIN and slugs[other].slug != slugs[best].slug for other, far, _ in hits
    )
    if crowded or edits > limit or best not in words_only():
        return None
    if signature(name) != signature(best):
        return None
    return Near(best, round(1 - edits / max(len(name), len(best)), 3))


def blurred(name: str) -> str:
    """Return a normalised name with the letters that look alike on paper made one.

    Only words with more letters than digits: figures in chemical names must stay.
    """
    return " ".join(_blur(word) for word in name.split())


def _blur(word: str) -> str:
    letters = sum(c.isalpha() for c in word)
    if letters < SHORTEST_BLURRED - 1 or letters <= len(word) - letters:
        return word
    return word.translate(_BLUR).replace("rn", "m").replace("vv", "w")


@cache
def names_by_blur() -> Mapping[str, str]:
    """Return the listed name of each blurred one, less those that fit two analytes."""
    table: dict[str, str | None] = {}
    slugs = names_by_key()
    for name in words_only():
        if len(name) < SHORTEST_BLURRED:
            continue
        other = table.get(blurred(name), name)
        same = other is not None and slugs[other].slug == slugs[name].slug
        table[blurred(name)] = min(name, other or name) if same else None
    return {form: name for form, name in table.items() if name is not None}
