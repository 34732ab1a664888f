"""Looks at the ink of a number itself: how many marks there are, and whether points are lost.

The network that reads lines learned what numbers look like, and may leave out a pale point or a
sign. This check knows no letters: it counts pieces of ink, their height and what lies between them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

Gray = NDArray[np.uint8]
_UP = 3
"""The picture of a number is enlarged so many times before its ink is cut out."""
_TALL = 0.55
"""Of the height of digits: a piece of ink that is taller is a digit, a letter or a sign."""
_POINT_HIGH, _POINT_LOW = 0.48, 0.05
"""Of the same: the height of a point or comma; one that was read may be so small."""
_POINT_PLAIN = 0.11
"""Of the same: one that was not read counts from here on; smaller ones may be specks."""
_POINT_WIDE = 0.42
_RULE_HIGH, _RULE_WIDE = 1.15, 0.3
"""Of the same: pieces so high and no wider are parts of a broken rule."""
_THROUGH = 1.4
"""Of the same: pieces from edge to edge of the picture that are so high are no figures."""
_SLIVER = 0.2
"""Of the same: at the side of the picture, pieces no wider are cut from what stands beside it."""
_STEP = 0.24
"""Digits farther apart than usual by this share of their height may have lost a point."""
_PLAIN = 24
_SIGN_WIDE, _SIGN_APART, _SIGN_APART_BROKEN = 0.3, 0.2, 0.4
"""Of the height of digits: the width of a sign, and the least blank behind it; that where figures
are broken."""
_POINTS = ".,"


@dataclass(frozen=True, slots=True)
class Piece:
    """One mark of ink, with everything above and below it; places in pixels, enlarged."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def height(self) -> int:
        """Pixels, enlarged."""
        return self.bottom - self.top

    @property
    def middle(self) -> float:
        """Across."""
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Marks:
    """What the ink of one number consists of, from left to right."""

    tall: tuple[Piece, ...]
    points: tuple[Piece, ...]
    digit: float
    """Height of its digits, in pixels, enlarged."""

    def points_after(self, least: float = 0.0) -> tuple[int, ...]:
        """Return for each point how many tall marks stand before it, those behind all left out.

        Points lower than ``least`` heights of a digit are left out too.
        """
        kept = [one for one in self.points if one.height >= least * self.digit]
        places = (sum(t.middle < p.middle for t in self.tall) for p in kept)
        return tuple(place for place in places if place < len(self.tall))

    def steps(self) -> list[float]:
        """Return from middle to middle of neighbouring tall marks, in heights of a digit."""
        pairs = zip(self.tall, self.tall[1:], strict=False)
        return [(b.middle - a.middle) / self.digit for a, b in pairs]


def marks_of(picture: Gray) -> Marks | None:
    """Return the marks of ink on the picture of a number; None where there are none."""
    if not picture.size or int(picture.max()) - int(picture.min()) < _PLAIN:
        return None
    large = cv2.resize(picture, None, fx=_UP, fy=_UP, interpolation=cv2.INTER_CUBIC)
    _, ink = cv2.threshold(large, 0, 255, cv2.THRESH_BINARY_INV | cv2.THRESH_OTSU)
    if ink.mean() > 128:
        ink = cv2.bitwise_not(ink)
    pieces = _joined(_pieces(ink))
    if not pieces:
        return None
    digit = float(np.median(_tallest([one.height for one in pieces])))
    high, wide = ink.shape[:2]
    pieces = [
        one for one in pieces if not _is_rule(one, digit, high) and not _is_cut(one, digit, wide)
    ]
    foot = float(np.median([one.bottom for one in pieces if one.height > _TALL * digit] or [0]))
    tall = tuple(one for one in pieces if one.height > _TALL * digit)
    points = tuple(one for one in pieces if _is_point(one, digit, foot))
    return Marks(tall, points, digit)


def _tallest(heights: Sequence[int]) -> list[int]:
    """Return the heights that are at least half of the greatest: those of digits."""
    return [one for one in heights if 2 * one >= max(heights)]


