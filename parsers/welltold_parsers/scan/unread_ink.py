"""Tells ink in a column of values that nothing has read: a value may be lost there.

The network that finds print overlooks a line now and then, or takes a short number for none. Where
a column is full above and below, figures that stand in no word are told, with their place.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import median
from typing import NamedTuple

import cv2
import numpy as np

from welltold.messages import say
from welltold.reading import Reading, Unread, Where
from welltold_parsers.geometry import Box, Page, Word

from .crops import around, cut
from .words import ink_of

_LEAST = 4
"""So many values make a column."""
_HIGH = (0.42, 1.3)
"""Heights of a figure, in heights of a value's box."""
_WIDE = (0.18, 1.6)
"""Widths of the same; thinner ones are rules."""
_ROW = 0.5
"""Pieces whose middles lie so near stand on one row."""
_MARGIN = 0.25
"""Ink so near to a word is the word's."""
_MOST = 6
"""A column with more such places is no column of print; nothing is said of it."""


class Column(NamedTuple):
    """Values that stand one above the other on a page."""

    box: Box
    height: float


def unread_ink(reading: Reading, pages: Sequence[Page]) -> tuple[Unread, ...]:
    """Return an entry for each place in a column of values whose ink belongs to no word."""
    told: list[Unread] = []
    for page in pages:
        if page.scan is None or not page.scan.picture:
            continue
        known = [one.where.box for one in reading.unread if one.where.box is not None]
        for column in _columns(reading, page.number):
            places = [box for box in _places(page, column) if not _covered(box, known)]
            told += [_unread(page, box) for box in places] if len(places) <= _MOST else []
            known += places
    return tuple(told)


def _unread(page: Page, box: Box) -> Unread:
    middle = (box[1] + box[3]) / 2
    row = [word for word in page.words if word.top < middle < word.bottom]
    text = " ".join(word.text for word in sorted(row, key=lambda word: word.left))
    return Unread(text or "?", Where("value", page.number, None, box), say("scan.ink_unread"))


def _columns(reading: Reading, number: int) -> Iterator[Column]:
    """Yield the columns of values of a page."""
    boxes = {
        place.box
        for result in reading.results
        for place in result.where
        if place.of == "value" and place.page == number and place.box is not None
    }
    groups: list[list[Box]] = []
    for box in sorted(boxes):
        if groups and box[0] < max(other[2] for other in groups[-1]):
            groups[-1].append(box)
        else:
            groups.append([box])
    for group in groups:
        if len(group) >= _LEAST:
            left, top = min(one[0] for one in group), min(one[1] for one in group)
            right, bottom = max(one[2] for one in group), max(one[3] for one in group)
            yield Column((left, top, right, bottom), median(one[3] - one[1] for one in group))


def _places(page: Page, column: Column) -> Iterator[Box]:
    """Yield the boxes of figures in a column that stand in no word, row by row."""
    pieces = [one for one in _pieces(page, column) if not _in_words(one, page.words)]
    rows: list[list[Box]] = []
    for piece in sorted(pieces, key=lambda one: one[1] + one[3]):
        last = rows[-1][-1] if rows else None
        if last and (piece[1] + piece[3] - last[1] - last[3]) / 2 < _ROW * column.height:
            rows[-1].append(piece)
        else:
            rows.append([piece])
    for row in rows:
        yield (
            min(one[0] for one in row),
            min(one[1] for one in row),
            max(one[2] for one in row),
            max(one[3] for one in row),
        )


def _pieces(page: Page, column: Column) -> Iterator[Box]:
    """Yield the pieces of ink in a column that are as large as figures, in points."""
    if page.scan is None:
        return
    part, scale = cut(page.scan, column.box), page.scan.scale
    if not part.size:
        return
    ink = ink_of(part).astype(np.uint8)
    count, _, boxes, _ = cv2.connectedComponentsWithStats(ink, connectivity=8)
    left, top = (int(edge * scale) for edge in column.box[:2])
    for x, y, wide, high, _ in boxes[1:count].tolist():
        across, down = wide / scale / column.height, high / scale / column.height
        if _HIGH[0] < down < _HIGH[1] and _WIDE[0] < across < _WIDE[1]:
            yield (
                (left + x) / scale,
                (top + y) / scale,
                (left + x + wide) / scale,
                (top + y + high) / scale,
            )


def _in_words(piece: Box, words: Sequence[Word]) -> bool:
    return any(_covers(around([word]), piece) for word in words)


def _covered(box: Box, others: Sequence[Box]) -> bool:
    return any(_covers(other, box) for other in others)


def _covers(box: Box, piece: Box) -> bool:
    """Whether a piece touches a box, or nearly."""
    room = _MARGIN * (box[3] - box[1])
    across = min(box[2] + room, piece[2]) - max(box[0] - room, piece[0])
    down = min(box[3] + room, piece[3]) - max(box[1] - room, piece[1])
    return across > 0 and down > 0.3 * (piece[3] - piece[1])
