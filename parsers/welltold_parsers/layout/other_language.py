"""Sheets in a language that is not read: what looks like a result is told, never passed over."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import chain, islice

from welltold.tables import read_table

from .accounts import Accounts
from .cells import Line
from .conventions import LOOKED_AT
from .hints import Parts
from .tokens import is_number, unit_of, value_of

_WORD = re.compile(r"[^\W\d_]{3,}")
_FEWEST = 4
"""So many different words of one language make a sheet one of it."""
_LETTERS = 3


@cache
def _words() -> Mapping[str, frozenset[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for row in read_table("language_words.csv"):
        found[row.text("language")].add(row.text("word"))
    return {language: frozenset(words) for language, words in found.items()}


def is_other_language(parts: Parts) -> bool:
    """Whether a sheet is in a language that is not read."""
    told: set[str] = set()
    for line in islice(chain.from_iterable(parts), LOOKED_AT):
        told.update(_WORD.findall(line.text.lower()))
    return any(len(words & told) >= _FEWEST for words in _words().values())


def rows_left(parts: Parts, accounts: Accounts) -> Iterator[Line]:
    """Yield the lines that begin with words and go on with a number, and gave nothing."""
    for line in chain.from_iterable(parts):
        first, *others = line.cells
        if accounts.is_seen(line) or sum(map(str.isalpha, first.text)) < _LETTERS:
            continue
        if is_number(first.text) or unit_of(first.text) is not None:
            continue
        if any(_is_amount(cell.text) for cell in others):
            yield line


def _is_amount(text: str) -> bool:
    value = value_of(text, decimal_comma=True)
    return value is not None and (value.value is not None or value.state == "below")
