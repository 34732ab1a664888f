"""What a sheet's own words say of "ND": below which of the laboratory's two limits."""

from __future__ import annotations

import re
from collections.abc import Iterable

_NAMED = re.compile(
    r"(?i)(?:\bN\.?D\.?\b|\bU\b|\bB[DRQ]L\b|\bnot detected\b|\bnon-?detects?\b|\bnone detected\b)"
)
_LOWER = re.compile(
    r"(?i)\b(?:s?MDL|LOD|IDL|MDC|(?:method |limit of |level of )?detection (?:limit|level)"
    r"|(?:limit|level) of detection)\b"
)
_UPPER = re.compile(
    r"(?i)\b(?:M?RL|RDL|PQL|LOQ|LOR|EQL|CRQL"
    r"|(?:\w+ )?(?:reporting|quanti[tf]\w+) (?:detection )?(?:limit|level)"
    r"|(?:limit|level) of (?:quanti\w+|reporting))\b"
)
_BY = re.compile(r"(?i)\b(?:at|above|below|than|under|to|exceeding)\b")
_SHORTEST, _LONGEST = len("U at MDL"), 240


def limit_of_nd(texts: Iterable[str]) -> str | None:
    """Return the role of the limit that "not detected" stands for on a sheet; None: it is open.

    Sentences that name both limits, or that disagree with each other, tell nothing.
    """
    told = {role for text in texts if (role := _told(text)) is not None}
    return told.pop() if len(told) == 1 else None


def _told(text: str) -> str | None:
    if (
        not _SHORTEST <= len(text) <= _LONGEST
        or _NAMED.search(text) is None
        or _BY.search(text) is None
    ):
        return None
    lower, upper = _LOWER.search(text), _UPPER.search(text)
    if (lower is None) == (upper is None):
        return None
    return "detection_limit" if lower else "reporting_limit"
