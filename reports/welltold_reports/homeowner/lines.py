"""From a finding to its number line."""

from __future__ import annotations

from decimal import Decimal

from welltold.interpretation import LevelUsed
from welltold.speech import phrase, sentence_start
from welltold.verdicts.wording import ratio_words

from ..number_line import Mark, NumberLine, Tick
from ..numbers import plain, trimmed, with_unit
from ..wording import word
from .printed import HEALTH_KINDS, Item, is_federal

_PH_AXIS = (Decimal(5), Decimal(10))
_MARKS: dict[str, tuple[Mark, str]] = {
    "<": ("up_to", "line_not_found"),
    ">": ("from", "line_over"),
    "=": ("dot", "line_yours"),
}
ESTIMATED = frozenset({"J", "E"})
"""Qualifiers by which laboratories commonly mark an estimate."""


def number_line(item: Item) -> NumberLine | None:
    """Return the line for a finding with a number and a level; None where there is neither."""
    level, finding = item.main_level, item.finding
    if level is None or item.shown is None or finding.present is not None:
        return None
    if level.low is not None and level.unit == "SU":
        return _range_line(item, level, item.shown)
    return _level_line(item, level, item.shown)


def estimated(item: Item) -> bool:
    """Whether the lab marked the number as an estimate."""
    return bool(item.result and ESTIMATED & set(item.result.qualifiers))


def _value_label(item: Item, shown: Decimal) -> tuple[Mark, str]:
    mark, name = _MARKS[item.finding.operator or "="]
    if mark == "dot" and estimated(item):
        mark, name = "about", "line_about"
    return mark, word(name, value=with_unit(shown, item.scale.unit))


def _level_line(item: Item, level: LevelUsed, shown: Decimal) -> NumberLine:
    """Return zero at left, the level in the middle, twice the level at right."""
    end = 2 * item.scale.of(level.value or Decimal(1))
    mark, label = _value_label(item, shown)
    if shown > end and mark in {"dot", "about"}:
        mark = "beyond"
    ticks = tuple(_tick(item, one, end, main=one is level) for one in _ticked(item, level))
    return NumberLine(
        mark=mark,
        at=_percent(shown, end),
        label=label,
        ticks=ticks,
        hatched=_above(mark, _percent(shown, end), _percent(_decides(item, level), end)),
        ends=("0", plain(trimmed(end))),
        whisker=_whisker(item, end),
        alt=_alt(item, label, tuple(tick.label for tick in ticks), level),
    )


def _decides(item: Item, main: LevelUsed) -> Decimal:
    """Return the level that the words go by, in the reader's unit: for lead the stricter one."""
    own = item.yardstick
    value = main.value or Decimal(1)
    if own is not None and own in item.levels and own.kind in HEALTH_KINDS:
        value = min(value, own.value or value)
    return item.scale.of(value)


def _above(mark: Mark, at: float, level: float) -> tuple[tuple[float, float, str], ...]:
    """Return the stretch above the level; a bar that reaches into it is not hatched over."""
    start = max(level, at) if mark == "up_to" else level
    return ((start, 100.0, word("line_above")),) if mark != "from" and start < 100 else ()


def _range_line(item: Item, level: LevelUsed, shown: Decimal) -> NumberLine:
    """Return an axis from 5 to 10 with the range between its two ends (pH)."""
    low_end, high_end = _PH_AXIS
    span = high_end - low_end
    low, high = (
        _percent(v - low_end, span) for v in (level.low or low_end, level.value or high_end)
    )
    mark, label = _value_label(item, shown)
    band = word("line_band", low=plain(level.low or low_end), high=plain(level.value or high_end))
    return NumberLine(
        mark=mark,
        at=_percent(shown - low_end, span),
        label=label,
        ticks=(Tick(low, band, main=False, dashed=True), Tick(high, "", main=True, dashed=True)),
        hatched=((0.0, low, word("line_below_range")), (high, 100.0, word("line_above"))),
        ends=(plain(low_end), plain(high_end)),
        whisker=None,
        alt=word("line_alt", name=item.name, yours=label, levels=band),
    )


def _ticked(item: Item, main: LevelUsed) -> list[LevelUsed]:
    """Return the main level and at most two others with other numbers on the line."""
    chosen, seen = [main], {main.value}
    for level in (*item.levels, *item.levels_beside):
        value = level.value or Decimal(0)
        room = len(chosen) < 3 and level.kind != "goal"
        if room and value not in seen and value <= 2 * (main.value or 0):
            chosen.append(level)
            seen.add(value)
    return chosen


def _tick(item: Item, level: LevelUsed, end: Decimal, *, main: bool) -> Tick:
    value = item.scale.of(level.value or Decimal(0))
    own = is_federal(level) or level.kind == "advisory"
    name = f"line_tick_{level.kind}" if own else "line_tick_other"
    name = "line_tick_babies" if level in item.levels_beside else name
    label = word(
        name, value=plain(trimmed(value)), programme=sentence_start(phrase(level.programme))
    )
    return Tick(_percent(value, end), label, main=main, dashed=level.kind == "secondary")


def _whisker(item: Item, end: Decimal) -> tuple[float, float] | None:
    low, high, value = item.finding.low, item.finding.high, item.finding.value
    if low is None or high is None or value is None or low == high or item.finding.operator != "=":
        return None
    return _percent(item.scale.of(low), end), _percent(item.scale.of(high), end)


def _alt(item: Item, label: str, levels: tuple[str, ...], level: LevelUsed) -> str:
    fields = {"name": item.name, "yours": label, "levels": ", ".join(levels)}
    value = item.finding.value
    if item.finding.operator not in {None, "="} or value is None or not level.value:
        return word("line_alt", **fields)
    return word("line_alt_ratio", ratio=ratio_words(value, level.value).text, **fields)


def _percent(value: Decimal, end: Decimal) -> float:
    """Return the place on the line in percent, kept on the line."""
    return round(float(min(max(value / end, Decimal(0)), Decimal(1)) * 100), 2)
