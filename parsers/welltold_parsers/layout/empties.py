"""Words that stand in a cell of a data file where there is nothing to say."""

from __future__ import annotations

import re

_NOTHING = frozenset(
    [
        *("na", "n/a", "#n/a", "nan", "null", "<na>", "n.a.", "n. a.", "nm"),
        *("-", "--", "---", ".", "..", "?", "(null)"),
    ]
)
_LONGEST = 9
_NO_DATA = re.compile(r"-9{3,}(?:\.0+)?")


def says_nothing(text: str) -> bool:
    """Whether a cell beside a result is blank in words. Not for results: "NA" there is told."""
    return len(text) < _LONGEST and text.strip().lower() in _NOTHING


def stands_for_nothing(text: str) -> bool:
    """Whether a number is the mark of a data file for "not tested": -999, -9999."""
    return text[:2] == "-9" and _NO_DATA.fullmatch(text) is not None
