"""Which script a file is written in, when it is not Latin."""

from __future__ import annotations

import unicodedata
from collections import Counter
from collections.abc import Iterable

_ENOUGH = 20
"""Fewer letters than this are names or signs, not a script."""
_LATIN = {"LATIN", "GREEK", "MICRO", "FEMININE", "MASCULINE", "MODIFIER", "SUPERSCRIPT", "OHM"}
"""First words of the Unicode names of letters that a Latin sheet uses; Greek ones name units."""


def other_script(texts: Iterable[str]) -> str | None:
    """Return the name of the script that at least twenty letters belong to, None for Latin."""
    strange = [text for text in texts if not text.isascii()]
    if not strange:
        return None
    counts: Counter[str] = Counter()
    for letter in "".join(strange):
        if letter.isalpha() and not letter.isascii():
            counts[unicodedata.name(letter, "UNKNOWN").split(maxsplit=1)[0]] += 1
    for name in _LATIN & counts.keys():
        del counts[name]
    if not counts:
        return None
    name, count = counts.most_common(1)[0]
    return name.capitalize() if count >= _ENOUGH else None
