"""Frames as SVG over the picture of a page, in points from the top left of the page."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from html import escape

from .marks import Kind, Mark


@dataclass(frozen=True, slots=True)
class Style:
    """How one kind of mark is drawn; the dash alone tells the frames apart without colour."""

    colour: str
    width: float
    """Points."""
    dash: tuple[float, float] | None = None
    """Points drawn and points left out; None for a line without gaps."""


STYLES: dict[Kind, Style] = {
    "used": Style("#0b57a4", 1.2),
    "look": Style("#b83a00", 1.6, (5, 2.6)),
    "unread": Style("#8a1c7c", 1.8, (1.8, 2.4)),
    "corrected": Style("#17693a", 1.0),
    "limit": Style("#00696e", 1.2),
    "unit": Style("#4a4a4a", 0.7),
    "label": Style("#4a4a4a", 0.7),
}
PAD = 1.5
"""Points between what is framed and its frame."""
TAG = 6.5
"""Height in points of a doubt's number."""
_APART = 0.6
"""Points between two numbers in a row, so that 1 and 2 are no 12."""
_TALLEST = 40.0
"""Points: what was read is seldom taller."""
Box = tuple[float, float, float, float]
Line = tuple[float, float, float, float]


def frame_lines(kind: Kind, box: Box) -> tuple[Line, ...]:
    """Return the straight lines that make the mark of this kind round a box."""
    left, top, right, bottom = box
    if kind in {"label", "unit"}:
        base = bottom + 0.8
        ticks = ((left, base, left, base - 3), (right, base, right, base - 3))
        return ((left, base, right, base), *(ticks if kind == "unit" else ()))
    outer = (left - PAD, top - PAD, right + PAD, bottom + PAD)
    if kind == "limit":
        return _corners(outer)
    if kind == "corrected":
        wide = (outer[0] - 2, outer[1] - 2, outer[2] + 2, outer[3] + 2)
        return (*_sides(outer), *_sides(wide))
    return _sides(outer)


def overlay(marks: Iterable[Mark], *, links: bool = True) -> str:
    """Return the marks of one page as SVG elements."""
    parts = []
    for mark, box, tag in placed(marks):
        style = STYLES[mark.kind]
        dash = f' stroke-dasharray="{style.dash[0]} {style.dash[1]}"' if style.dash else ""
        path = " ".join(
            f"M{a:.1f} {b:.1f}L{c:.1f} {d:.1f}" for a, b, c, d in frame_lines(mark.kind, box)
        )
        drawn = (
            f'<g><title>{escape(mark.title)}</title><path d="{path}" fill="none" '
            f'stroke="{style.colour}" stroke-width="{style.width}"{dash}/>{_tag(mark, tag)}</g>'
        )
        parts.append(_linked(drawn, mark) if links and mark.number else drawn)
    return "\n".join(parts)


def placed(marks: Iterable[Mark]) -> Iterator[tuple[Mark, Box, Box]]:
    """Yield the marks that have a box, with the box of their number.

    A number stands left of its frame, at its top; those of frames on one place stand in a row, in
    their order. Where that would hide a neighbour that was read too, they stand above the frame.
    """
    marks = tuple(marks)
    wide: dict[Box, float] = {}
    for mark in marks:
        if mark.where.box is not None:
            wide[mark.where.box] = wide.get(mark.where.box, 0.0) + _wide(mark)
    starts = _starts(wide)
    for mark in marks:
        box = mark.where.box
        if box is not None:
            left, top = starts[box]
            starts[box] = left + _wide(mark), top
            right = left + _wide(mark) - _APART
            yield mark, box, (left, top, right, top + TAG + 1)


def _starts(wide: Mapping[Box, float]) -> dict[Box, tuple[float, float]]:
    """Return where the row of numbers of each frame begins; ``wide`` is how long it is."""
    boxes = sorted(wide, key=lambda box: box[1])
    tops = [box[1] for box in boxes]
    starts = {}
    for box, long in wide.items():
        left, top = max(box[0] - PAD - long, 0.0), box[1] - PAD - 1
        above = max(box[0] - PAD, 0.0), top - TAG
        near = boxes[bisect_left(tops, top - _TALLEST) : bisect_left(tops, top + TAG + 1)]
        hidden = long > 0 and any(_over(other, (left, top), long) for other in near)
        free = hidden and not any(_over(other, above, long) for other in near)
        starts[box] = above if free else (left, top)
    return starts


def _over(box: Box, at: tuple[float, float], long: float) -> bool:
    """Whether a row of numbers that begins there lies over what was read in this box."""
    left, top = at
    inside = left < box[2] and left + long > box[0]
    return inside and top < box[3] and top + TAG + 1 > box[1] + PAD


def _wide(mark: Mark) -> float:
    """Return how many points the number of a mark is wide, edges and all."""
    return TAG * 0.62 * len(mark.number) + 3 + _APART if mark.number else 0.0


def _tag(mark: Mark, box: Box) -> str:
    if not mark.number:
        return ""
    left, top, right, bottom = box
    return (
        f'<rect x="{left:.1f}" y="{top:.1f}" width="{right - left:.1f}" '
        f'height="{bottom - top:.1f}" fill="{STYLES[mark.kind].colour}"/>'
        f'<text x="{(left + right) / 2:.1f}" y="{bottom - 1.5:.1f}" text-anchor="middle" '
        f'font-size="{TAG}" font-weight="bold" fill="#fff">{escape(mark.number)}</text>'
    )


def _linked(drawn: str, mark: Mark) -> str:
    number = escape(mark.number)
    name = f' id="frame-{number}"' if mark.first else ""
    return f'<a href="#doubt-{number}"{name}>{drawn}</a>'


def _sides(box: Box) -> tuple[Line, ...]:
    left, top, right, bottom = box
    return (
        (left, top, right, top),
        (right, top, right, bottom),
        (right, bottom, left, bottom),
        (left, bottom, left, top),
    )


def _corners(box: Box) -> tuple[Line, ...]:
    left, top, right, bottom = box
    arm = min(3.5, (right - left) / 2, (bottom - top) / 2)
    return tuple(
        line
        for x, inward in ((left, arm), (right, -arm))
        for y, down in ((top, arm), (bottom, -arm))
        for line in ((x, y, x + inward, y), (x, y, x, y + down))
    )
