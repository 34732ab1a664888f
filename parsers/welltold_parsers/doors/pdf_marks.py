"""Raised small characters behind a number: a footnote mark is no digit of it.

"10.2" with a raised "1" behind it comes from the text layer as "10.21", a wrong number without a
trace. Such a mark becomes a word of its own, written in superscript characters ("¹") so that
whoever reads it knows what it was. A power of ten becomes "10^-3".
"""

from __future__ import annotations

import numpy as np

from welltold_parsers.doors.pdf_letters import Flags, Floats, Letters
from welltold_parsers.doors.raised import behind_number, superscript
from welltold_parsers.geometry import Word

_SMALLER = 0.88
"""A mark is at most this share of the number's height."""
_RAISED = 0.2
"""And its foot stands higher by this share of the number's height. Smaller type on the same line
stays below that: its foot rises by no more than the depth of the larger type's."""
_NEAR = 0.5
"""A mark set apart stands no farther off than this share of the number's height."""
_LONGEST = 4


def cut_marks(letters: Letters, begins: Flags) -> set[int]:
    """Begin a word at raised small characters beside a digit; return where marks begin.

    ``begins`` is changed in place. Marks beside letters stay as they are: charges, isotopes and
    units are written so.
    """
    if len(letters) < 2:
        return set()
    height, foot = letters.bottom - letters.top, letters.bottom
    inside = ~begins[1:]
    up = inside & (height[1:] < _SMALLER * height[:-1])
    up &= foot[1:] < foot[:-1] - _RAISED * height[:-1]
    down = inside & (height[:-1] < _SMALLER * height[1:])
    down &= foot[:-1] < foot[1:] - _RAISED * height[1:]
    digit = (letters.units >= ord("0")) & (letters.units <= ord("9"))
    marks: set[int] = set()
    for before in np.flatnonzero(up & digit[:-1]).tolist():
        begins[before + 1] = True
        marks.add(before + 1)
    for before in np.flatnonzero(down & digit[1:]).tolist():
        begins[before + 1] = True
        start = int(np.flatnonzero(begins[: before + 1])[-1])
        if height[start] < _SMALLER * height[before + 1]:
            marks.add(start)
    return marks


def marks_apart(words: list[Word], boxes: Floats) -> set[int]:
    """Return the places of words that are raised marks set apart from the number before them.

    ``boxes``: left, top, right, bottom of each word.
    """
    left, top, right, bottom = boxes.T
    height = (bottom - top)[:-1]
    gap = left[1:] - right[:-1]
    raised = (
        ((bottom - top)[1:] < _SMALLER * height)
        & (bottom[1:] < bottom[:-1] - _RAISED * height)
        & (bottom[1:] > top[:-1])
        & (-_RAISED * height < gap)
        & (gap < _NEAR * height)
    )
    return {
        before + 1
        for before in np.flatnonzero(raised).tolist()
        if words[before].text[-1].isdecimal() and len(words[before + 1].text) <= _LONGEST
    }


def tell_marks(words: list[Word], marks: set[int]) -> list[Word]:
    """Write the words at ``marks`` as powers of ten, or else in superscript characters."""
    done: list[Word] = []
    for place, word in enumerate(words):
        if place not in marks:
            done.append(word)
            continue
        base = done[-1] if done else None
        before = done[-2].text if len(done) > 1 else ""
        power = behind_number(before, base.text, word.text) if base else None
        if base is None or power is None:
            text = superscript(word.text)
            done.append(Word(text, word.left, word.top, word.right, word.bottom, word.confidence))
        else:
            top = min(base.top, word.top)
            done[-1] = Word(power, base.left, top, word.right, base.bottom, base.confidence)
    return done
