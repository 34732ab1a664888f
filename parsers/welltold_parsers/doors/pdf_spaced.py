"""Headings set with wide spaces between their letters, put together again."""

from __future__ import annotations

from itertools import pairwise
from statistics import median

from welltold_parsers.geometry import Word

_FEWEST = 4
"""Fewer letters may be a row of flags."""
_WIDEST = 0.7
"""Of the letters' height; wider gaps lie between columns."""
_UNEVEN = 1.4
"""A gap of so many times the usual one lies between two words."""


def join_spaced(words: list[Word]) -> list[Word]:
    """Join runs of single letters that stand evenly side by side: "M E T A L S".

    Digits are never joined: they may be the cells of a table.
    """
    joined: list[Word] = []
    run: list[Word] = []
    for word in words:
        if run and not _follows(run[-1], word):
            joined += _as_words(run)
            run = []
        if len(word.text) == 1 and word.text.isalpha():
            run.append(word)
        else:
            joined.append(word)
    return joined + _as_words(run)


def _follows(before: Word, word: Word) -> bool:
    height = before.bottom - before.top
    return (
        len(word.text) == 1
        and word.text.isalpha()
        and abs(word.bottom - before.bottom) < 0.1 * height
        and 0 < word.left - before.right < 3 * _WIDEST * height
    )


def _as_words(run: list[Word]) -> list[Word]:
    if len(run) < _FEWEST:
        return run
    gaps = [after.left - before.right for before, after in pairwise(run)]
    usual = median(gaps)
    if usual > _WIDEST * (run[0].bottom - run[0].top):
        return run
    parts = [[run[0]]]
    for gap, word in zip(gaps, run[1:], strict=True):
        if gap > _UNEVEN * usual:
            parts.append([])
        parts[-1].append(word)
    return [_joined(part) for part in parts]


def _joined(part: list[Word]) -> Word:
    return Word(
        "".join(word.text for word in part),
        part[0].left,
        min(word.top for word in part),
        part[-1].right,
        max(word.bottom for word in part),
        min(word.confidence for word in part),
    )
