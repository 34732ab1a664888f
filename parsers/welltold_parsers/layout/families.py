"""Heads of a data file with one word before all names of tests: "min_natrium", "min_calcium"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from .head_cells import head_analyte
from .sheet_names import column_words
from .short_names import short_name
from .words import split_unit

_PARTED = re.compile(r"^(?P<word>[A-Za-z]{2,12}[_.])(?P<name>[A-Za-z].*)$")
_FEWEST = 4
_SHARE = 0.7


def family_word(heads: Sequence[str]) -> str:
    """Return the word, with its mark, that several heads have before the names of tests; or "".

    A statistic of the same tests beside it, "min_lead" and "max_lead", makes it none.
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
        if len(named) < max(_FEWEST, _SHARE * len(rests)) or _is_test(word.rstrip("_.")):
            continue
        others = {name for other, group in names.items() if other != word for name in group}
        plain = any(split_unit(head)[0] in named for head in heads)
        if not named & others and not plain and not all(_is_test(word + n) for n in named):
            return word
    return ""


def is_statistic(word: str) -> bool:
    """Whether the word of a family may tell that its numbers are made of others: "min_"."""
    return word.rstrip("_.").lower() in column_words("statistic")


def _is_test(text: str) -> bool:
    named = short_name(text)
    return head_analyte(text) is not None or (named is not None and named.slug is not None)
