"""One night by the clock: the flow that is needed and the flow that there is, as steps.

Two panels stand one above the other, before and after the change. What the water gets is filled
in grey, what is needed is a dashed line over it; the first short minute has a mark with its clock.
One ink; nothing depends on colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from .ink import letters, opening


@dataclass(frozen=True, slots=True)
class Level:
    """One step; positions in percent of the panel's width and of its highest flow."""

    at: float
    needed: float
    gets: float


@dataclass(frozen=True, slots=True)
class Panel:
    """One night."""

    title: str
    levels: tuple[Level, ...]
    """The last one is the end of the night."""
    top: str
    """The highest flow, in words."""
    clocks: tuple[tuple[float, str], ...]
    short: tuple[float, str] | None
    """Where the first short minute is, and its clock."""


@dataclass(frozen=True, slots=True)
class NightChart:
    """What one picture shows."""

    panels: tuple[Panel, ...]
    legend: tuple[str, str]
    """The words for needed and for what there is."""
    alt: str

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which the letters would be too small to read."""
        return _WIDTH


_WIDTH, _LEFT, _SPAN = 540, 70, 450
_HEAD, _TALL, _PITCH = 42, 80, 142


def night_svg(picture: NightChart, *, width: str = "100%", family: str = "inherit") -> str:
    """Return the picture."""
    height = 26 + _PITCH * len(picture.panels)
    return "".join(
        [
            opening(picture, f'viewBox="0 0 {_WIDTH} {height}"', 13, width=width, family=family),
            *_legend(picture.legend),
            *(
                part
                for number, panel in enumerate(picture.panels)
                for part in _panel(panel, 26 + _PITCH * number)
            ),
            "</svg>",
        ]
    )


def _legend(words: tuple[str, str]) -> list[str]:
    return [
        '<path d="M2 11h24" stroke="currentColor" stroke-width="2" stroke-dasharray="5 3"/>',
        letters(32, 15, words[0]),
        '<rect x="190" y="5" width="24" height="12" fill="currentColor" fill-opacity="0.35" '
        'stroke="currentColor"/>',
        letters(220, 15, words[1]),
    ]


def _panel(panel: Panel, top: int) -> list[str]:
    base = top + _HEAD + _TALL
    gets = _steps([(one.at, one.gets) for one in panel.levels], base)
    needed = _steps([(one.at, one.needed) for one in panel.levels], base)
    right = _LEFT + _SPAN
    return [
        letters(0, top + 16, panel.title, weight="700"),
        letters(0, top + _HEAD + 5, panel.top),
        f'<path d="M{_LEFT} {base}{gets}L{right} {base}Z" fill="currentColor" '
        'fill-opacity="0.35" stroke="currentColor"/>',
        f'<path d="M{_LEFT} {base}{needed}" fill="none" stroke="currentColor" stroke-width="2" '
        'stroke-dasharray="5 3"/>',
        f'<path d="M{_LEFT} {base}H{right}" stroke="currentColor"/>',
        *(letters(round(_x(at) - 17, 1), base + 16, words) for at, words in panel.clocks),
        *_mark(panel, top, base),
    ]


def _steps(levels: Sequence[tuple[float, float]], base: int) -> str:
    """Return a stair: each height holds until the next step."""
    return "".join(
        f"L{_x(at)} {_y(height, base)}H{_x(after)}" for (at, height), (after, _) in pairwise(levels)
    )


def _mark(panel: Panel, top: int, base: int) -> list[str]:
    if panel.short is None:
        return []
    x, head = _x(panel.short[0]), top + _HEAD - 8
    return [
        f'<path d="M{x} {head}V{base}" stroke="currentColor" stroke-width="2.4"/>'
        f'<path d="M{x - 5} {head - 8}h10l-5 8Z" fill="currentColor"/>',
        letters(round(x + 9, 1), head, panel.short[1], weight="700"),
    ]


def _x(percent: float) -> float:
    return round(_LEFT + _SPAN * percent / 100, 1)


def _y(percent: float, base: int) -> float:
    return round(base - _TALL * percent / 100, 1)
