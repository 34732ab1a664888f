"""Cuts a line that was read into words with boxes.

The network often swallows blanks, and one area of print can hold several columns. So the ink
decides: where the paper between two characters is wider than inside a word, a word ends.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import cv2
import numpy as np
from numpy.typing import NDArray

from .recognise import Letter, Read

Gray = NDArray[np.uint8]
Ints = NDArray[np.intp]
_BLANK = 0.08
"""A blank that the network saw must be so wide, as a share of the area's height."""
_BLANK_NUMBER = 0.16
"""The same inside a number: the narrow 1 stands in a wide place."""
_GAP = 0.22
"""Paper so wide parts a number from letters, whatever the network saw."""
_APART = 0.1
"""So much paper parts letters from ink that is none of the word."""
_HALF = 0.35
"""Half of a letter is no wider."""
_WIDE = 0.42
"""Paper so wide ends any word."""
_WIDE_NUMBER = 0.3
"""Paper so wide parts two numbers: two columns can stand close."""
_SPECKS = frozenset({".", "·", "…", "_"})
_OTHER = 0.15
"""Paper so wide parts the first and the last word of an area from ink that is none of its own."""
_NUMBERED, _NAMED = re.compile(r"\d[A-Z][a-z]"), 4
"""The number of a row with its name right behind it, and the letters of both."""
_SIGN = 0.6
"""A sign stands nearer to its number than this."""
_LEADERS = frozenset(".·…_•")
_IN_NUMBER = frozenset("0123456789.,")
_PLAIN = 24
"""Of 255: a picture that varies less shows nothing."""
_FULL = 0.97
"""Ink over so much of an area's height is a rule: letters leave paper above and below them."""
_FULL_AT_EDGE = 0.6
"""The same at the edge of an area, which cuts rules in half and never a letter."""
_THIN = 0.16
"""Of the height of an area: a rule is no wider."""
_RULED = 12
"""Pixels; in lower areas letters reach from edge to edge."""
_INSET = 0.12
"""The area of print is taller than its letters by this share at either side."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One word of a line; places in pixels of the line's picture."""

    text: str
    left: float
    right: float
    letters: tuple[Letter, ...]


def ink_of(line: Gray) -> NDArray[np.bool_]:
    """Return where a picture of a line holds ink: the rarer of its dark and bright parts."""
    if int(line.max()) - int(line.min()) < _PLAIN:
        return np.zeros(line.shape, np.bool_)
    _, dark = cv2.threshold(line, 0, 255, cv2.THRESH_BINARY_INV | cv2.THRESH_OTSU)
    ink = np.asarray(dark > 0)
    return ~ink if ink.mean() > 0.5 else ink


def pieces_of(line: Gray, read: Read) -> list[Piece]:
    """Return the words of a line from left to right."""
    height, width = line.shape
    letters = [one for one in read.letters if one.text]
    inked = _columns(ink_of(line))
    words: list[list[Letter]] = []
    edges: list[tuple[float, float]] = []
    last: Letter | None = None
    blank = False
    for letter in letters:
        if letter.text == " ":
            blank = True
            continue
        gap = _gap(inked, last.at * width, letter.at * width) if last else None
        if last is None or gap is None or _parts(last, letter, gap, height, blank=blank):
            words.append([letter])
            start = gap[1] if gap else 0.0
            if edges and gap:
                edges[-1] = (edges[-1][0], gap[0])
            edges.append((start, float(width)))
        else:
            words[-1].append(letter)
        last, blank = letter, False
    pieces = _pieces(words, edges, inked)
    told = [part for one in pieces for part in _number_apart(one, inked, height)]
    told = [one for one in told if one.text not in _SPECKS]
    if told:
        told[0] = _without_left(told[0], inked, height)
        told[-1] = _without_right(told[-1], inked, height)
    return [_plain_leader(one) if _is_leader(one.text) else one for one in told]


def _number_apart(piece: Piece, inked: NDArray[np.bool_], height: int) -> Iterator[Piece]:
    """Yield a word; the number of its row by itself, where it stands apart: "1 Infant room".

    The network may place both letters beyond the paper between them.
    """
    if not _NUMBERED.match(piece.text) or len(piece.text) < _NAMED:
        yield piece
        return
    second = round(piece.letters[1].at * len(inked))
    wide = max(_bare(inked, round(piece.left), second), key=lambda r: r[1] - r[0], default=None)
    if wide is None or wide[1] - wide[0] <= _WIDE * height:
        yield piece
        return
    yield Piece(piece.text[0], piece.left, wide[0], piece.letters[:1])
    yield Piece(piece.text[1:], wide[1], piece.right, piece.letters[1:])


def _without_left(piece: Piece, inked: NDArray[np.bool_], height: int) -> Piece:
    """Return the first word of an area without ink that belongs to the column before it."""
    first = round(piece.letters[0].at * len(inked))
    # Before a number the ink may be that of a "<" which was not read: the second look needs it.
    least = (_SIGN if piece.text[0].isdigit() else _OTHER) * height
    wide = (end for start, end in _bare(inked, round(piece.left), first) if end - start > least)
    return replace(piece, left=max(wide, default=piece.left))


