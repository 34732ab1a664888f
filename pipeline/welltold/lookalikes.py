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

from .tables import read_table

SHORTEST = 6
"""Names of fewer letters are never matched approximately."""
MARGIN = 2
"""By how many edits every other analyte must be farther away."""
KINDS = frozenset({"word", "part", "ending"})


@dataclass(frozen=True, slots=True)
class Near:
    """The name that a misspelt one most likely is."""

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


@cache
def signature(name: str) -> tuple[tuple[str, ...], ...]:
    """Return what approximate matching must keep of a normalised name."""
    words, pieces = _guards()
    tokens = name.split()
    fixed = tuple(t for t in tokens if t in words)
    return fixed, tuple(pieces.findall(name))


def protected_words(name: str) -> frozenset[str]:
    """Return the words of a normalised name that tell look-alikes apart."""
    return _guards()[0].intersection(name.split())


def allowed_edits(length: int) -> int:
    """Return how many letters may be wrong in a name of that many characters."""
    return 0 if length < SHORTEST else 1 if length < 12 else 2


@cache
def figures(name: str) -> tuple[str, ...]:
    """Return the words of a normalised name that hold digits, or are too short to be words."""
    return tuple(t for t in name.split() if len(t) < 3 or not t.isalpha())


def by_figures(listed: Mapping[str, str]) -> Mapping[tuple[str, ...], Mapping[str, str]]:
    """Sort names (each with its analyte) by their digits: only names of equal digits compare."""
    table: dict[tuple[str, ...], dict[str, str]] = {}
    for name, slug in listed.items():
        table.setdefault(figures(name), {})[name] = slug
    return table


def nearest(name: str, known: Mapping[str, str], eligible: frozenset[str]) -> Near | None:
    """Return the one known name that a misspelt name must be, or None.

    ``known`` maps the normalised names with the same ``figures`` to their analytes; ``eligible``
    are those that may be the answer (an abbreviation such as NMeFOSAA may not: its neighbours are
    other chemicals).
    """
    from rapidfuzz.distance import OSA
    from rapidfuzz.process import extract

    limit = allowed_edits(len(name))
    if not limit:
        return None
    hits = extract(
        name, list(known), scorer=OSA.distance, limit=None, score_cutoff=limit + MARGIN - 1
    )
    if not hits:
        return None
    best, edits, _ = min(hits, key=lambda hit: (hit[1], hit[0] not in eligible))
    crowded = any(far < edits + MARGIN and known[other] != known[best] for other, far, _ in hits)
    if crowded or edits > limit or best not in eligible or signature(name) != signature(best):
        return None
    return Near(best, round(1 - edits / max(len(name), len(best)), 3))
