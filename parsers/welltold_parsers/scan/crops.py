"""Cuts the picture of one value out of its page, for a second look and for the eye."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import cv2
import numpy as np
from numpy.typing import NDArray

from welltold_parsers.geometry import Box, Page, Scan, Word

Gray = NDArray[np.uint8]


@lru_cache(maxsize=4)
def _picture(png: bytes) -> Gray:
    coded = np.frombuffer(png, np.uint8)
    return np.asarray(cv2.imdecode(coded, cv2.IMREAD_GRAYSCALE), np.uint8)


def cut(scan: Scan, box: Box) -> Gray:
    """Return the part of a page's picture that a box in points covers; may be empty."""
    picture = _picture(scan.picture)
    left, top, right, bottom = (edge * scan.scale for edge in box)
    rows = slice(max(int(top), 0), max(int(np.ceil(bottom)), 0))
    part = picture[rows, max(int(left), 0) : max(int(np.ceil(right)), 0)]
    return np.ascontiguousarray(part)


def words_in(page: Page, box: Box) -> list[Word]:
    """Return the words of a page whose middle lies in a box, from left to right."""
    left, top, right, bottom = box
    inside = [
        word
        for word in page.words
        if left - 0.5 <= (word.left + word.right) / 2 <= right + 0.5
        and top - 0.5 <= (word.top + word.bottom) / 2 <= bottom + 0.5
    ]
    return sorted(inside, key=lambda word: word.left)


def those_of(words: Sequence[Word], text: str) -> list[Word]:
    """Return the words of a place that give a text; all of them where none do.

    The place of a result in a letter is its whole sentence, which may go over several lines.
    """
    ordered = [word for row in _rows(words) for word in row]
    number = text.split(" ", 1)[0]
    # A number at the end of a line has its unit on the next one.
    texts = (text, number) if any(c.isdigit() for c in number) else (text,)
    found = (_giving(ordered, _bare(one)) for one in texts)
    return next((some for some in found if some), list(words))


def _giving(ordered: list[Word], wanted: str) -> list[Word]:
    """Return the words, in their order, that give a text without its blanks; none where none do."""
    for start in range(len(ordered)):
        told = ""
        for end, word in enumerate(ordered[start:], start + 1):
            told += _bare(word.text)
            if told == wanted:
                return ordered[start:end]
            if not wanted.startswith(told):
                break
    return []


def around(words: Sequence[Word]) -> Box:
    """Return the box round words."""
    return (
        min(word.left for word in words),
        min(word.top for word in words),
        max(word.right for word in words),
        max(word.bottom for word in words),
    )


def _rows(words: Sequence[Word]) -> list[list[Word]]:
    """Return words row by row, each from left to right."""
    rows: list[list[Word]] = []
    for word in sorted(words, key=lambda word: word.top + word.bottom):
        first = rows[-1][0] if rows else None
        if first and word.top + word.bottom < first.top + first.bottom + first.bottom - first.top:
            rows[-1].append(word)
        else:
            rows.append([word])
    return [sorted(row, key=lambda word: word.left) for row in rows]


def _bare(text: str) -> str:
    return "".join(c for c in text.casefold() if c.isalnum() or c in ".<>").strip(".")


def room_round(page: Page, box: Box, much: float) -> Box:
    """Return a box widened to either side, but not into the words beside it.

    ``much`` is a share of the box's height.
    """
    left, top, right, bottom = box
    room = much * (bottom - top)
    middle = (top + bottom) / 2
    row = [word for word in page.words if word.top < middle < word.bottom]
    before = [word.right for word in row if word.right <= left + 1]
    behind = [word.left for word in row if word.left >= right - 1]
    return (
        max(left - room, *before, 0.0) if before else max(left - room, 0.0),
        top,
        min(right + room, *behind, page.width) if behind else min(right + room, page.width),
        bottom,
    )
