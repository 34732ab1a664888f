"""The words that a printed form offers as answers: "Absent", "Not detected", "Satisfactory"."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from welltold.tables import read_table

from .phrases import any_of

OPPOSITE = {
    "absent": "present",
    "present": "absent",
    "meets": "fails",
    "fails": "meets",
    "yes": "no",
    "no": "yes",
}


_WRITTEN = frozenset({"", "capital"})
_NOT = frozenset({"Not", "NOT", "None", "NONE"})


class Answer(NamedTuple):
    """One answer within a text."""

    start: int
    end: int
    kind: str
    """A key of `OPPOSITE`."""


@cache
def _kinds() -> Mapping[str, str]:
    kinds = frozenset(OPPOSITE)
    return {row.text("phrase"): row.choice("kind", kinds) for row in read_table("answer_words.csv")}


@cache
def _in_sentences() -> frozenset[str]:
    """Return the words that offer an answer only where they begin with a capital."""
    rows = read_table("answer_words.csv")
    return frozenset(row.text("phrase") for row in rows if row.choice("written", _WRITTEN))


@cache
def _pattern() -> re.Pattern[str]:
    return re.compile(rf"(?i)(?<![\w-])(?:{any_of(_kinds())})(?![\w-])")


@cache
def _last_words() -> tuple[str, ...]:
    """Return the last words of the phrases, those left out that hold another one."""
    words = {phrase.split()[-1] for phrase in _kinds()}
    return tuple(w for w in words if not any(other in w for other in words - {w}))


def may_answer(text: str) -> bool:
    """Whether a text can hold an answer; quicker than `answers_in`, which says which."""
    return any(map(text.lower().__contains__, _last_words()))


def answers_in(text: str) -> tuple[Answer, ...]:
    """Return the answers that a text names, from left to right, the longest at each place."""
    if not may_answer(text):
        return ()
    return tuple(
        Answer(m.start(), m.end(), _kinds()[" ".join(m[0].lower().split())])
        for m in _pattern().finditer(text)
    )


@cache
def _single_words() -> tuple[tuple[str, str], ...]:
    return tuple((phrase, kind) for phrase, kind in _kinds().items() if " " not in phrase)


def _may_offer(words: Sequence[str]) -> bool:
    """Whether an answer and its opposite may be among the words: their letters are."""
    text = "\n".join(words)
    small = text.lower()
    found = {kind for phrase, kind in _single_words() if phrase in small}
    if "present" in found and any(word in text for word in _NOT):
        found.add("absent")
    return any(kind in found and OPPOSITE[kind] in found for kind in OPPOSITE)


def offers_answers(words: Sequence[str]) -> bool:
    """Whether among the words of a page is an answer together with its opposite."""
    if not _may_offer(words):
        return False
    found: set[str] = set()
    for word in words:
        for part in word.strip(" .,:;?()[]").split("/"):
            kind = _kinds().get(part.lower())
            if kind is not None and (part[0].isupper() or part.lower() not in _in_sentences()):
                found.add(kind)
    if "present" in found and _NOT.intersection(words):
        found.add("absent")
    return any(kind in found and OPPOSITE[kind] in found for kind in OPPOSITE)


@lru_cache(maxsize=8192)
def kind_of(text: str) -> str | None:
    """Return the kind of answer that a whole text is, or None."""
    return _kinds().get(" ".join(text.lower().split()).strip(" .:;"))
