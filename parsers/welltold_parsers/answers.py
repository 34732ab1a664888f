"""The words that a printed form offers as answers: "Absent", "Not detected", "Satisfactory"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache
from typing import NamedTuple

from welltold.tables import read_table

OPPOSITE = {
    "absent": "present",
    "present": "absent",
    "meets": "fails",
    "fails": "meets",
    "yes": "no",
    "no": "yes",
}


class Answer(NamedTuple):
    """One answer within a text."""

    start: int
    end: int
    kind: str
    """A key of `OPPOSITE`."""


@cache
def _kinds() -> Mapping[str, str]:
    return {row.text("phrase"): row.text("kind") for row in read_table("answer_words.csv")}


@cache
def _pattern() -> re.Pattern[str]:
    longest = sorted(_kinds(), key=len, reverse=True)
    phrases = "|".join(r"\s+".join(map(re.escape, p.split())) for p in longest)
    return re.compile(rf"(?i)(?<![\w-])(?:{phrases})(?![\w-])")


def answers_in(text: str) -> tuple[Answer, ...]:
    """Return the answers that a text names, from left to right, the longest at each place."""
    return tuple(
        Answer(m.start(), m.end(), _kinds()[" ".join(m[0].lower().split())])
        for m in _pattern().finditer(text)
    )


def offers_answers(words: Iterable[str]) -> bool:
    """Whether among the words of a page is an answer together with its opposite."""
    found = {
        _kinds().get(part) for word in words for part in word.lower().strip(" .,:;?()[]").split("/")
    }
    if "not" in {word.lower() for word in words} and "present" in found:
        found.add("absent")
    return any(kind in found and OPPOSITE[kind] in found for kind in OPPOSITE)


def kind_of(text: str) -> str | None:
    """Return the kind of answer that a whole text is, or None."""
    return _kinds().get(" ".join(text.lower().split()).strip(" .:;"))
