"""Tells handwriting from print by its shape: no two figures of a hand are equally high and level.

The reader of print gives a number for handwriting too, now and then with certainty. Figures of
print share their height and their foot; those of a hand do not. Old-style figures, which stand
below the line, are taken for written ones and go to a person too.
"""

from __future__ import annotations

from statistics import pstdev

from .glyphs import Marks, Piece

_UNEVEN = 0.09
"""Spread of the heights or feet of figures, as a share of their height; print stays below,
a fax by little."""
_FEWEST = 3
"""Figures of which the spread tells something."""


def looks_written(marks: Marks, text: str) -> bool:
    """Whether the figures of a number are too uneven for print; ``text`` is what was read."""
    figures = _figures(marks, text)
    return len(figures) >= _FEWEST and unevenness(figures) > _UNEVEN


def unevenness(figures: list[Piece]) -> float:
    """Return how far figures differ in height and foot, in shares of their height."""
    tall = sum(one.height for one in figures) / len(figures)
    heights, feet = [one.height for one in figures], [one.bottom for one in figures]
    return max(pstdev(heights), pstdev(feet)) / max(tall, 1.0)


def _figures(marks: Marks, text: str) -> list[Piece]:
    """Return the pieces of ink that are figures; none where their count is not that of the text."""
    bare = [one for one in text if not one.isspace() and one not in ".,"]
    if len(bare) != len(marks.tall):
        return []
    return [piece for piece, one in zip(marks.tall, bare, strict=True) if one.isdigit()]
