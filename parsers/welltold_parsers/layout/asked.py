"""What "Yes" and "No" answer: the question that stands over them, or before them.

Under "Present?" a yes says that germs were found, under "Absent?" that none were. Under "Safe?" it
judges, and says nothing of what was found.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Literal

Asked = Literal["found", "not_found", "judged"]

COUNTED = frozenset({"heterotrophic_plate_count"})
"""Germs that are always counted: no sign answers for them."""
_MINUS = frozenset({"-", "–", "−"})
_SIGN_LONG = 3
_YES_OR_NO = frozenset({"y", "n", "yes", "no"})
_NEITHER = re.compile(
    r"(?i)\b(?:absen(?:t|ce)|negative|neg|free (?:of|from)|(?:not?|none) (?:detected|found|present)"
    r"|non-?detect\w*|ausen(?:te|cia)|negativo)\b"
)
_FOUND = re.compile(
    r"(?i)\b(?:presen(?:t|ce|te|cia)|positiv[eo]|pos|(?<!not )(?<!none )(?<!non-)detected"
    r"|(?<!not )(?<!none )found)\b"
)
_JUDGED = re.compile(
    r"(?i)\b(?:safe|unsafe|potable|drinkable|satisfactory|unsatisfactory|(?:un)?acceptable|pass(?:ed)?"
    r"|fail(?:ed)?|ok|okay|meets?|compl(?:y|ies|iant|iance)|exceed\w*|over|above|standards?|limits?"
    r"|mcl|fit|tested|requested|ordered|violation|segura?|cumple)\b"
)


@lru_cache(maxsize=256)
def asked(text: str) -> Asked | None:
    """Return what a head or a name asks, or None: it asks nothing."""
    if _NEITHER.search(text):
        both = _FOUND.search(_NEITHER.sub(" ", text))  # "Present/Absent" asks for what was found
        return "found" if both else "not_found"
    if _FOUND.search(text):
        return "found"
    return "judged" if _JUDGED.search(text) else None


def is_yes_or_no(text: str) -> bool:
    """Whether a text answers a question, and says nothing without it."""
    return len(text) <= len("yes") + 1 and text.strip(" .").lower() in _YES_OR_NO


def minus_answers(texts: Iterable[str]) -> bool:
    """Whether a sheet answers with signs, so that "-" says that no germ was found."""
    return any(text.strip(" ()") == "+" for text in texts if len(text) <= _SIGN_LONG)


def is_minus(text: str) -> bool:
    """Whether a text is the sign of an answer that nothing was found."""
    return len(text) <= _SIGN_LONG and text.strip(" ()") in _MINUS


_QUESTION = re.compile(
    r"(?i)(?P<name>\S.*?)[ ,:-]+(?P<asks>(?:presen(?:t|ce)|detected|found|absent|positive|negative)"
    r"(?: ?\((?:yes/no|y/n)\))?) ?[?:]+ {0,2}(?P<answer>yes|no|y|n)\.?"
)


def question_in(text: str) -> tuple[str, str, str] | None:
    """Return name, question and answer of "Total coliform present? Yes", or None."""
    found = _QUESTION.fullmatch(text)
    return (found["name"], found["asks"], found["answer"]) if found else None
