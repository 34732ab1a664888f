"""Typewriter faces on a page: what a machine or a person filled into a printed form.

Their letters are all equally wide, and so is the blank between two words, which is wider than the
blanks of the form's own print. "Kitchen tap" would fall into two cells without that.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word

_ALIKE = 0.015
"""Letters are equally wide where they differ by no more than this share."""
_NARROW = frozenset("iljtfrI.,:;'")
_MOST = 4
_FEWEST = 3
"""Letters that a word needs to tell how wide one is."""
_BLANK = 0.12
_LEAST = 0.35
"""A blank of such a face is wider than this share of its height."""
_STEP = 0.06
"""From letter to letter a face is exact; two columns may stand little more than a blank apart."""


def pitches(rows: Sequence[Sequence[Word]]) -> tuple[float, ...]:
    """Return the widths of a letter in the typewriter faces of a page, in points."""
    found: list[float] = []
    for row in rows:
        for one, two in pairwise(row):
            gap = two.left - one.right
            if gap < _LEAST * (one.bottom - one.top):
                continue
            wide = _width(one)
            if abs(gap - wide) >= _BLANK * wide:
                continue  # most gaps are those between columns
            known = any(abs(wide - other) < _ALIKE * other for other in found)
            if not known and abs(_width(two) - wide) < _ALIKE * wide and _tell(one, two):
                found.append(wide)
    return tuple(found) if len(found) <= _MOST else ()


def one_blank(one: Word, two: Word, known: Sequence[float]) -> bool:
    """Whether two words of a typewriter face stand one blank apart."""
    step = two.left - one.left  # right edges will not do: a wide letter may reach over its own
    return any(abs(step - (len(one.text) + 1) * wide) < _STEP * wide for wide in known)


def _width(word: Word) -> float:
    return (word.right - word.left) / len(word.text)


def _tell(one: Word, two: Word) -> bool:
    """Whether the words would be unlike in a face whose letters are not equally wide."""
    if any(len(w.text) < _FEWEST or not any(c.isalpha() for c in w.text) for w in (one, two)):
        return False
    shares = [sum(c in _NARROW for c in word.text) / len(word.text) for word in (one, two)]
    return abs(shares[0] - shares[1]) > 0.1
