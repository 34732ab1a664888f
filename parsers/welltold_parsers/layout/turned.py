"""Sets heads that stand on end upright, so that they head their columns like any others.

A narrow column's head may be turned by a right angle. Its words then stand above each other in one
stretch; here each head becomes one piece of text there, on the line of the other heads.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word

_TALL = 1.4
"""A word of three letters or more that is so much higher than wide stands on end."""
_FEWEST = 3
_BLANK = 0.5
"""The blank between two words of a head is no wider than this share of its letters' height."""
_Pile = list[Word]


def upright(words: Sequence[Word]) -> Sequence[Word]:
    """Return the words with heads on end set upright; the same words where there are none."""
    standing = [w for w in words if w.bottom - w.top > _TALL * (w.right - w.left) and _long(w)]
    if len(standing) < _FEWEST:
        return words
    heads = _heads(words, standing)
    if len(heads) < _FEWEST:
        return words
    turned = {id(w) for pile in heads for w in pile}
    rest = [w for w in words if id(w) not in turned]
    top, bottom = _base(heads, rest)
    return [*rest, *(_set(pile, top, bottom) for pile in heads)]


def _long(word: Word) -> bool:
    return len(word.text) >= _FEWEST and any(c.isalpha() for c in word.text)


def _heads(words: Sequence[Word], standing: Sequence[Word]) -> list[_Pile]:
    """Return the words of each head in reading order; a head may have two lines side by side."""
    piles: list[_Pile] = []
    top, bottom = _reach(words, standing)
    for word in words:
        inside = top <= (word.top + word.bottom) / 2 <= bottom
        if not inside or not any(_same(word, s) for s in standing):
            continue
        pile = next((p for p in piles if _same(p[0], word)), None)
        if pile is None:
            piles.append([word])
        else:
            pile.append(word)
    up = sum(_rises(p) for p in piles) >= 0
    piles.sort(key=lambda p: p[0].left if up else -p[0].right)
    heads = piles[:1]
    for before, pile in pairwise(piles):
        if _near(before, pile):
            heads[-1] = [*heads[-1], *pile]
        else:
            heads.append(pile)
    return heads


def _reach(words: Sequence[Word], standing: Sequence[Word]) -> tuple[float, float]:
    """Return top and bottom of the heads, short words at the end of a head and all: "(as P)"."""
    top, bottom = min(w.top for w in standing), max(w.bottom for w in standing)
    for last in standing:
        above = [w for w in words if _same(w, last) and w.top < last.top]
        edge = last.top
        for word in sorted(above, key=_from_below):
            if edge - word.bottom > _BLANK * (word.right - word.left):
                break
            edge = word.top
        top = min(top, edge)
    return top, bottom


def _from_below(word: Word) -> float:
    return -word.bottom


def _same(a: Word, b: Word) -> bool:
    return abs(a.left - b.left) < 0.8 and abs(a.right - b.right) < 0.8


def _rises(pile: _Pile) -> int:
    """Return how many words are drawn above the one before, less those drawn below it."""
    return sum(1 if b.top < a.top else -1 for a, b in pairwise(pile))


def _near(a: _Pile, b: _Pile) -> bool:
    """Whether two piles are two lines of one head."""
    wide = a[0].right - a[0].left
    gap = max(b[0].left - a[0].right, a[0].left - b[0].right)
    return gap < 0.35 * wide


def _base(heads: Sequence[_Pile], rest: Sequence[Word]) -> tuple[float, float]:
    """Return top and bottom of the line of the heads: that of the lowest head that lies, if any."""
    top = min(w.top for pile in heads for w in pile)
    bottom = max(w.bottom for pile in heads for w in pile)
    lying = [w for w in rest if top <= (w.top + w.bottom) / 2 <= bottom]
    if lying:
        lowest = max(lying, key=lambda w: w.bottom)
        return lowest.top, lowest.bottom
    wide = heads[0][0].right - heads[0][0].left
    return bottom - wide, bottom


def _set(pile: _Pile, top: float, bottom: float) -> Word:
    """Return a head as one word as wide as its stretch, blanks and all."""
    return Word(
        " ".join(w.text for w in pile),
        min(w.left for w in pile),
        top,
        max(w.right for w in pile),
        bottom,
        min(w.confidence for w in pile),
    )
