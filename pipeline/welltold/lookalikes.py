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
SHORTEST_FREE = 8
"""In names of fewer letters only slips of the pen are mended."""
SHORTEST_WORD = 3
"""Shorter words (o, m, p, n, ii) are prefixes and marks, and never mended."""
SHORTEST_BLURRED = 4
"""Words of fewer letters are not repaired: "Co" and "C0" may both be meant."""
MARGIN = 2
"""By how many edits every other analyte must be farther away."""
KINDS = frozenset({"word", "part", "ending"})

_BLUR = str.maketrans({"1": "l", "i": "l", "0": "o", "5": "s", "|": "l"})


@dataclass(frozen=True, slots=True)
class Near:
    """The listed name that a misspelt one is nearest to."""

    name: str
    score: float
    """1 minus edits per letter."""
    sure: bool
    """Nothing else is near, and nothing that tells chemicals apart was changed."""


@cache
def _guards() -> tuple[frozenset[str], re.Pattern[str]]:
    """Return the words that must not change, and the pattern of the pieces that must not."""
    listed: dict[str, list[str]] = {kind: [] for kind in KINDS}
    for row in read_table("lookalikes.csv"):
        listed[row.choice("kind", KINDS)].append(row.text("text"))
    parts = "|".join(sorted(listed["part"], key=len, reverse=True))
    endings = "|".join(sorted(listed["ending"], key=len, reverse=True))
    return frozenset(listed["word"]), re.compile(rf"(?:{endings})\b|{parts}")


def protected_words(name: str) -> frozenset[str]:
    """Return the words of a normalised name that tell look-alikes apart."""
    return _guards()[0].intersection(name.split())


def pieces(name: str) -> tuple[str, ...]:
    """Return the short words and pieces of words that approximate matching must keep, in order."""
    short = (word for word in name.split() if len(word) < SHORTEST_WORD)
    return (*short, *_guards()[1].findall(name))


def keeps_words(name: str, best: str) -> bool:
    """Tell whether a misspelt name holds the words that tell the best name from its look-alikes.

    One such word may itself be a letter off, if no other such word is near: "manganase" is
    manganese, but "nitrat" could be nitrite as well.
    """
    from rapidfuzz.distance import OSA

    ours, theirs = name.split(), best.split()
    changed = [i for i, word in enumerate(theirs) if ours[i : i + 1] != [word]]
    if len(ours) != len(theirs) or len(changed) != 1:
        return protected_words(name) == protected_words(best)
    (place,) = changed
    slug = names_by_key()[best].slug
    for word in _guards()[0]:
        if OSA.distance(ours[place], word, score_cutoff=MARGIN) > MARGIN:
            continue
        meant = names_by_key().get(" ".join((*theirs[:place], word, *theirs[place + 1 :])))
        if meant is None or meant.slug != slug:
            return False
    return True


def is_slip(name: str, best: str) -> bool:
    """Tell whether a short name differs as slips of the pen do, and not as surnames do.

    "Cooper" is not copper: names of fewer than 8 letters must begin and end alike, and have a
    letter too many, too few, or two swapped.
    """
    if len(best) >= SHORTEST_FREE:
        return True
    ends_alike = (name[0], name[-1]) == (best[0], best[-1])
    return ends_alike and (len(name) != len(best) or sorted(name) == sorted(best))


def figures(name: str) -> tuple[str, ...]:
    """Return the words of a normalised name that hold digits."""
    return tuple(word for word in name.split() if not word.isalpha())


def allowed_edits(length: int) -> int:
    """Return how many letters may be wrong in a name of that many characters."""
    return 0 if length < SHORTEST else 1 if length < 12 else 2


@cache
def _by_figures() -> Mapping[tuple[tuple[str, ...], int], tuple[str, ...]]:
    """Return the listed names by their figures and length."""
    table: dict[tuple[tuple[str, ...], int], list[str]] = {}
    for name in known_names():
        table.setdefault((figures(name), len(name)), []).append(name)
    return {held: tuple(listed) for held, listed in table.items()}


def _rivals(name: str, edits: int) -> list[str]:
    """Return the names that can be so few edits away; only names of equal figures compare."""
    held = figures(name)
    lengths = range(len(name) - edits, len(name) + edits + 1)
    return [rival for size in lengths for rival in _by_figures().get((held, size), ())]


def nearest(name: str) -> Near | None:
    """Return the listed name that a misspelt normalised name is nearest to; None if all are far."""
    from rapidfuzz.distance import OSA
    from rapidfuzz.process import extract

    limit = allowed_edits(len(name))
    within = limit + MARGIN - 1
    # abbreviations are rivals but no answers: one letter off NMeFOSAA is another chemical
    rivals = _rivals(name, within) if limit else []
    hits = extract(name, rivals, scorer=OSA.distance, limit=None, score_cutoff=within)
    if not hits:
        return None
    best, edits, _ = min(hits, key=lambda hit: (hit[1], hit[0] not in words_only(), -len(hit[0])))
    slug = names_by_key()[best].slug
    crowded = any(
        far < edits + MARGIN for other, far, _ in hits if names_by_key()[other].slug != slug
    )
    sure = (
        not crowded
        and edits <= limit
        and best in words_only()
        and pieces(name) == pieces(best)
        and keeps_words(name, best)
        and is_slip(name, best)
    )
    return Near(best, round(1 - edits / max(len(name), len(best)), 3), sure)


def blurred(name: str) -> str:
    """Return a normalised name with the letters that look alike on paper made one.

    Only words with more letters than digits: figures in chemical names must stay.
    """
    return " ".join(_blur(word) for word in name.split())


def _blur(word: str) -> str:
    if not word.isalpha():
        letters = sum(c.isalpha() for c in word)
        if letters < SHORTEST_BLURRED - 1 or letters <= len(word) - letters:
            return word
    elif len(word) < SHORTEST_BLURRED - 1:
        return word
    return word.translate(_BLUR).replace("rn", "m").replace("vv", "w")


@cache
def _names_by_blur() -> Mapping[str, str]:
    """Return the listed name of each blurred one, less those that fit two analytes."""
    table: dict[str, str | None] = {}
    slugs = names_by_key()
    for name in words_only():
        if len(name) < SHORTEST_BLURRED:
            continue
        form = blurred(name)
        other = table.get(form, name)
        same = other is not None and slugs[other].slug == slugs[name].slug
        table[form] = min(name, other or name) if same else None
    return {form: name for form, name in table.items() if name is not None}


def unblurred(name: str) -> str | None:
    """Return the listed name that a normalised one is but for letters that look alike on paper.

    None where another analyte's name is as few letters away: "nitrlte" may be nitrate as well.
    """
    best = _names_by_blur().get(blurred(name))
    if best is None:
        return None
    from rapidfuzz.distance import OSA
    from rapidfuzz.process import extract

    edits = OSA.distance(name, best)
    slugs = names_by_key()
    near = extract(name, known_names(), scorer=OSA.distance, limit=None, score_cutoff=edits)
    return best if {slugs[other].slug for other, _, _ in near} <= {slugs[best].slug} else None
