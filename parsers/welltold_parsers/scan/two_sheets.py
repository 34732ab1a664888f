"""Notices two sheets on one picture, and sets them one below the other, so that no row mixes them.

Two sheets side by side on the glass have bare paper between them from top to foot, and each of them
tells its own sample; two tables of one sheet do not.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from .detect import Found
from .recognise import Read

Gray = NDArray[np.uint8]
_WIDE = 1.6
"""The paper between two sheets is wider than this many lines are high."""
_INNER = (0.25, 0.75)
"""It lies in this part of the print's width."""
_LEAST = 5
"""Areas of print on either side."""
_TOLD = 2
"""So many of the words below stand on both."""
_OF_A_SHEET = (
    "laborator", "report", "sample", "collected", "received", "client", "customer", "owner",
    "address", "page ", "certif", "analyzed by", "phone",
)  # fmt: skip


def gutter(areas: Sequence[Found], reads: Sequence[Read]) -> float | None:
    """Return the middle of the paper between two sheets, in pixels; None where there is one."""
    if len(areas) < 2 * _LEAST:
        return None
    left, right = min(one.left for one in areas), max(one.right for one in areas)
    least = _WIDE * float(np.median([one.height for one in areas]))
    for start, end in _bare(areas):
        middle = (start + end) / 2
        inner = _INNER[0] < (middle - left) / (right - left) < _INNER[1]
        if inner and end - start > least and _are_two(areas, reads, middle):
            return middle
    return None


def _bare(areas: Sequence[Found]) -> Iterable[tuple[float, float]]:
    """Yield the strips from top to foot that hold no print."""
    reached = min(one.right for one in areas)
    for one in sorted(areas, key=lambda area: area.left):
        if one.left > reached:
            yield reached, one.left
        reached = max(reached, one.right)


def _are_two(areas: Sequence[Found], reads: Sequence[Read], middle: float) -> bool:
    sides: tuple[list[str], list[str]] = ([], [])
    for area, read in zip(areas, reads, strict=True):
        sides[area.left > middle].append(f"{read.text.casefold()} ")
    if min(map(len, sides)) < _LEAST:
        return False
    told = [{w for w in _OF_A_SHEET if any(w in line for line in side)} for side in sides]
    return len(told[0] & told[1]) >= _TOLD


def stacked(picture: Gray, areas: Sequence[Found], middle: float) -> tuple[Gray, list[Found]]:
    """Return the picture with its right part set below its left one, and the areas on it."""
    at, tall = round(middle), picture.shape[0]
    whole = below((picture[:, :at], picture[:, at:]))
    moved = [
        one._replace(
            left=one.left - at, right=one.right - at, top=one.top + tall, bottom=one.bottom + tall
        )
        if one.left > middle
        else one
        for one in areas
    ]
    return whole, moved


def below(parts: Sequence[Gray]) -> Gray:
    """Return pictures one below the other, on white."""
    wide = max(part.shape[1] for part in parts)
    rows = [
        np.pad(part, ((0, 0), (0, wide - part.shape[1])), constant_values=255) for part in parts
    ]
    return np.concatenate(rows)
