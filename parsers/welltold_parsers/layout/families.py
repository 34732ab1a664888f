"""Heads of a data file with one word before all names of tests: "min_natrium", "min_calcium"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from .head_cells import head_analyte
from .sheet_names import column_words
from .short_names import short_name
from .words import head_of, split_unit

_PARTED = re.compile(r"^(?P<word>[A-Za-z]{2,12}[_.])(?P<name>[A-Za-z].*)$")
_FEWEST = 4
_SHARE = 0.7
_KINDS = ("statistic", "summary", "derived", "count", "amount", "code", "meter", "meter_more")


def family_word(heads: Sequence[str]) -> str:
    """Return the word, with its mark, that several heads have before the names of tests; or "".

    A word that says what the numbers are, "avg_" or "mdl_", makes no such family; nor does one
    that is part of the names: "dissolved_lead".
    """
    return _family(tuple(heads))


@lru_cache(maxsize=64)
def _family(heads: tuple[str, ...]) -> str:
    names: dict[str, list[str]] = {}
    for head in heads:
        found = _PARTED.match(head)
        if found:
            names.setdefault(found["word"], []).append(found["name"])
    for word, rests in names.items():
        named = {name for name in rests if _is_test(name)}
        if len(named) < max(_FEWEST, _SHARE * len(rests)) or _says_what(word.rstrip("_.")):
            continue
        others = {name for other, group in names.items() if other != word for name in group}
        plain = any(split_unit(head)[0] in named for head in heads)
        if not named & others and not plain and not any(_is_test(word + n) for n in named):
            return word
    return ""


def _says_what(word: str) -> bool:
    """Whether a word tells something of the numbers; "min" may be short for minerals."""
    key = word.lower()
    if key == "min":
        return False
    known = any(key in column_words(kind) for kind in _KINDS)
    return known or head_of(word) is not None or _is_test(word)


def _is_test(text: str) -> bool:
    named = short_name(text)
    return head_analyte(text) is not None or (named is not None and named.slug is not None)
