"""Tells the blanks between words of one text from the gaps between columns.

A text layer gives each letter its whole place; a picture shows its ink alone, and what lies between
two words depends on their letters: a 1 stands farther off than an M. So each gap on a row is named
a blank or a gap of columns by what is usual on the page, and blanks are made equally wide.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from statistics import median

from welltold_parsers.geometry import Word

_USUAL = 0.36
"""Ink to ink over a blank, as a share of the words' height, where a page does not tell."""
_LEAST, _MOST = 0.12, 0.95
"""Bounds of what can be a blank; the upper one is that of typewriter faces."""
_LONGER = 1.42
"""A gap so many times the usual blank is still one."""
_SLACK = 0.04
"""And longer by this share of the height; once more beside a digit."""
_BLANK = 0.25
"""What a blank is made, as a share of the height: about that of a text layer."""
_TELLING, _ENOUGH = 4, 4
"""Letters of a word, and such words of a row, that tell a typewriter face."""
_NARROW = frozenset("iljtfrI.,:;'")
_ALIKE = 0.06
"""The letters of such a face are equally wide, as nearly as ink tells it."""
_ROUGHLY = 0.3
"""The same for a word of few letters, or one that ends in a narrow one."""
_UNLIKE = 0.1
"""Words whose shares of narrow letters differ so much are unlike in any other face."""
_FREE = 0.25
_ONE_BLANK = 1.75
"""Widths of a letter; between words two blanks apart there is more paper."""
_COLUMNS = 0.55
"""Two numbers side by side are in two columns, however near: they are set so far apart."""
_NUMBER = re.compile(r"[<>≤≥]?\d[\d.,]*")
_BESIDE = 0.04
"""A letter's place is wider than its ink by this share of the height, at either side."""


def spaced(words: Sequence[Word]) -> list[Word]:
    """Return the words of a page, row by row, with blanks of one width."""
    rows = list(_rows(words))
    blank = _usual(rows)
    steps = _steps(rows)
    return [word for row in rows for word in _made_even(row, blank, steps)]


def _rows(words: Iterable[Word]) -> Iterator[list[Word]]:
    """Yield words that stand on one row, from left to right."""
    row: list[Word] = []
    for word in sorted(words, key=lambda w: w.top + w.bottom):
        if row and not _beside(row[-1], word):
            yield sorted(row, key=lambda w: w.left)
            row = []
        row.append(word)
    if row:
        yield sorted(row, key=lambda w: w.left)


def _beside(one: Word, other: Word) -> bool:
    apart = abs(one.top + one.bottom - other.top - other.bottom) / 2
    return apart < 0.3 * min(one.bottom - one.top, other.bottom - other.top)


def _usual(rows: Iterable[Sequence[Word]]) -> float:
    """Return the usual gap between two words of letters."""
    shares = [
        share
        for row in rows
        for a, b in pairwise(row)
        if a.text[-1].isalpha() and b.text[0].isalpha()
        if _LEAST < (share := (b.left - a.right) / _height(a, b)) < _MOST
    ]
    return median(shares) if len(shares) > 3 else _USUAL


def _height(one: Word, other: Word) -> float:
    return max(min(one.bottom - one.top, other.bottom - other.top), 1.0)


def _is_one(first: Word, second: Word) -> bool:
    """Whether two numbers are one with a blank between its thousands: "2 500"."""
    start = first.text.lstrip("<>≤≥")
    return (
        start.isdigit()
        and len(start) < 4
        and re.fullmatch(r"\d{3}(?:[.,]\d+)?", second.text) is not None
    )


def _steps(rows: Sequence[Sequence[Word]]) -> list[float]:
    """Return the widths of a letter in the typewriter faces of a page."""
    told = ([(_step(word), word.text) for word in row if _tells(word.text)] for row in rows)
    return [step for words in told if (step := _step_of(words))]


def _step_in(row: Sequence[Word], steps: Sequence[float]) -> float:
    """Return the width of a letter where a whole row is set in a typewriter face, or 0.0."""
    told = [(_step(word), word.text) for word in row if _tells(word.text)]
    return next((step for step in steps if told and _alike(told, step)), 0.0)


def _typed(one: Word, other: Word, steps: Sequence[float]) -> float:
    """Return the width of a letter where two words are set in a typewriter face; 0.0: they are not.

    A form has such words beside its own print. A word of few letters tells little by itself.
    """
    for step in steps:
        off = [abs(_step(word) - step) / step for word in (one, other)]
        sure = [_tells(word.text) for word in (one, other)]
        most = [_ALIKE if is_sure else _ROUGHLY for is_sure in sure]
        if any(sure) and all(by < bound for by, bound in zip(off, most, strict=True)):
            return step
    return 0.0


def _tells(text: str) -> bool:
    return len(text) >= _TELLING and _NARROW.isdisjoint({text[0], text[-1]})


def _step_of(told: Sequence[tuple[float, str]]) -> float:
    if len({text.casefold() for _, text in told}) < _ENOUGH:
        return 0.0
    usual = median(step for step, _ in told)
    shares = [sum(c in _NARROW for c in text) / len(text) for _, text in told]
    return usual if _alike(told, usual) and max(shares) - min(shares) > _UNLIKE else 0.0


def _alike(told: Sequence[tuple[float, str]], usual: float) -> bool:
    return all(abs(step - usual) < _ALIKE * usual for step, _ in told)


def _step(word: Word) -> float:
    # The ink of a word is shorter than its places by what the first and last letters leave free.
    return (word.right - word.left) / (len(word.text) - _FREE)


def _made_even(row: Sequence[Word], blank: float, steps: Sequence[float]) -> Iterator[Word]:
    edges = [[word.left, word.right] for word in row]
    whole = _step_in(row, steps)
    for at, (a, b) in enumerate(pairwise(row)):
        gap, height = b.left - a.right, _height(a, b)
        if gap <= 0:
            continue
        most = _LONGER * blank + _SLACK * (1 + (a.text[-1].isdigit() or b.text[0].isdigit()))
        most = max(most, _ONE_BLANK * (whole or _typed(a, b, steps)) / height)
        wanted = _BLANK if gap < most * height else gap / height - 2 * _BESIDE
        if _NUMBER.fullmatch(a.text) and _NUMBER.fullmatch(b.text) and not _is_one(a, b):
            wanted = max(wanted, _COLUMNS)
        move = (gap - wanted * height) / 2
        edges[at][1] = a.right + move
        edges[at + 1][0] = b.left - move
    for word, (left, right) in zip(row, edges, strict=True):
        if right - left > 1:
            yield replace(word, left=round(left, 2), right=round(right, 2))
        else:
            yield word
