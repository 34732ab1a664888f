"""Small raised signs that touch the word before them: footnote marks, charges, flags.

"Lead" with a raised 1 is Lead with a footnote, not "Lead 1"; "Fe" with a raised 2+ is one word. A
raised letter behind a number stays a word of its own, since it is a flag.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word

_SUPERSCRIPT = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def with_raised(row: Sequence[Word]) -> Sequence[Word]:
    """Return a line's words with raised signs joined to the words that they belong to."""
    for before, word in pairwise(row):
        if word.bottom < before.bottom and _is_raised(before, word):
            break
    else:
        return row
    kept = list(row[:1])
    for before, word in pairwise(row):
        last = kept[-1]
        sign = _sign(last, word) if _is_raised(before, word) else None
        if sign is None:
            kept.append(word)
        else:
            bottom = max(last.bottom, word.bottom)
            top, sure = min(last.top, word.top), min(last.confidence, word.confidence)
            kept[-1] = Word(last.text + sign, last.left, top, word.right, bottom, sure)
    return kept


def _is_raised(a: Word, b: Word) -> bool:
    tall = a.bottom - a.top
    return (
        len(b.text) <= 3
        and -0.1 * tall < b.left - a.right < 0.1 * tall
        and a.bottom - b.bottom > 0.2 * tall
        and b.top - a.top < 0.1 * tall
        and b.bottom - b.top < 0.92 * tall
    )


def _sign(last: Word, word: Word) -> str | None:
    """Return the raised sign as it is written behind the word; None where it stays apart."""
    if not last.text[-1:].isalpha() and last.text[-1:] != ")":
        return None
    if word.text.isdigit():
        return word.text.translate(_SUPERSCRIPT)
    return word.text if word.text[-1:] in "+-–" else None