def _pieces(ink: NDArray[np.uint8] | cv2.typing.MatLike) -> list[Piece]:
    """Return the connected pieces of ink, without rules and specks."""
    count, _, boxes, _ = cv2.connectedComponentsWithStats(np.asarray(ink, np.uint8), connectivity=8)
    tall, wide = ink.shape[:2]
    found = []
    for left, top, across, down, area in boxes[1:count].tolist():
        if area < 9 or (down > 0.9 * tall and across < 0.15 * tall) or across > 0.95 * wide:
            continue
        found.append(Piece(left, top, left + across, top + down))
    return found


def _joined(pieces: Sequence[Piece]) -> list[Piece]:
    """Join pieces that stand one above the other, as a broken digit does."""
    joined: list[Piece] = []
    for one in sorted(pieces, key=lambda p: p.left):
        last = joined[-1] if joined else None
        if last and one.middle < last.right and one.left < last.right - 1:
            joined[-1] = Piece(
                last.left,
                min(last.top, one.top),
                max(last.right, one.right),
                max(last.bottom, one.bottom),
            )
        else:
            joined.append(one)
    return joined


def _is_rule(one: Piece, digit: float, high: int) -> bool:
    """Whether a piece is a part of a rule between columns: higher than a 1, and as thin.

    One as high as the whole picture may be thicker.
    """
    wide = one.right - one.left
    if one.top == 0 and one.bottom >= high - 1 and one.height > _THROUGH * digit:
        return wide < 2 * _RULE_WIDE * digit
    thin = wide < _RULE_WIDE * digit
    return thin and (one.height > _RULE_HIGH * digit or (one.top == 0 and one.height > digit))


def _is_cut(one: Piece, digit: float, wide: int) -> bool:
    """Whether a piece is the edge of what stands beside the number."""
    at_side = one.left <= _UP or one.right >= wide - _UP
    return at_side and one.right - one.left < _SLIVER * digit


def _is_point(one: Piece, digit: float, foot: float) -> bool:
    high, wide = one.height / digit, (one.right - one.left) / digit
    low = one.top > foot - 0.5 * digit
    return low and _POINT_LOW < high < _POINT_HIGH and wide < _POINT_WIDE


def points_doubtful(marks: Marks, text: str, usual: float | None) -> bool:
    """Whether the ink of a number shows other points than its text, or a gap where one was.

    ``usual`` is how far apart digits stand on these pages, in heights of a digit.
    """
    expected = expected_points(text)
    bare = [one for one in text if not one.isspace() and one not in _POINTS]
    small, plain = marks.points_after(), marks.points_after(_POINT_PLAIN)
    if len(bare) != len(marks.tall):
        return not len(plain) <= len(expected) <= len(small)
    if not set(plain) <= set(expected) <= set(small):
        return True
    return usual is not None and any(
        step > usual + _STEP
        and at not in expected
        and bare[at - 1].isdigit()
        and bare[at].isdigit()
        for at, step in enumerate(marks.steps(), 1)
    )


def sign_lost(marks: Marks, text: str) -> bool:
    """Whether a mark as high as a "<" stands before a number that was read without a sign.

    A blank stands between, so that the mark is none of the number's own figures. Figures that a
    fax broke in pieces count for more than they are; then the blank must be wider.
    """
    bare = [one for one in text if not one.isspace() and one not in _POINTS]
    if not bare or not bare[0].isdigit() or len(marks.tall) <= len(bare):
        return False
    first, second = marks.tall[:2]
    if any(first.middle < point.middle < second.middle for point in marks.points):
        return False  # behind a sign stands no point: these are figures of the number
    wide, gap = first.right - first.left, second.left - first.right
    least = _SIGN_APART if len(marks.tall) == len(bare) + 1 else _SIGN_APART_BROKEN
    return wide > _SIGN_WIDE * marks.digit and gap > least * marks.digit


def expected_points(text: str) -> tuple[int, ...]:
    """Return for each point or comma of a text how many other marks stand before it."""
    bare = [one for one in text if not one.isspace()]
    return tuple(
        sum(other not in _POINTS for other in bare[:at])
        for at, one in enumerate(bare)
        if one in _POINTS
    )
