"""Patterns of phrases that stand in tables and notes."""

from __future__ import annotations

import re
from collections.abc import Iterable


def any_of(phrases: Iterable[str]) -> str:
    """Return a pattern for these phrases, the longest first; a blank is any white space."""
    longest = sorted(phrases, key=len, reverse=True)
    return "|".join(r"\s+".join(map(re.escape, phrase.split())) for phrase in longest)