def _without_right(piece: Piece, inked: NDArray[np.bool_], height: int) -> Piece:
    """Return the last word of an area without ink that belongs to the column behind it."""
    last = round(piece.letters[-1].at * len(inked))
    bare = _bare(inked, last, round(piece.right))
    right = min(
        (start for start, end in bare if end - start > _OTHER * height), default=piece.right
    )
    return replace(piece, right=right)


def tightened(line: Gray, piece: Piece) -> Piece:
    """Return a word without ink before or behind its letters that was not read, such as a box."""
    height, width = line.shape
    inked = _columns(ink_of(line))
    first, last = (round(one.at * width) for one in (piece.letters[0], piece.letters[-1]))
    left, right = round(piece.left), round(piece.right)
    bare = [run for run in _bare(inked, left, right) if run[1] - run[0] >= _APART * height]
    reach = round(_HALF * height)
    # A check mark that runs into the first letter leaves no paper between them.
    before = max((end for _, end in bare if end <= first), default=left)
    behind = min((start for start, _ in bare if start > last), default=right)
    before = first - reach if first - before > 2 * reach else before
    behind = last + reach if behind - last > 2 * reach else behind
    return Piece(piece.text, before, behind, piece.letters)


def _bare(inked: NDArray[np.bool_], start: int, end: int) -> list[tuple[int, int]]:
    """Return the runs of bare paper between two columns."""
    bare = ~inked[start:end]
    steps = np.flatnonzero(np.diff(np.concatenate(([0], bare.astype(np.int8), [0]))))
    return [(start + one, start + other) for one, other in steps.reshape(-1, 2).tolist()]


def _is_leader(text: str) -> bool:
    """Whether a word is a piece of the dots that lead from a name to its value."""
    return len(text) > 1 and set(text) <= _LEADERS


def _plain_leader(piece: Piece) -> Piece:
    """Return the dots before a value as a text layer has them, whatever they were read as."""
    return Piece("...", piece.left, piece.right, piece.letters)


def _columns(ink: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which columns hold ink, rules above, below and between the print left out."""
    height = ink.shape[0]
    middle = ink[round(height * _INSET) : max(round(height * (1 - _INSET)), 1)]
    long = middle.mean(axis=1) > 0.8 if middle.size else np.zeros(0, np.bool_)
    inked = middle[~long].any(axis=0)
    inked[_upright_rules(ink, inked)] = False
    return np.asarray(inked)


def _upright_rules(ink: NDArray[np.bool_], inked: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Return the columns of rules: narrow runs of ink as high as the area, which no letter is."""
    height, width = ink.shape
    if height < _RULED:
        return np.zeros(0, np.intp)
    high = ink.mean(axis=0)
    rules = [
        np.arange(start, end)
        for start, end in _bare(~inked, 0, width)
        if end - start <= _THIN * height
        and high[start:end].max() > (_FULL_AT_EDGE if start == 0 or end == width else _FULL)
    ]
    return np.concatenate(rules) if rules else np.zeros(0, np.intp)


def _gap(inked: NDArray[np.bool_], left: float, right: float) -> tuple[float, float] | None:
    """Return the widest run of bare paper between two middles; an empty one where there is none."""
    start, end = max(int(left), 0), min(int(np.ceil(right)) + 1, len(inked))
    widest = max(_bare(inked, start, end), key=lambda run: run[1] - run[0], default=None)
    if widest is None:
        middle = (left + right) / 2
        return middle, middle
    return float(widest[0]), float(widest[1])


def _parts(
    last: Letter, letter: Letter, gap: tuple[float, float], height: int, *, blank: bool
) -> bool:
    """Whether a word ends between two letters."""
    wide = (gap[1] - gap[0]) / height
    one, other = last.text in _IN_NUMBER, letter.text in _IN_NUMBER
    if one and other and not (last.text.isdigit() and letter.text.isdigit()):
        return wide > _WIDE  # a typewriter's point stands far from its digits
    if blank:
        return wide > (_BLANK_NUMBER if one and other else _BLANK)
    if one != other:
        return wide > _GAP
    return wide > (_WIDE_NUMBER if one else _WIDE)


def _pieces(
    words: Sequence[list[Letter]],
    edges: Sequence[tuple[float, float]],
    inked: NDArray[np.bool_],
) -> Iterator[Piece]:
    for letters, (start, end) in zip(words, edges, strict=True):
        ink: Ints = np.flatnonzero(inked[int(start) : max(int(np.ceil(end)), int(start) + 1)])
        left = int(start) + (int(ink[0]) if len(ink) else 0)
        right = int(start) + (int(ink[-1]) + 1 if len(ink) else 1)
        yield Piece("".join(one.text for one in letters), left, right, tuple(letters))
