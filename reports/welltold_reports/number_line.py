"""One number line for every analyte, as an SVG picture with its text alternative.

Linear, zero at left, the main health level in the middle, twice that level at the right end, so
that left of the middle always means below the level. Positions along the line are percentages:
the picture grows and shrinks with the page while its letters stay as large as the text around it.
Nothing on it depends on colour: above the level is hatched, and says "above".
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import Literal

from .ink import hatching, letters, opening

Mark = Literal["dot", "about", "up_to", "from", "beyond"]
"""``dot``: a measured value. ``about``: estimated. ``up_to``: not found, a bar to the limit.
``from``: more than the value. ``beyond``: measured, past the right end."""


@dataclass(frozen=True, slots=True)
class Tick:
    """One level on the line."""

    at: float
    """Percent of the line, from the left."""
    label: str
    main: bool
    dashed: bool = False
    """A level for taste and stains, not for health."""


@dataclass(frozen=True, slots=True)
class NumberLine:
    """What one number line shows; positions in percent of the line."""

    mark: Mark
    at: float
    label: str
    """"Your water: 16 µg/L"."""
    ticks: tuple[Tick, ...]
    hatched: tuple[tuple[float, float, str], ...]
    """Stretches outside the level, each with its word."""
    ends: tuple[str, str]
    whisker: tuple[float, float] | None
    alt: str

    def height(self, *, wide: bool) -> int:
        """Return the height of the picture in CSS pixels."""
        rows = (row for row, _ in _tick_rows(self, wide=wide))
        return 66 + _ROW * max(_zone_row(self, wide=wide), *rows)

    @property
    def needs(self) -> int:
        """Width in CSS pixels below which a label would leave the picture."""
        needed = [_room(_x(self.at), _anchor(self.at), len(self.label))]
        needed += [_room(*_place(tick, self.ticks), len(tick.label)) for tick in self.ticks]
        return max(needed)


NARROW = 240
"""Width in CSS pixels of a picture on the narrowest phone."""
_PHONE = 310
"""The same on a usual one: a label that would need more is moved along its row."""
_ABOVE = 80
"""Where the middle of the word "above" stands, in percent of the line."""
PRINTED_WIDTH = "540"
"""Width of a picture on paper, in the unit in which its letters are 14 high."""
_LEFT, _SPAN = 2.0, 96.0
_AXIS = 34
_ROW = 17
"""Height of a row of labels."""
LONG_LABEL = 14
"""A label of more letters takes the room of the word "above" beside it."""
LETTER = 7.2
"""Width of a letter in the fonts that a browser may take, at the size of the labels."""
_ANCHORS = ((35.0, "start"), (65.0, "middle"), (101.0, "end"))


def svg(line: NumberLine, uid: str, *, width: str = "100%", family: str = "inherit") -> str:
    """Return the picture. ``uid`` makes its pattern's id unique on the page."""
    wide = width == PRINTED_WIDTH
    parts = [
        opening(line, f'height="{line.height(wide=wide)}"', 14, width=width, family=family),
        hatching(uid),
        *(_zone(zone, uid, line, wide=wide) for zone in line.hatched),
        _stroke(_LEFT, _LEFT + _SPAN, 1.4),
        *(_tick(tick, row, line.ticks) for row, tick in _tick_rows(line, wide=wide)),
        letters(f"{_LEFT}%", 58, line.ends[0], "start"),
        letters(f"{_LEFT + _SPAN}%", 58, line.ends[1], "end"),
        *_value(line, uid),
        "</svg>",
    ]
    return "".join(parts)


def _x(at: float) -> float:
    """Return the percentage of the picture's width for a percentage of the line."""
    return round(_LEFT + _SPAN * at / 100, 2)


def _anchor(at: float) -> str:
    return next(anchor for edge, anchor in _ANCHORS if at < edge)


def _stroke(x1: float, x2: float, width: float, y: int = _AXIS) -> str:
    return (
        f'<line x1="{x1}%" x2="{x2}%" y1="{y}" y2="{y}" stroke="currentColor" '
        f'stroke-width="{width}"/>'
    )


def _zone_row(line: NumberLine, *, wide: bool) -> int:
    """Return the row for the word "above": a row of its own where the first one is full."""
    ticks = line.ticks
    if _first_row(line, wide=wide) or (wide and _beside_the_end(line)):
        return 0
    others = sum(not tick.main for tick in ticks)
    main = max((len(tick.label) for tick in ticks if tick.main), default=0)
    if not main or (main <= LONG_LABEL and not others):
        return 0
    left = all(tick.main or _left_of_above(tick) for tick in ticks)
    return 1 if left else others + 1


def _left_of_above(tick: Tick) -> bool:
    """Whether a label ends before the word "above" on the narrowest screen."""
    at, anchor = _place(tick, (tick,))
    begins, above = (x * NARROW / 100 for x in (at, _x(_ABOVE)))
    share = {"start": 1.0, "middle": 0.5, "end": 0.0}[anchor]
    return begins + share * len(tick.label) * LETTER < above - 4 * LETTER


def _beside_the_end(line: NumberLine) -> bool:
    """Whether the word "above" has room between the main level's label and the end's number."""
    main = next((tick for tick in line.ticks if tick.main and tick.label), None)
    if main is None or len(line.hatched) != 1:
        return False
    at, anchor = _place(main, line.ticks)
    taken = at + {"start": 1.0, "middle": 0.5, "end": 0.0}[anchor] * _part(len(main.label))
    return taken + _part(1) < _before_the_end(line) - _part(len(line.hatched[0][2]))


