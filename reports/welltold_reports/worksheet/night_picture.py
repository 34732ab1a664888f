"""What the picture of the worst night shows: before the change, and after it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from welltold.interpretation import Night, NightStep, Train
from welltold.messages import say

from ..night_chart import Level, NightChart, Panel
from ..numbers import plain, rounded, trimmed
from ..wording import texts

_DIGITS = 3
_HOUR = 60


def night_chart(train: Train) -> NightChart | None:
    """Return the picture of a train's worst night; None where none was reckoned."""
    night = train.night
    if night is None:
        return None
    changed = night.remedy not in {"none", "specialist"}
    # one scale for both, so that heights can be compared
    top = max(step.needed_gpm for step in night.series + (night.after if changed else ()))
    panels = [_panel(_word("before"), night.series, night.shortfall, top)]
    if changed:
        panels.append(_panel(_word("after"), night.after, night.shortfall_after, top))
    return NightChart(tuple(panels), (_word("needed"), _word("gets")), _told(night))


def _told(night: Night) -> str:
    """Return the picture in words."""
    needed = max(step.needed_gpm for step in night.series)
    gets = max(step.gets_gpm for step in night.series)
    alt = say("night.alt", needed=_figure(needed), gets=_figure(gets)).text
    return " ".join((alt, *texts(night.why)))


def _panel(title: str, steps: Sequence[NightStep], short: int | None, top: Decimal) -> Panel:
    end = steps[-1].minute
    levels = tuple(
        Level(_part(step.minute, end), _share(step.needed_gpm, top), _share(step.gets_gpm, top))
        for step in steps
    )
    clocks = tuple((_part(at, end), _clock(at)) for at in range(0, end + 1, _HOUR))
    mark = None if short is None else (_part(short, end), _clock(short))
    return Panel(title, levels, f"{_figure(top)} gpm", clocks, mark)


def _part(minute: int, end: int) -> float:
    return round(100 * minute / end, 2)


def _share(flow: Decimal, top: Decimal) -> float:
    return round(float(100 * flow / top), 2)


def _figure(flow: Decimal) -> str:
    return plain(trimmed(rounded(flow, _DIGITS)))


def _clock(minute: int) -> str:
    return f"{minute // _HOUR % 24:02}:{minute % _HOUR:02}"


def _word(name: str) -> str:
    return say(f"night.picture_{name}").text
