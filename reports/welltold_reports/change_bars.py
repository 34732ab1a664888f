"""Before and after the stages: two bars for each quantity that matters, from zero, linear.

What the water has is a grey bar; what is expected is open and hatched up to the most that can be
left. The goal is a line across both. One ink; nothing depends on colour.
"""

from __future__ import annotations

from dataclasses import dataclass

from .ink import hatching, letters, opening
from .number_line import PRINTED_WIDTH


@dataclass(frozen=True, slots=True)
class Change:
    """One quantity; positions in percent of the widest bar."""

    name: str
    before: float
    before_words: str
    after: tuple[float, float]
    """The least and the most that is expected."""
    after_words: str
    goal: float | None
    where: str
    """The words for after: of this quantity at one tap only, or in the whole house."""


@dataclass(frozen=True, slots=True)
class ChangeBars:
    """What one picture shows."""

    changes: tuple[Change, ...]
    head: str
    """The word for before."""
    goal_words: str
    """What the line across means, "" where there is none."""
    alt: str

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which the letters would be too small to read."""
        return _NARROWEST


_WIDTH, _PAPER_WIDTH = 410, 540
_NARROWEST = 340
"""CSS pixels; with fewer its letters are too small to read."""
_LEFT, _SPAN, _PAPER_SPAN, _BAR, _BLOCK = 104, 158, 270, 12, 56
_LETTER = 6.6
"""Width of a letter, about."""


def bars_svg(picture: ChangeBars, uid: str, *, width: str = "100%", family: str = "inherit") -> str:
    """Return the picture; ``uid`` makes its pattern's id unique on the page."""
    whole, span = (_WIDTH, _SPAN) if width != PRINTED_WIDTH else (_PAPER_WIDTH, _PAPER_SPAN)
    legend = 22 if picture.goal_words else 2
    height = legend + _BLOCK * len(picture.changes)
    return "".join(
        [
            opening(picture, f'viewBox="0 0 {whole} {height}"', 13, width=width, family=family),
            hatching(uid),
            *_legend(picture.goal_words),
            *(
                part
                for at, change in enumerate(picture.changes)
                for part in _change(change, picture.head, legend + _BLOCK * at, span, uid)
            ),
            "</svg>",
        ]
    )


def _legend(words: str) -> list[str]:
    if not words:
        return []
    return ['<path d="M6 4v13" stroke="currentColor" stroke-width="2.4"/>', letters(16, 15, words)]


def _change(change: Change, head: str, top: int, span: int, uid: str) -> list[str]:
    before, after = top + 18, top + 18 + _BAR + 6
    least, most = (_LEFT + span * at / 100 for at in change.after)
    right = round(_LEFT + span * change.before / 100 + 8, 1)
    goal = None if change.goal is None else round(_LEFT + span * change.goal / 100, 1)
    parts = [
        letters(0, top + 12, change.name, weight="700"),
        letters(10, before + 11, head),
        f'<rect x="{_LEFT}" y="{before}" width="{max(right - 8 - _LEFT, 1):.1f}" height="{_BAR}" '
        'fill="currentColor" fill-opacity="0.45" stroke="currentColor"/>',
        letters(_beside(right - 8, goal, change.before_words), before + 11, change.before_words),
        letters(10, after + 11, change.where),
        f'<rect x="{_LEFT}" y="{after}" width="{max(most - _LEFT, 1):.1f}" height="{_BAR}" '
        f'fill="url(#{uid})" stroke="currentColor" stroke-width="1.2" stroke-dasharray="5 3"/>',
        f'<rect x="{_LEFT}" y="{after}" width="{max(least - _LEFT, 0):.1f}" height="{_BAR}" '
        'fill="none" stroke="currentColor" stroke-width="1.6"/>',
        letters(_beside(most, goal, change.after_words), after + 11, change.after_words),
    ]
    if goal is not None:
        parts.append(
            f'<path d="M{goal} {before - 4}V{after + _BAR + 4}" stroke="currentColor" '
            'stroke-width="2.4"/>'
        )
    return parts


def _beside(end: float, goal: float | None, words: str) -> float:
    """Return where the words of a bar begin: behind its end, and never across the goal's line."""
    start = end + 8
    if goal is not None and end < goal < start + _LETTER * len(words):
        start = goal + 8
    return round(start, 1)
