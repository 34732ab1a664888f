"""Mends what a reader of print takes for something else, only where the column makes it certain.

A letter O between digits is a zero; a "c" before a number is a lost "less than" where others of its
column have one; "mg/" is "mg/L" where the rest of the column says so. Each repair is told, and its
value is doubted: a flag of the lab, like the B in "0.5B", is never touched.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from rapidfuzz.distance import Levenshtein

from welltold.units import unit
from welltold_parsers.geometry import Questioned, Word

_DIGITS = str.maketrans(
    {"O": "0", "o": "0", "l": "1", "I": "1", "|": "1", "!": "1", "S": "5", "B": "8"}
)
_INSIDE = re.compile(r"(?<=[\d.,<])[OolI|](?=[\d.,])|^[OolI|](?=[.,]\d)|(?<=\d[.,])[OolI|]$")
_BETWEEN = re.compile(r"(?<=[\d.,])[SB](?=\d)")
_WHOLE = re.compile(r"(?=.*\d)(?=.*[OoIl|!])[\dOoIl|!]{2,}")
"""Digits and letters that look like them, and nothing else."""
_NUMBER = re.compile(r"[<>≤≥]?\d[\d.,]*")
_SPECKED = re.compile(r"[.,:'·]+\d+\.\d+")
_LED = re.compile(r"\.\d+")
_POINTLESS = re.compile(r"<?0\d+")
_SIGN = re.compile(r"^[cCkK({«‹](?=\d*[.,]\d)")
_DASH, _BLANK = 0.45, 0.5
"""Heights of a line: a hyphen is shorter than a dash; and what stands between words of a text."""
_LEAST = 3
"""So many numbers, or units, of one kind make a column certain."""
_SIGNED = 2
"""So many numbers with a sign do the same."""


def mended(words: Sequence[Word]) -> tuple[list[Word], tuple[Questioned, ...]]:
    """Return the words of a page with their certain repairs, and what was repaired."""
    done: list[Word] = []
    told: list[Questioned] = []
    for word, text in _texts([_dashed(words, at) for at in range(len(words))]):
        if text == word.text:
            done.append(word)
            continue
        done.append(replace(word, text=text))
        box = (word.left, word.top, word.right, word.bottom)
        told.append(Questioned(box, "repaired", word.text))
    return done, tuple(told)


def _dashed(words: Sequence[Word], at: int) -> Word:
    """Return a word; a stroke between two words of a text as the dash that its length makes it."""
    word = words[at]
    tall = word.bottom - word.top
    if word.text != "-" or word.right - word.left < _DASH * tall or not 0 < at < len(words) - 1:
        return word
    before, behind = words[at - 1], words[at + 1]
    near = word.left - before.right < _BLANK * tall and behind.left - word.right < _BLANK * tall
    level = all(one.top < (word.top + word.bottom) / 2 < one.bottom for one in (before, behind))
    text = before.text[-1].isalpha() and behind.text[0].isalpha()
    return replace(word, text="\u2013") if near and level and text else word


def _texts(words: Sequence[Word]) -> Iterator[tuple[Word, str]]:
    numbers = [word for word in words if _NUMBER.fullmatch(word.text)]
    units = [word for word in words if _is_unit(word.text)]
    flags = sum(word.text == "U" for word in words)
    for at, word in enumerate(words):
        if word.text == "u" and flags >= _LEAST:
            yield word, "U"
        elif _POINTLESS.fullmatch(word.text):
            yield word, _pointed(word, numbers)
        elif _LED.fullmatch(word.text) and _leads(words, at):
            yield word, word.text[1:]
        elif any(c.isdigit() for c in word.text) and not _NUMBER.fullmatch(word.text):
            yield word, _number(word, numbers)
        elif _may_be_unit(word.text):
            yield word, _unit(word, units)
        else:
            yield word, word.text


def _leads(words: Sequence[Word], at: int) -> bool:
    """Whether dots lead to a word from a name, the last of them read as its point.

    Where other numbers of the page begin with a point it may be one.
    """
    plain = [n for n, one in enumerate(words) if _LED.fullmatch(one.text) and not _is_led(words, n)]
    return not plain and _is_led(words, at) and any(one.text.startswith("0.") for one in words)


def _is_led(words: Sequence[Word], at: int) -> bool:
    """Whether the word before one on its row ends in dots."""
    if not at:
        return False
    before, middle = words[at - 1], (words[at].top + words[at].bottom) / 2
    return before.top < middle < before.bottom and before.text.endswith((".", "\u2026"))


def _number(word: Word, numbers: Sequence[Word]) -> str:
    """Return the number that a word must be among the numbers above and below it."""
    if _SPECKED.fullmatch(word.text):  # no number has two points: the first is a speck
        return word.text.lstrip(".,:'·")
    column = [other for other in numbers if _one_column(word, other)]
    signed = sum(other.text.startswith("<") for other in column)
    if len(column) < _LEAST and signed < _SIGNED:
        return word.text
    text = _BETWEEN.sub(_digit, _INSIDE.sub(_digit, word.text))
    if _WHOLE.fullmatch(text):
        text = text.translate(_DIGITS)
    if signed and _SIGN.match(text):
        text = f"<{text[1:]}"
    return text if _NUMBER.fullmatch(text) else word.text


def _pointed(word: Word, numbers: Sequence[Word]) -> str:
    """Return a number that begins with a 0 with the point that its column has behind it."""
    column = [other for other in numbers if other is not word and _one_column(word, other)]
    points = sum("." in other.text for other in column)
    if points < _LEAST or any(_POINTLESS.fullmatch(other.text) for other in column):
        return word.text
    start = word.text.index("0") + 1
    return f"{word.text[:start]}.{word.text[start:]}"


def _digit(found: re.Match[str]) -> str:
    return found[0].translate(_DIGITS)


def _one_column(one: Word, other: Word) -> bool:
    """Whether two words stand one above the other: their edges or their middles agree."""
    near = 0.6 * (one.bottom - one.top)
    middles = abs(one.left + one.right - other.left - other.right) / 2
    return min(abs(one.left - other.left), abs(one.right - other.right), middles) < near


def _is_unit(text: str) -> bool:
    return "/" in text and unit(text) is not None


def _may_be_unit(text: str) -> bool:
    """Whether a word that is no unit looks like one with a letter lost or mistaken."""
    return 2 < len(text) < 8 and text[0].islower() and text[1] in "gGqC9" and unit(text) is None


def _unit(word: Word, units: Sequence[Word]) -> str:
    """Return the unit that a word must be among the units above and below it."""
    column = Counter(other.text for other in units if _one_column(word, other))
    if not column:
        return word.text
    text, count = column.most_common(1)[0]
    near = Levenshtein.distance(text.casefold(), word.text.casefold()) <= 2
    alone = len({one.casefold() for one in column}) == 1
    return text if near and alone and count >= _LEAST else word.text