def _before_the_end(line: NumberLine) -> float:
    """Return the percentage of the picture's width just before the number at its right end."""
    return round(_LEFT + _SPAN - _part(len(line.ends[1]) + 2), 1)


def _part(letters: int) -> float:
    """Return how much of a printed picture's width so many letters take, in percent."""
    return letters * LETTER * 100 / int(PRINTED_WIDTH)


def _zone(zone: tuple[float, float, str], uid: str, line: NumberLine, *, wide: bool) -> str:
    start, end, label = zone
    row = _zone_row(line, wide=wide)
    middle, anchor = _x(start + (end - start) * (0.6 if end == 100 else 0.5)), "middle"
    if wide and _beside_the_end(line):
        middle, anchor = _before_the_end(line), "end"
    return (
        f'<rect x="{_x(start)}%" y="{_AXIS - 6}" width="{round((end - start) * _SPAN / 100, 2)}%" '
        f'height="12" fill="url(#{uid})"/>' + letters(f"{middle}%", 58 + _ROW * row, label, anchor)
    )


def _tick_rows(line: NumberLine, *, wide: bool) -> list[tuple[int, Tick]]:
    """Give the main level the first row of labels and each other level one of its own.

    What lies nearer to the middle stands higher, so that no level's stroke crosses another's label.
    """
    first = _first_row(line, wide=wide)
    others = sorted(
        (tick for tick in line.ticks if not tick.main),
        key=lambda tick: -tick.at if tick.at < 50 else tick.at,
    )
    main = [(first, tick) for tick in line.ticks if tick.main]
    return main + [(first + row, tick) for row, tick in enumerate(others, start=1)]


def _first_row(line: NumberLine, *, wide: bool) -> int:
    """Return 0 where the main level's label has room between the numbers of both ends, else 1."""
    main = next((tick for tick in line.ticks if tick.main and tick.label), None)
    if main is None:
        return 0
    width = int(PRINTED_WIDTH) if wide else _PHONE
    at, anchor = _place(main, line.ticks)
    long = LETTER * len(main.label)
    begins = at * width / 100 - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * long
    low, high = (LETTER * (len(end) + 1) for end in line.ends)
    left, right = (_x(end) * width / 100 for end in (0, 100))
    return 0 if left + low <= begins and begins + long <= right - high else 1


def _tick_anchor(tick: Tick, ticks: tuple[Tick, ...]) -> str:
    crossed = tick.main and any(15 < other.at < 50 for other in ticks)
    return "start" if crossed else _anchor(tick.at)


def _place(tick: Tick, ticks: tuple[Tick, ...]) -> tuple[float, str]:
    """Return where a level's label stands: at its tick, or at the edge where it has more room."""
    here = (_x(tick.at), _tick_anchor(tick, ticks))
    edge = (_x(0), "start") if tick.at < 50 else (_x(100), "end")
    roomy = _room(*here, len(tick.label)) <= max(_PHONE, _room(*edge, len(tick.label)))
    return here if roomy else edge


def _room(x: float, anchor: str, letters: int) -> int:
    """Return how wide a picture must be, so that a label at ``x`` percent stays within it."""
    shares = {"start": 100 - x, "middle": 2 * min(x, 100 - x), "end": x}
    return ceil(letters * LETTER * 100 / shares[anchor])


def _tick(tick: Tick, row: int, ticks: tuple[Tick, ...]) -> str:
    x, bottom = _x(tick.at), _AXIS + 12 + _ROW * row
    label_x, anchor = _place(tick, ticks)
    dash = ' stroke-dasharray="4 3"' if tick.dashed else ""
    width = 2.7 if tick.main else 1.6
    return (
        f'<line x1="{x}%" x2="{x}%" y1="{_AXIS - 10}" y2="{bottom}" stroke="currentColor" '
        f'stroke-width="{width}"{dash}/>' + letters(f"{label_x}%", bottom + 12, tick.label, anchor)
    )


def _value(line: NumberLine, uid: str) -> list[str]:
    """Return the reader's own value: its label above the line, its mark on it."""
    x = _x(line.at)
    parts = [letters(f"{x}%", 14, line.label, _anchor(line.at), "700")]
    if line.whisker:
        parts.append(_stroke(_x(line.whisker[0]), _x(line.whisker[1]), 4, _AXIS))
    if line.mark in {"up_to", "from"}:
        start, end = (0.0, line.at) if line.mark == "up_to" else (line.at, 100.0)
        parts.append(
            f'<rect x="{_x(start)}%" y="{_AXIS - 5}" height="10" '
            f'width="{round((end - start) * _SPAN / 100, 2)}%" fill="url(#{uid})" '
            'stroke="currentColor" stroke-width="1.2" stroke-dasharray="5 3"/>'
        )
    elif line.mark == "beyond":
        parts.append(
            f'<svg x="{x}%" y="{_AXIS}" overflow="visible"><path d="M-26 -7l-5 14M-20 -7l-5 14" '
            'stroke="currentColor" stroke-width="2" fill="none"/><path d="M-12 -8L4 0L-12 8Z" '
            'fill="currentColor"/></svg>'
        )
    else:
        fill = "currentColor" if line.mark == "dot" else "none"
        parts.append(
            f'<circle cx="{x}%" cy="{_AXIS}" r="6" fill="{fill}" '
            'stroke="currentColor" stroke-width="2"/>'
        )
    return parts
