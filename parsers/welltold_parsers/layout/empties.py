"""Words that stand in a cell of a data file where there is nothing to say."""

from __future__ import annotations

_NOTHING = frozenset(
    ["na", "n/a", "#n/a", "nan", "null", "<na>", "n.a.", "-", "--", "---", ".", "..", "?", "(null)"]
)
_LONGEST = 9


def says_nothing(text: str) -> bool:
    """Whether a cell beside a result is blank in words. Not for results: "NA" there is told."""
    return len(text) < _LONGEST and text.strip().lower() in _NOTHING
