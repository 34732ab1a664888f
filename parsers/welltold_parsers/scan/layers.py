"""Compares the hidden text that a scanner put behind its picture with our own reading of it.

Our own reading is used, for it says how sure it is of each letter. Where a number of the hidden
text differs from ours at the same place, the result is doubted and both are shown.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from welltold_parsers.geometry import Page, Questioned, Word

_NUMBER = re.compile(r"[<>≤≥]?\d[\d.,]*")
_NEAR = 0.4
"""Words whose boxes share so much of the smaller one stand at one place."""


def compared(own: Page, hidden: Sequence[Word], width: float) -> Page:
    """Return our own page with doubts where the hidden words say another number.

    ``width`` is that of the page on which the hidden words stand, in points.
    """
    if own.scan is None or not hidden or own.turn:
        return own
    scale = own.width / width
    questioned = (*own.scan.questioned, *_differing(own.words, hidden, scale))
    return replace(own, scan=replace(own.scan, questioned=questioned))


def _differing(words: Sequence[Word], hidden: Sequence[Word], scale: float) -> Iterator[Questioned]:
    numbers = [word for word in hidden if any(c.isdigit() for c in word.text)]
    for word in words:
        if not _NUMBER.fullmatch(word.text):
            continue
        here = [other.text for other in numbers if _shared(word, other, scale) > _NEAR]
        if here and word.text not in here:
            box = (word.left, word.top, word.right, word.bottom)
            yield Questioned(box, "layer_differs", " ".join(here))


def _shared(word: Word, other: Word, scale: float) -> float:
    """Return how much of the smaller of two boxes both cover."""
    across = min(word.right, other.right * scale) - max(word.left, other.left * scale)
    down = min(word.bottom, other.bottom * scale) - max(word.top, other.top * scale)
    if across <= 0 or down <= 0:
        return 0.0
    one = (word.right - word.left) * (word.bottom - word.top)
    two = (other.right - other.left) * (other.bottom - other.top) * scale * scale
    return across * down / max(min(one, two), 0.01)
