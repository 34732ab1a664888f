"""The treatment stages as a drawn row: boxes in the order of the water, with what leaves each.

Boxes and letters are drawn once, for the HTML page and the PDF. Three boxes stand side by side
on a screen and five on paper; a longer train is parted into even rows. Nothing depends on colour.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from textwrap import wrap
from typing import Literal

from .ink import letters, opening
from .number_line import PRINTED_WIDTH


@dataclass(frozen=True, slots=True)
class Box:
    """One place that the water passes, and the water that leaves it."""

    name: str
    kind: Literal["place", "stage"]
    water: tuple[str, ...]
    """One line for each quantity that is new here."""


@dataclass(frozen=True, slots=True)
class TrainPicture:
    """What one picture of a train shows."""

    boxes: tuple[Box, ...]
    alt: str

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which the letters would be too small to read."""
        return _NARROWEST


_WIDTH, _ACROSS = 408, 3
_NARROWEST = 340
"""CSS pixels; with fewer its letters are too small to read."""
_PAPER_WIDTH, _PAPER_ACROSS = 630, 5
"""On paper the picture is as wide as the text."""
_PITCH, _BOX = 126, 105
_LINE, _LETTERS, _GAP = 16, 14, 14
_TURN = 26
"""Room between two rows for the arrow that leads from the end of one to the start of the next."""
_SIZE = 13
_WATER_LETTERS = 20


def train_svg(
    picture: TrainPicture, uid: str, *, width: str = "100%", family: str = "inherit"
) -> str:
    """Return the picture; ``uid`` makes the arrow's id unique on the page."""
    whole, most = _WIDTH, _ACROSS
    if width == PRINTED_WIDTH:
        whole, most = _PAPER_WIDTH, _PAPER_ACROSS
        width = str(whole)
    lines = ceil(len(picture.boxes) / most)
    across = ceil(len(picture.boxes) / lines)
    rows = [picture.boxes[at : at + across] for at in range(0, len(picture.boxes), across)]
    parts, top = [], 4
    for number, row in enumerate(rows):
        tall = _LINE * max(len(_name(box)) for box in row) + 20
        for at, box in enumerate(row):
            parts += _box(box, at, top, tall)
            parts += [] if at == len(row) - 1 else _arrow(at, top + tall / 2, uid)
        bottom = top + tall + _LINE * max(len(_water(box)) for box in row)
        if number < len(rows) - 1:
            parts += _turn(len(row) - 1, top + tall / 2, bottom + _TURN, whole, uid)
            bottom += _TURN
        top = bottom + (_GAP if number == len(rows) - 1 else 0)
    return "".join(
        [
            opening(picture, f'viewBox="0 0 {whole} {top}"', _SIZE, width=width, family=family),
            f'<defs><marker id="{uid}" viewBox="0 0 8 8" refX="7" refY="4" markerWidth="8" '
            'markerHeight="8" orient="auto"><path d="M0 0L8 4L0 8Z" fill="currentColor"/>'
            "</marker></defs>",
            *parts,
            "</svg>",
        ]
    )


def _name(box: Box) -> list[str]:
    return wrap(box.name, _LETTERS)


def _water(box: Box) -> list[str]:
    return [line for text in box.water for line in wrap(text, _WATER_LETTERS)]


def _box(box: Box, at: int, top: int, tall: int) -> list[str]:
    left = round(at * _PITCH + 1.5, 1)
    middle = left + _BOX / 2
    name = _name(box)
    radius, weight = ("24", "400") if box.kind == "place" else ("3", "700")
    first = top + tall / 2 + 4.5 - _LINE * (len(name) - 1) / 2
    return [
        f'<rect x="{left}" y="{top}" width="{_BOX}" height="{tall}" rx="{radius}" '
        'fill="none" stroke="currentColor" stroke-width="1.6"/>',
        *(
            letters(round(middle, 1), round(first + _LINE * line, 1), text, "middle", weight)
            for line, text in enumerate(name)
        ),
        *(
            letters(round(left + 2, 1), top + tall + _LINE * (line + 1), text, "start", "400")
            for line, text in enumerate(_water(box))
        ),
    ]


def _arrow(at: int, y: float, uid: str) -> list[str]:
    """Return the arrow to the next box."""
    start = round(at * _PITCH + 1.5 + _BOX, 1)
    end = round((at + 1) * _PITCH + 0.5, 1)
    return [_path(f"M{start} {y}H{end}", uid)]


def _turn(at: int, y: float, below: float, whole: int, uid: str) -> list[str]:
    """Return the arrow from the last box of a row, under its water, to the next row's first box."""
    start = round(at * _PITCH + 1.5 + _BOX, 1)
    aside, first = round(min(start + _TURN, whole - 3), 1), round(1.5 + _BOX / 2, 1)
    return [_path(f"M{start} {y}H{aside}V{round(below - _TURN / 2, 1)}H{first}V{below - 1}", uid)]


def _path(way: str, uid: str) -> str:
    return (
        f'<path d="{way}" fill="none" stroke="currentColor" stroke-width="1.6" '
        f'marker-end="url(#{uid})"/>'
    )
