"""The registry of analytes, and the recognition of their printed names.

``registry()`` holds what a water test can measure; ``identify(label)`` says which of them a printed
label means, and what basis and fraction the label itself states. An unknown label is None, never a
guess; look-alikes (nitrate and nitrite) are never taken for one another.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Literal

from .analyte_table import (
    Analyte,
    Name,
    analyte,
    joined_words,
    key_of,
    known_names,
    names_by_key,
    registry,
    rewritten_names,
    slugs_by_cas,
    sorted_words,
)
from .names import Core, normalise, parts_of, readings_of, split_cas

__all__ = ["Analyte", "Match", "analyte", "identify", "known_names", "normalise", "registry"]

LONGEST = 160
"""A longer text is a sentence, not a label (the longest name here has some 70 characters)."""
LETTER_SCORE = 0.5
"""One letter may be a symbol (K, B, U) and may be a laboratory's flag."""
REWRITTEN_SCORE = 0.98
"""Listed words in another order, or written together."""
BLURRED_SCORE = 0.95
"""A listed name but for letters that look alike on paper (l and I, O and 0)."""

CONFLICT_SCORE = 0.6
"""A listed name beside the CAS number of another chemical: one of the two is misprinted."""

_SIDES = re.compile(r"\s+/\s+")
"""Stands between the names in two languages."""

How = Literal["exact", "cas", "fuzzy"]
Groups = tuple[tuple[Core, ...], ...]


@dataclass(frozen=True, slots=True)
class Match:
    """What a printed label means."""

    slug: str
    basis: str | None
    """The basis that the label itself states."""
    fraction: str | None
    """The fraction that the label itself states."""
    how: How
    score: float
    """1 for a listed name; 0.6 where the CAS number contradicts it; 0.5 for a single letter, which
    may be a flag as well."""


@lru_cache(maxsize=16384)
def identify(label: str, cas: str | None = None, *, fuzzy: bool = True) -> Match | None:
    """Return which analyte a printed label (without its unit) means, or None.

    In this order: the listed names, with fraction, basis, method and footnotes taken off; the CAS
    number given or printed in the label, when its check digit is right; unless ``fuzzy`` is off, a
    misspelling of a listed name of six letters or more, when nothing else is near.
    """
    key = key_of(label)
    listed = names_by_key().get(key)
    if listed is not None:
        match = Match(listed.slug, listed.basis, listed.fraction, "exact", _score(key))
        return _beside_cas(match, cas) if cas else match
    if len(label) > LONGEST:
        return None
    bare, printed_cas = split_cas(label)
    number = (cas or printed_cas or "").strip()
    groups = tuple(readings_of(bare))
    found = _by_words(groups) or _by_parts(bare)
    if found is not None:
        return _beside_cas(found, number)
    return _by_cas(groups, number) or (_by_likeness(groups) if fuzzy else None)


def _beside_cas(match: Match, cas: str) -> Match:
    """Return the match of a name, doubted when the CAS number beside it is another chemical's.

    A lab may print the number of what it counts: phosphorus beside orthophosphate as P, chromium
    beside chromium(VI).
    """
    other = slugs_by_cas().get(cas.strip())
    if other is None or other == match.slug:
        return match
    own, counted = registry()[match.slug], registry()[other].formula
    if counted in {own.formula, own.basis} or own.formula is None:
        return match
    return replace(match, score=min(match.score, CONFLICT_SCORE))


def _score(key: str) -> float:
    return LETTER_SCORE if len(key) == 1 else 1.0


def _by_words(groups: Groups) -> Match | None:
    """Return the analyte whose name the label holds; None also where two are equally likely."""
    for find in (_plainly, _rewritten):
        for group in groups:
            found = [match for core in group if (match := find(core)) is not None]
            if found:
                return found[0] if len({match.slug for match in found}) == 1 else None
    return None


