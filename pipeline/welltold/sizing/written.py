"""How amounts are written in the arithmetic: few digits, both systems of units."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from ..messages import say
from .rules import Rule

Value = Decimal | str | bool

_METRIC = {
    "gpm": ("L/min", Decimal("3.785411784")),
    "gpd": ("L/day", Decimal("3.785411784")),
    "gal": ("L", Decimal("3.785411784")),
    "in": ("cm", Decimal("2.54")),
    "ft3": ("L", Decimal("28.316846592")),
    "lb": ("kg", Decimal("0.45359237")),
    "psi": ("kPa", Decimal("6.894757")),
    "gpg": ("mg/L", Decimal("17.118")),
    "ft2": ("m2", Decimal("0.09290304")),
}
_WORDS = {
    "in": "in",
    "days": "days",
    "grains": "grains",
    "years": "years",
    "grains/lb": "grains_lb",
}
"""Units that are words of a language."""


def shown(value: Value) -> str:
    """Return a number with at most four digits and no needless zeros; other values as they are."""
    if isinstance(value, bool):
        return say("sizing.yes" if value else "sizing.no").text
    if isinstance(value, str):
        return value
    if value and value.adjusted() < 3:
        value = round(value, 3 - value.adjusted()) if value.adjusted() < 0 else round(value, 2)
    elif value:
        value = round(value, 0)
    return f"{value.normalize():f}"


_NEEDED = frozenset({"gpm", "peak", "rate", "loss"})
"""What is asked of the pump, the bed or the tap: never rounded down."""
_GIVEN = frozenset({"pump", "floor", "gives", "carries", "least", "minutes", "made"})
"""What there is: never rounded up."""
_ROUGH_DIGITS = 2


def told(name: str, value: Decimal) -> str:
    """Return a reckoned number as a condition tells it, a need up and what there is down.

    Under ten by tenths, else in two digits; the exact figure stands with its arithmetic.
    """
    short = value.normalize()
    if len(short.as_tuple().digits) <= _ROUGH_DIGITS or not value:
        return shown(value)
    tenths = name in _NEEDED | _GIVEN and value < 100
    step = Decimal(1).scaleb(-1 if tenths else value.adjusted() - _ROUGH_DIGITS + 1)
    rounding = ROUND_CEILING if name in _NEEDED else ROUND_FLOOR if name in _GIVEN else None
    number = (value / step).to_integral_value(rounding) * step
    return f"{number.quantize(step) if step < 1 else number:f}"


def both(value: Value, unit: str) -> str:
    """Return an amount with its US unit and, in brackets, the metric one."""
    named = say(f"sizing.unit_{_WORDS[unit]}").text if unit in _WORDS else unit
    text = f"{shown(value)} {named}".strip()
    if unit in _METRIC and isinstance(value, Decimal):
        metric, factor = _METRIC[unit]
        text += f" ({shown(_rough(value * factor))} {metric})"
    return text


def up(value: Decimal, step: str = "1") -> Decimal:
    """Return the next higher step: what is needed is never rounded down."""
    return _stepped(value, step, ROUND_CEILING)


def down(value: Decimal, step: str = "1") -> Decimal:
    """Return the next lower step: what there is, is never rounded up."""
    return _stepped(value, step, ROUND_FLOOR)


def fine(value: Decimal) -> Decimal:
    """Return a figure with two decimals, as it is published; comparisons use the exact one."""
    return round(value, 2)


def cited(sources: Iterable[Rule | str]) -> str:
    """Return where a figure comes from, each source once."""
    texts = (one.citation if isinstance(one, Rule) else one for one in sources)
    return "; ".join(dict.fromkeys(texts))


def _rough(value: Decimal) -> Decimal:
    """Return a converted number with three digits: more would say more than was measured."""
    if not value or value.adjusted() < 0:
        return round(value, 2)
    return round(value, 2 - value.adjusted())


def _stepped(value: Decimal, step: str, rounding: str) -> Decimal:
    width = Decimal(step)
    return (value / width).to_integral_value(rounding) * width
