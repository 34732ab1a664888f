"""The answers that a form offers, as they were read from a picture: "Absent", "PRESENTABSENT"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from welltold_parsers.answers import OPPOSITE
from welltold_parsers.geometry import Word

_ANSWER = re.compile(
    r"(?i)(?P<absent>not\s?(?:present|detected|found)|absent|negative|none\s?(?:detected|found))"
    r"|(?P<present>present(?!e)|positive|detected)"
    r"|(?P<fails>unsatisfactory|not\s?satisfactory)|(?P<meets>satisfactory)"
)
_PLAIN = str.maketrans("ÀÁÂÄÈÉÊËÎÏÒÓÔÖàáâäèéêëîïòóôö", "AAAAEEEEIIOOOOaaaaeeeeiioooo")
"""Specks over a letter are read as its accent."""
_TYPED = re.compile(r"[\[(]\s?[xX_✓✔*]?\s?[\])]|[☒☑☐]")
_LONGEST = 14
"""A row of more words is a sentence."""
_STACKED = 1.6
"""Answers one below the other are so many heights of a line apart at most."""
_LEAST = 3
"""Letters of a name that is glued to an answer."""


class Answer(NamedTuple):
    """One answer on the page."""

    word: Word
    kind: str
    source: Word
    """The word in which it was read."""


def holds_answer(text: str) -> bool:
    """Whether a word holds an answer."""
    return _ANSWER.search(text.translate(_PLAIN)) is not None


def groups_of(words: Sequence[Word]) -> Iterator[list[Answer]]:
    """Yield the answers that are offered together: one and its opposite, side by side or below."""
    single: list[Answer] = []
    for row in _rows(list(_answers(_joined(words)))):
        count = sum(_one_row(row[0].word, word) for word in words)
        if count > _LONGEST:
            continue
        for group in _parts(row):
            if len(group) > 1:
                yield group
            else:
                single.append(group[0])
    for one, other in pairwise(single):
        if OPPOSITE[one.kind] == other.kind and _is_below(one.word, other.word):
            yield [one, other]


def _joined(words: Sequence[Word]) -> Iterator[Word]:
    """Yield the words, "NOT" and what follows it as one."""
    taken: set[int] = set()
    for one, other in pairwise(words):
        both = f"{one.text} {other.text}"
        first = re.fullmatch(r"(?i)\W*(?:not|none)", one.text)
        if first and _one_row(one, other) and _ANSWER.search(other.text):
            taken |= {id(one), id(other)}
            yield replace(one, text=both, right=other.right)
    yield from (word for word in words if id(word) not in taken)


def _answers(words: Iterator[Word]) -> Iterator[Answer]:
    for word in words:
        wide = (word.right - word.left) / max(len(word.text), 1)
        for found in _ANSWER.finditer(word.text.translate(_PLAIN)):
            left, right = word.left + wide * found.start(), word.left + wide * found.end()
            if found.end() == len(word.text):
                right = word.right
            part = replace(word, text=found[0], left=left, right=right)
            yield Answer(part, str(found.lastgroup), word)


def _one_row(one: Word, other: Word) -> bool:
    return one.top < (other.top + other.bottom) / 2 < one.bottom


def _rows(answers: Sequence[Answer]) -> Iterator[list[Answer]]:
    row: list[Answer] = []
    for one in sorted(answers, key=lambda a: a.word.top + a.word.bottom):
        if row and not _one_row(row[-1].word, one.word):
            yield sorted(row, key=lambda a: a.word.left)
            row = []
        row.append(one)
    if row:
        yield sorted(row, key=lambda a: a.word.left)


def _parts(row: Sequence[Answer]) -> Iterator[list[Answer]]:
    """Yield the pairs of a row: one answer and its opposite."""
    at = 0
    while at < len(row):
        pair = row[at : at + 2]
        if len(pair) == 2 and OPPOSITE[pair[0].kind] == pair[1].kind:
            yield list(pair)
            at += 2
        else:
            yield [row[at]]
            at += 1


def _is_below(one: Word, other: Word) -> bool:
    tall = one.bottom - one.top
    return abs(one.left - other.left) < tall and 0 < other.top - one.bottom < _STACKED * tall


def is_typed(beside: Sequence[Word], group: Sequence[Answer]) -> bool:
    """Whether each answer has a box made of letters, which the layout engine reads."""
    text = " ".join(word.text for word in sorted(beside, key=lambda w: w.left))
    return len(_TYPED.findall(text)) >= len(group)


def rest_of(answer: Answer) -> Word | None:
    """Return what stands before an answer in its word, such as its test's name; None: nothing."""
    before = _ANSWER.split(answer.source.text.translate(_PLAIN))[0]
    if sum(c.isalpha() for c in before) < _LEAST:
        return None
    right = min(answer.word.left, answer.source.right)
    return replace(answer.source, text=before.strip(), right=right)
