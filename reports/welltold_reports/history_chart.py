"""One picture of an analyte over time: a column for each sample, the oldest at left.

Linear, zero at the bottom, so that height compares. What was not found is an open bar up to the
limit of the test, never a dot at zero. The level is a line across. One ink; nothing depends on
colour. It is drawn once, for the HTML page and the PDF.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import Literal

from .ink import hatching, letters, opening

ColumnMark = Literal["dot", "up_to", "from", "beyond"]
"""``beyond``: higher than the picture; its number stands below it all the same."""


@dataclass(frozen=True, slots=True)
class Column:
    """One sample's result."""

    mark: ColumnMark
    at: float
    """Percent of the height, from the bottom."""
    value: str
    day: str
    now: bool
    """Whether it is the result of this sheet."""


@dataclass(frozen=True, slots=True)
class Across:
    """A level, as a line across the picture."""

    at: float
    dashed: bool


@dataclass(frozen=True, slots=True)
class HistoryChart:
    """What one picture shows."""

    columns: tuple[Column, ...]
    levels: tuple[Across, ...]
    legend: str
    """What the lines across mean, "" where there is none."""
    ends: tuple[str, str]
    """The numbers at the bottom and at the top."""
    alt: str

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which labels would touch each other."""
        return max(_WIDTH * len(self.columns), round(len(self.legend) * _LETTER) + 40)


MOST = 7
"""Samples in one picture, so that their days fit side by side."""
_WIDTH, _LETTER = 76, 7.2
_TOP, _BOTTOM, _HEIGHT = 38, 138, 182
_LEFT, _SPAN = 7.0, 93.0


def history_svg(
    chart: HistoryChart, uid: str, *, width: str = "100%", family: str = "inherit"
) -> str:
    """Return the picture. ``uid`` makes its pattern's id unique on the page."""
    return "".join(
        [
            opening(chart, f'height="{_HEIGHT}"', 14, width=width, family=family),
            hatching(uid),
            *_legend(chart),
            _line(_LEFT, 100, _BOTTOM, 1.4),
            letters("0.5%", _BOTTOM + 4, chart.ends[0], "start"),
            letters("0.5%", _TOP + 4, chart.ends[1], "start"),
            *(_line(_LEFT, 100, _y(one.at), 2, dashed=one.dashed) for one in chart.levels),
            *(part for at in range(len(chart.columns)) for part in _column(chart, at, uid)),
            "</svg>",
        ]
    )


def _legend(chart: HistoryChart) -> list[str]:
    """Return what the lines across mean, above the picture."""
    if not chart.legend:
        return []
    dash = ' stroke-dasharray="4 3"' if chart.levels[0].dashed else ""
    key = f'<path d="M2 10h24" stroke="currentColor" stroke-width="2"{dash}/>'
    return [key, f'<text x="32" y="15" fill="currentColor">{escape(chart.legend)}</text>']


def _y(at: float) -> float:
    return round(_BOTTOM - (_BOTTOM - _TOP) * at / 100, 1)


def _line(x1: float, x2: float, y: float, width: float, *, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="4 3"' if dashed else ""
    return (
        f'<line x1="{x1}%" x2="{x2}%" y1="{y}" y2="{y}" stroke="currentColor" '
        f'stroke-width="{width}"{dash}/>'
    )


def _column(chart: HistoryChart, at: int, uid: str) -> list[str]:
    """Return one sample: its mark, with its value and its day below, clear of the level."""
    column = chart.columns[at]
    x = round(_LEFT + _SPAN * (at + 0.5) / len(chart.columns), 2)
    weight = "700" if column.now else "400"
    return [
        *_mark(column, x, uid),
        letters(f"{x}%", _BOTTOM + 19, column.value, "middle", weight),
        letters(f"{x}%", _BOTTOM + 37, column.day, "middle", weight),
    ]


def _mark(column: Column, x: float, uid: str) -> list[str]:
    y = _y(column.at)
    if column.mark == "dot":
        return [
            f'<line x1="{x}%" x2="{x}%" y1="{_BOTTOM}" y2="{y}" stroke="currentColor" '
            'stroke-width="1.4"/>',
            f'<circle cx="{x}%" cy="{y}" r="6" fill="currentColor"/>',
        ]
    if column.mark == "beyond":
        return [
            f'<line x1="{x}%" x2="{x}%" y1="{_BOTTOM}" y2="{_TOP + 4}" stroke="currentColor" '
            'stroke-width="1.4"/>',
            f'<svg x="{x}%" y="{_TOP}" overflow="visible"><path d="M-8 26l16 -5M-8 32l16 -5" '
            'stroke="currentColor" stroke-width="2" fill="none"/><path d="M-7 12L0 -4L7 12Z" '
            'fill="currentColor"/></svg>',
        ]
    top, bottom = (y, _BOTTOM) if column.mark == "up_to" else (_TOP, y)
    return [
        f'<svg x="{x}%" y="{top}" overflow="visible"><rect x="-8" y="0" width="16" '
        f'height="{round(bottom - top, 1)}" fill="url(#{uid})" stroke="currentColor" '
        'stroke-width="1.2" stroke-dasharray="5 3"/></svg>'
    ]
