"""What a sentence says was found and what was not, without a number.

The names in a sentence are put behind signs, and every sign must be covered by one phrase of
``sentence_words.csv``: "No # or # were found" denies both, "positive for # but negative for #" says
one of each. A sentence with an answer or a denial that no phrase used up says nothing for sure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple

from welltold.analytes import Match
from welltold.tables import read_table
from welltold_parsers.phrases import any_of

from .sentence_values import speaks_of_other, speaks_of_other_day, without_repeats
from .tokens import analytes_within

Told = Literal["present", "absent", "open"]

_KINDS = frozenset(
    {
        "absent_before",
        "absent_behind",
        "present_before",
        "present_behind",
        "denies",
        "general",
        "open",
    }
)
_SIGN, _REST = "\x01", "\x02"
"""What a name becomes: a sign, and filling so that every place in the sentence stays."""
_KIND_OF_GERM = r"(?:\s+(?:bacteri(?:a|um)|organisms?|germs?|colonies|bacterias))?"
_ONE = (
    r"(?:(?:any|the|both|either|detectable|live|la|el|las|los)\s+){0,2}"
    rf"{_SIGN}{_REST}*{_KIND_OF_GERM}"
)
_JOINED = r"(?:\s*,\s*(?:(?:and|or|nor|y|o|ni)\s+)?|\s*[/&]\s*|\s+(?:and|or|nor|y|o|ni)\s+)"
_BE = r"(?:\s+(?:is|are|was|were|has been|have been|had been|fue|fueron))?"
_BARE_NOT = r"(?:was|were|is|are) not(?=\s*(?:[.,;]|$))"
"""An answer that goes on from the one before: "coliform was present, E. coli was not"."""
_UNREAL = re.compile(r"(?i)^\s*(?:had|were)\s")
_OF_THIS = re.compile(
    r"(?i)\b(?:was|were|has been|have been|your|this|we|our|tested|came|showed|did"
    r"|fue(?:ron)?|se|su)\b"
)
_SHOWS = re.compile(r"(?i)\b(?:results?|analys[ei]s|tests?|report)\s+(?:\w+\s+)?indicates?\b")
"""What a laboratory says of its own results, where "indicates" tells no meaning of theirs."""
_FINITE = re.compile(r"(?i)\b(?:is|are|es|son|está|están)\b")
_SIMPLE = 18
"""A sentence with more words may say more than was understood."""
_TRIM = "()[],.;:!?\"' "


@dataclass(frozen=True, slots=True)
class Claim:
    """What a sentence says of one name in it."""

    match: Match
    start: int
    """Where the name begins in the sentence."""
    name: str
    told: Told
    """``open``: the sentence answers, and the answer was not understood."""
    text: str
    """The printed words of the answer."""
    plain: bool
    """Whether the sentence says this and little else."""


class _Name(NamedTuple):
    start: int
    end: int
    match: Match


class _Answer(NamedTuple):
    start: int
    end: int
    told: Told
    text: str


def claims_in(sentence: str) -> list[Claim]:
    """Return what a sentence claims of each name in it; empty: it claims nothing."""
    names = names_in(sentence)
    if not names:
        return []
    signed = _signed(sentence, names)
    if _UNREAL.match(signed) or _words("general").search(signed):
        return []
    answers = [_answer(found, sentence) for found in _pattern().finditer(signed)]
    rest = _without(signed, answers)
    left = _words("present_behind", "absent_behind").search(rest)
    end = max((a.end for a in answers), default=len(signed))
    front = _SHOWS.sub(" ", sentence[:end])
    if not (answers or left) or not _is_told(front, signed[:end]):
        return []
    clear = not (left or _words("denies").search(rest) or speaks_of_other(front))
    plain = _is_plain(sentence, signed)
    claims: list[Claim] = []
    for name in names:
        answer = next((a for a in answers if a.start <= name.start < a.end), None)
        if answer is None and clear:
            continue
        told: Told = answer.told if answer is not None and clear else "open"
        text = answer.text if answer is not None else sentence.strip()
        printed = sentence[name.start : name.end]
        claims.append(Claim(name.match, name.start, printed, told, text, plain))
    return claims


def _is_told(front: str, signed: str) -> bool:
    """Whether a sentence up to its last answer speaks of this water and of today."""
    if _words("open").search(signed) or speaks_of_other_day(front):
        return False
    return not speaks_of_other(front) or _OF_THIS.search(signed) is not None


def _is_plain(sentence: str, signed: str) -> bool:
    if len(sentence.split()) > _SIMPLE or _words("open").search(signed):
        return False
    return _FINITE.search(signed) is None or _OF_THIS.search(signed) is not None


def names_in(sentence: str) -> list[_Name]:
    """Return the names of analytes in a sentence, with their places; a second form is one name."""
    words = [(m.start(), m.end()) for m in re.finditer(r"\S+", sentence)]
    found = []
    for first, behind, match in without_repeats(analytes_within(sentence)):
        start, end = words[first][0], words[behind - 1][1]
        text = sentence[start:end]
        start += len(text) - len(text.lstrip(_TRIM))
        if text.count("(") <= text.count(")"):
            end -= len(text) - len(text.rstrip(_TRIM.replace(")", "")))
        else:
            end -= len(text) - len(text.rstrip(_TRIM))
        found.append(_Name(start, end, match))
    return found


def _signed(sentence: str, names: Iterable[_Name]) -> str:
    for name in names:
        sign = _SIGN + _REST * (name.end - name.start - 1)
        sentence = sentence[: name.start] + sign + sentence[name.end :]
    return sentence


def _answer(found: re.Match[str], sentence: str) -> _Answer:
    group = str(found.lastgroup)
    told: Told = "absent" if group.startswith("absent") else "present"
    text = " ".join(sentence[found.start(group) : found.end()].split())
    return _Answer(found.start(), found.end(), told, text)


def _without(signed: str, answers: Iterable[_Answer]) -> str:
    for answer in answers:
        blank = " " * (answer.end - answer.start)
        signed = signed[: answer.start] + blank + signed[answer.end :]
    return signed


def _phrases(*kinds: str) -> str:
    """Return the pattern of the phrases of these kinds."""
    rows = read_table("sentence_words.csv")
    return any_of(row.text("phrase") for row in rows if row.choice("kind", _KINDS) in kinds)


@lru_cache(maxsize=8)
def _words(*kinds: str) -> re.Pattern[str]:
    return re.compile(rf"(?i)(?<![\w'])(?:{_phrases(*kinds)})(?![\w'])")


@lru_cache(maxsize=1)
def _pattern() -> re.Pattern[str]:
    """Return the pattern of names with their answer before or behind them."""
    names = rf"{_ONE}(?:{_JOINED}{_ONE})*"
    stop = _phrases("absent_behind", "present_behind", "denies")
    denied = rf"(?:not|never|none|not been|no)\s+(?:{_phrases('present_behind')})"
    gap = rf"(?:[\s,:=()–-]+(?!(?:{stop})\b)[^\s,.;:()\d{_SIGN}{_REST}]+){{0,7}}?[\s,:=(–-]+"
    before = (
        rf"(?<![\w'])(?:(?P<absent_before>{_phrases('absent_before')})"
        rf"|(?P<present_before>{_phrases('present_before')}))\s+{names}"
        rf"(?:{_BE}\s+(?:{_phrases('present_behind')})\b)?"
    )
    behind = (
        rf"{names}{gap}(?:(?P<absent_behind>{_phrases('absent_behind')}|{denied}|{_BARE_NOT})"
        rf"|(?P<present_behind>{_phrases('present_behind')}))(?![\w'])"
    )
    return re.compile(rf"(?i){before}|{behind}")
