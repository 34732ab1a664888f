"""Mends words of names and heads that a reader of print takes for no word: "Tota!", "Si02".

A word that is in no name and no head of a table is read as the one word there that looks like it.
A head may differ in one letter more where the reader was not certain. A symbol behind a name is
read as the symbol of that name, and told. Words that are known as they stand are never touched.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cache
from itertools import product
from string import ascii_lowercase, ascii_uppercase

from rapidfuzz.distance import Levenshtein

from welltold.analytes import identify, known_names
from welltold.tables import Row, read_table
from welltold_parsers.geometry import Questioned, Word

from .swallowed import germ, parted, subscript

_ALIKE = str.maketrans({**dict.fromkeys("I1i|!", "l"), **dict.fromkeys("0O", "o")})
_GROUPS = (frozenset("tlifrj1|!"), frozenset("eocas0"), frozenset("nuhmrb"), frozenset("gqy9"))
"""Letters that blots and breaks make each other."""
_LETTERS = re.compile(r"[^\W\d_]+")
_PART = re.compile(r"[A-Za-z0-9!|]+")
_ENDS = re.compile(r"(\(?)([A-Za-z|!]+)([),:*]*)")
_RULES = frozenset("I|l![]À")
"""What a rule between columns is read as."""
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
    for word in parted(_without_rules(words), all_words()):
        plain = replace(word, text=_PART.sub(_by_looks, _without_accents(word.text)))
        plain = _head(plain)
        name = _name(done, plain) or germ([w.text for w in done[-1:]], plain.text)
        if name is not None:
            told.append(_told(word, "name_mended"))
            plain = replace(plain, text=name)
        symbol = _symbol(done, plain) or subscript([w.text for w in done[-_BEFORE:]], plain.text)
        if symbol is not None:
            if symbol.translate(_ALIKE) != plain.text.translate(_ALIKE):
                told.append(_told(word, "symbol_mended"))
            plain = replace(plain, text=symbol)
        done.append(plain)
    return done, tuple(told)


def _without_rules(words: Sequence[Word]) -> Iterator[Word]:
    """Yield words without a rule of the table that was read as a letter before a name."""
    for at, word in enumerate(words):
        starts = at == 0 or words[at - 1].left >= word.left
        if starts and word.text in _RULES and _names(words[at + 1 : at + 1 + _BEFORE]):
            continue
        bare = word.text[1:]
        glued = word.text[:1] in _RULES and _is_name(bare) and not _is_name(word.text)
        yield replace(word, text=bare) if starts and glued else word


def _names(words: Sequence[Word]) -> bool:
    """Whether words begin with a name."""
    return any(_is_name(" ".join(w.text for w in words[:end])) for end in range(1, len(words) + 1))


def _is_name(text: str) -> bool:
    found = identify(text.rstrip(",*"))
    return found is not None and found.how == "exact"


def _without_accents(text: str) -> str:
    """Return a word without accents where only so it is known: a speck above is no accent."""
    bare = "".join(c for c in unicodedata.normalize("NFD", text) if not unicodedata.combining(c))
    parts = _LETTERS.findall(text.casefold())
    if bare == text or any(part in all_words() for part in parts):
        return text
    known = any(part in all_words() for part in _PART.findall(bare.casefold()))
    return bare if known else text


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


def _told(word: Word, why: str) -> Questioned:
    return Questioned((word.left, word.top, word.right, word.bottom), why, word.text)


def _name(before: Sequence[Word], word: Word) -> str | None:
    """Return a word with its one misread letter mended, where that gives the name of a test."""
    parts = _ENDS.fullmatch(word.text)
    if parts is None or word.confidence >= _CERTAIN or len(parts[2]) < _LEAST:
        return None
    start, bare, end = parts.groups()
    if bare.casefold() in all_words():
        return None
    row = [one.text for one in before[-_BEFORE:] if _on_row(one, word)]
    found: dict[str, str] = {}
    for one in _name_words().get(len(bare), ()):
        text = f"{start}{one}{end}"
        if _one_mistaken(one, bare.casefold()) and (slug := _ended(row, text)):
            found.setdefault(slug, text)
    return found.popitem()[1] if len(found) == 1 else None


def _ended(row: Sequence[str], text: str) -> str | None:
    """Return the analyte of the longest name that a word ends and some words before it begin."""
    texts = (" ".join((*row[at:], text)).rstrip(",*") for at in range(len(row) + 1))
    found = (identify(one) for one in texts)
    return next((one.slug for one in found if one is not None and one.how == "exact"), None)


def _on_row(one: Word, other: Word) -> bool:
    return one.top < (other.top + other.bottom) / 2 < one.bottom


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
    row = [one for one in before if _on_row(one, word)]
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
def all_words() -> frozenset[str]:
    """Return all words of names and heads."""
    phrases = (row.text("phrase") for row in _head_rows())
    return frozenset(_words_of((*known_names(), *phrases)))


@cache
def _name_words() -> Mapping[int, tuple[str, ...]]:
    """Return the words of names by their length."""
    found: dict[int, list[str]] = {}
    for word in sorted(set(_words_of(known_names()))):
        if word.isalpha() and len(word) >= _LEAST:
            found.setdefault(len(word), []).append(word)
    return {length: tuple(words) for length, words in found.items()}


def _words_of(texts: Iterable[str]) -> Iterator[str]:
    for text in texts:
        yield from (part.casefold() for part in (*_PART.findall(text), *_LETTERS.findall(text)))


@cache
def _looks_of_known() -> Mapping[str, str]:
    """Return the words of names and heads by their looks, where one alone looks so.

    Of two the one with fewer digits counts: lists of names hold "NO3" and "N03".
    """
    found: dict[str, list[str]] = {}
    for word in all_words():
        found.setdefault(word.translate(_ALIKE).casefold(), []).append(word)
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