def _plainly(core: Core) -> Match | None:
    key = key_of(" ".join(core.words))
    listed = names_by_key().get(key)
    return None if listed is None else _match(listed, core, "exact", _score(key))


def _rewritten(core: Core) -> Match | None:
    table = rewritten_names()
    listed = table.get(sorted_words(core.name)) or table.get(joined_words(core.name))
    return None if listed is None else _match(listed, core, "exact", REWRITTEN_SCORE)


def _by_parts(label: str) -> Match | None:
    """Return what all pieces of a label name alike: "Iron (Fe)", "Fe - Iron, dissolved"."""
    pieces, sides = parts_of(label), _SIDES.split(label)
    if len(pieces) < 2:
        return None
    found = [_by_words(tuple(readings_of(piece))) for piece in pieces]
    if None in found and len(sides) == 2:  # "Dureté / Hardness (CaCO3)"
        pieces = tuple(sides)
        found = [_by_words(tuple(readings_of(s))) or _by_parts(s) for s in sides]
    matches = [match for match in found if match is not None]
    if len(matches) < len(pieces) or len({match.slug for match in matches}) != 1:
        return None
    bases = {match.basis for match in matches if match.basis}
    fractions = {match.fraction for match in matches if match.fraction}
    return Match(
        matches[0].slug,
        bases.pop() if len(bases) == 1 else None,
        fractions.pop() if len(fractions) == 1 else None,
        "exact",
        max(match.score for match in matches),
    )


def _match(listed: Name, core: Core, how: How, score: float) -> Match | None:
    """Return the match, or None when the label states what the analyte cannot have."""
    one = registry()[listed.slug]
    if core.fraction and one.group == "microbial":
        return None  # "total" is part of a germ's name or it is a second germ: "Total / E. coli"
    basis = listed.basis
    if core.basis is not None and core.basis not in one.bases:
        if one.basis is not None or core.basis != one.formula:
            return None
    elif core.basis is not None:
        # "Nitrate Nitrogen as NO3" contradicts itself and says nothing
        basis = core.basis if basis in {None, core.basis} else None
    return Match(listed.slug, basis, core.fraction or listed.fraction, how, score)


def _by_cas(groups: Groups, number: str) -> Match | None:
    """Return the analyte of a CAS number, unless the label speaks of a look-alike."""
    from .lookalikes import protected_words

    slug = slugs_by_cas().get(number)
    if slug is None:
        return None
    cores = [core for group in groups for core in group]
    if not cores:
        return Match(slug, None, None, "cas", 1.0)
    barest = min(cores, key=lambda core: len(core.words))
    if not protected_words(barest.name) <= _vocabulary(slug):
        return None
    return _match(Name(slug), barest, "cas", 1.0)


@cache
def _vocabulary(slug: str) -> frozenset[str]:
    """Return every word of an analyte's names."""
    keys = (key for key, name in names_by_key().items() if name.slug == slug)
    return frozenset(word for key in keys for word in key.split())


def _by_likeness(groups: Groups) -> Match | None:
    """Return the analyte of a blurred or misspelt name, once nothing else fits."""
    cores = [core for group in groups for core in group]
    return _blurred(cores) or _misspelt(cores)


def _blurred(cores: list[Core]) -> Match | None:
    from .lookalikes import unblurred

    for core in cores:
        name = unblurred(core.name)
        if name is not None:
            return _match(names_by_key()[name], core, "fuzzy", BLURRED_SCORE)
    return None


def _misspelt(cores: list[Core]) -> Match | None:
    """Return the analyte of a misspelt name.

    None where the whole label and what is left of it without "total" are near different analytes.
    """
    from .lookalikes import nearest

    near = [(core, found) for core in cores if (found := nearest(core.name)) is not None]
    if len({names_by_key()[found.name].slug for _, found in near}) != 1:
        return None
    sure = (
        _match(names_by_key()[found.name], core, "fuzzy", found.score)
        for core, found in near
        if found.sure
    )
    return next((match for match in sure if match is not None), None)
