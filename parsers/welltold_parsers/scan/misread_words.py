"""Mends words of names and heads that a reader of print takes for no word: "Tota!", "Si02".

A word that is in no name and no head of a table is read as the one word there that looks like it.
A head may differ in one letter more where the reader was not certain. A symbol behind a name is
read as the symbol of that name, and told. Words that are known as they stand are never touched.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import product
from string import ascii_lowercase, ascii_uppercase

from rapidfuzz.distance import Levenshtein

from welltold.analytes import identify, known_names
from welltold.tables import Row, read_table
from welltold_parsers.geometry import Questioned, Word

_ALIKE = str.maketrans({**dict.fromkeys("I1i|!", "l"), **dict.fromkeys("0O", "o")})
_GROUPS = (frozenset("tlifrj1|!"), frozenset("eocas0"), frozenset("nuhmrb"), frozenset("gqy9"))
"""Letters that blots and breaks make each other."""
_PART = re.compile(r"[A-Za-z0-9!|]+")
_SYMBOL = re.compile(r"(\()([A-Za-z0-9!|]{1,3})(\)[*,†‡:]*)")
_ROLES = frozenset({"analyte", "result", "unit", "reporting_limit"})
_LEAST = 4
"""Letters of a word that can be mended by its looks."""
_LONG = 5
"""Letters of a head that can be mended where one letter differs."""
_CERTAIN = 0.97
"""A word read with more certainty keeps its letters."""
_BEFORE = 4
"""Words of a name before its symbol, at most."""


def mended_words(words: Sequence[Word]) -> tuple[list[Word], tuple[Questioned, ...]]:
    """Return the words of a page, row by row, with names and heads mended, and what was told."""
    done: list[Word] = []
    told: list[Questioned] = []
    for word in words:
        plain = replace(word, text=_PART.sub(_by_looks, word.text))
        plain = _head(plain)
        symbol = _symbol(done, plain)
        if symbol is not None:
            box = (word.left, word.top, word.right, word.bottom)
            if symbol.translate(_ALIKE) != plain.text.translate(_ALIKE):
                told.append(Questioned(box, "symbol_mended", word.text))
            plain = replace(plain, text=symbol)
        done.append(plain)
    return done, tuple(told)


def _by_looks(found: re.Match[str]) -> str:
    """Return the known word that a part of a word looks like, in the same letters where it can."""
    text = found[0]
    key = text.casefold()
    if len(text) < _LEAST or 2 * sum(map(str.isalpha, text)) < len(text):
        return text
    alike = _looks_of_known().get(text.translate(_ALIKE).casefold())
    if alike is None or alike == key or len(alike) != len(text):
        return text
    upper = any(c.isdigit() for c in alike) or text.isupper()
    return "".join(
        one if one.casefold() == other else (other.upper() if upper else other)
        for one, other in zip(text, alike, strict=True)
    )


def _head(word: Word) -> Word:
    """Return a head of a table with its one misread letter mended."""
    bare = word.text.strip(".:,()").casefold()
    if word.confidence >= _CERTAIN or len(bare) < _LONG or not bare.isalpha():
        return word
    near = [one for one in _heads() if len(one) == len(bare) and one[0] == bare[0]]
    near = [one for one in near if _one_mistaken(one, bare)]
    if len(near) != 1 or bare in _looks_of_known().values():
        return word
    text = near[0].capitalize() if word.text[:1].isupper() else near[0]
    return replace(word, text=text.upper() if word.text.isupper() else text)


def _one_mistaken(one: str, other: str) -> bool:
    """Whether two words of one length differ in one letter, by one that looks like it."""
    apart = [{a, b} for a, b in zip(one, other, strict=True) if a != b]
    return len(apart) == 1 and any(apart[0] <= group for group in _GROUPS)


def _symbol(before: Sequence[Word], word: Word) -> str | None:
    """Return a symbol in brackets as it must be behind its name; None where it is so, or unknown.

    None too where the two differ by more than a letter: another thing stands there then.
    """
    parts = _SYMBOL.fullmatch(word.text)
    if parts is None:
        return None
    start, text, end = parts.groups()
    for slug in _slugs(before[-_BEFORE:], word):
        own = _symbols().get(slug, ())
        if text in own:
            return None
        near = [one for one in own if len(one) == len(text) and one[0].lower() == text[0].lower()]
        if len(near) == 1 and Levenshtein.distance(near[0], text) == 1:
            return f"{start}{near[0]}{end}"
    return None


def _slugs(before: Sequence[Word], word: Word) -> Iterator[str]:
    """Yield what the words before one on its row name, the longest name first."""
    row = [one for one in before if one.top < (word.top + word.bottom) / 2 < one.bottom]
    for start in range(len(row)):
        found = identify(" ".join(one.text for one in row[start:]).rstrip(","))
        if found is not None and found.how == "exact":
            yield found.slug


@cache
def _symbols() -> Mapping[str, tuple[str, ...]]:
    """Return the chemical symbols of analytes by slug."""
    found: dict[str, tuple[str, ...]] = {}
    for one, other in product(ascii_uppercase, ("", *ascii_lowercase)):
        match = identify(one + other)
        if match is not None and match.how == "exact":
            found[match.slug] = (*found.get(match.slug, ()), one + other)
    return found


@cache
def _heads() -> frozenset[str]:
    """Return the words of the heads that make a table, where they are long enough to be mended."""
    phrases = (row.text("phrase") for row in _head_rows() if row.text("role") in _ROLES)
    words = {word for phrase in phrases if phrase.count(" ") < 2 for word in phrase.split()}
    return frozenset(word for word in words if len(word) >= _LONG and word.isascii())


@cache
def _looks_of_known() -> Mapping[str, str]:
    """Return the words of names and heads by their looks, where one alone looks so.

    Of two the one with fewer digits counts: lists of names hold "NO3" and "N03".
    """
    phrases = (row.text("phrase") for row in _head_rows())
    found: dict[str, list[str]] = {}
    for word in {part for text in (*known_names(), *phrases) for part in _PART.findall(text)}:
        found.setdefault(word.translate(_ALIKE).casefold(), []).append(word.casefold())
    told = {look: sorted(set(words), key=_digits) for look, words in found.items()}
    return {
        look: words[0]
        for look, words in told.items()
        if len(words) == 1 or _digits(words[0]) < _digits(words[1])
    }


def _digits(word: str) -> int:
    return sum(c.isdigit() for c in word)


def _head_rows() -> Iterator[Row]:
    return read_table("header_words.csv")
