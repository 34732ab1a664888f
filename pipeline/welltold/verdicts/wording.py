"""Numbers and levels in a reader's words."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from ..levels import Level
from ..messages import Message, say
from ..speech import basis_words, phrase
from .compare import Compared

FORMS = {
    "lifetime_advisory": "who_lifetime",
    "screening": "who_screening",
    "watch_band": "who_band",
    "diet": "who_diet",
    "taste": "who_taste",
    "class": "who_class",
    "notice": "who_notice",
    "surface_water": "who_surface",
    "gas": "who_gas",
    "smell": "who_smell",
    "state_guideline": "who_state",
}
FINER = (("mg/L", "ug/L"), ("ug/L", "ng/L"))
PRINTED = {"ug/L": "µg/L", "SU": "", "ratio": ""}
SAID = {"CFU/100mL": "speech.per_100_ml", "CU": "speech.color_units"}
"""Units that are words."""
RISKY = frozenset({"health", "watch"})
MOST_DIGITS = 6
"""A number with more digits than this came from a conversion and is rounded to three."""


def compared_words(name: str, told: Compared) -> tuple[Message, ...]:
    """Return how an amount lies to a level, with the ratio where one makes sense."""
    amount, level = told.amount, told.level
    fields = {"name": name, "who": who(level), "level": level_text(level)}
    if amount.exact:
        return _exact_words(fields, told)
    worked_out = amount.digits is None and amount.high is not None
    if amount.found is False and level.op != "range" and not worked_out:
        return (_not_found_words(fields, told),)
    if amount.more_than_low and amount.low > 0:
        code = "more_than_over" if told.outcome == "over" else "more_than_maybe"
        return (say(f"verdict.{code}", amount=amount_text(amount.low, told), **fields),)
    if amount.more_than_low:
        return (say("verdict.little_found", **fields),)
    return (_interval_words(fields, told),)


def _interval_words(fields: dict[str, str], told: Compared) -> Message:
    amount, level = told.amount, told.level
    if amount.high is None and not amount.low:
        return say("verdict.in_part", **fields)
    if amount.high is None:
        return say("verdict.at_least", low=amount_text(amount.low, told), **fields)
    high = amount_text(amount.high, told)
    if level.op == "range":
        return say("verdict.less_than_range", amount=high, low=_low(level), **fields)
    return say("verdict.between", low=number_of(amount.low, level), high=high, **fields)


def _low(level: Level) -> str:
    return "" if level.low is None else plain(level.low)


def amount_text(value: Decimal, told: Compared) -> str:
    """Return a value with no more digits than the lab printed, in the level's unit."""
    level, digits = told.level, told.amount.digits
    return text_of(value if digits is None else shown(value, digits, level.value), level)


def shown(value: Decimal, digits: int, level: Decimal | None = None) -> Decimal:
    """Return a converted value with the lab's own digits, at least two.

    It gets more where fewer would put it on the other side of the level, or right on it.
    """
    printed = len(value.as_tuple().digits)
    for count in range(max(digits, 2), printed):
        short = value.quantize(Decimal(1).scaleb(value.adjusted() - count + 1), ROUND_HALF_UP)
        if level is None or _side(short, level) == _side(value, level):
            return short.normalize() if short == value and digits < count else short
    return value if printed <= digits else value.normalize()


def _side(value: Decimal, level: Decimal) -> int:
    return (value > level) - (value < level)


def ratio_words(value: Decimal, level: Decimal, *, risk: bool = False) -> Message:
    """Return how a value lies to a level, in words; both in one unit, the level above 0.

    With ``risk``, a ratio is told together with what it does not mean.
    The words follow the exact ratio; only the printed figure is rounded, to two digits.
    """
    ratio = value / level
    edges = (("0.5", "less_than_half"), ("0.9", "below"), ("1", "just_below"))
    for edge, code in edges:
        if ratio < Decimal(edge):
            return say(f"verdict.ratio_{code}")
    if ratio == 1:
        return say("verdict.ratio_at")
    if ratio <= Decimal("1.1"):
        return say("verdict.ratio_just_above")
    return say(f"verdict.ratio_about{'' if risk else '_plain'}", r=times(ratio))


def times(ratio: Decimal) -> str:
    """Return a ratio of 1 or more with two digits: 1.6, 23, 230."""
    step = Decimal(1).scaleb(ratio.adjusted() - 1)
    return plain(((ratio / step).quantize(Decimal(1), ROUND_HALF_UP) * step).normalize())


def who(level: Level) -> str:
    """Return who set a level, as the beginning of a sentence."""
    if level.who is not None:
        return level.who
    code = FORMS.get(level.form)
    if level.status == "proposed":
        code = "who_proposed"
    elif code is None and level.kind == "primary_limit":
        code = "who_limit" if level.status == "in_force" else "who_adopted"
    elif code is None and level.kind == "action_level":
        code = "who_action_level" if level.status == "in_force" else "who_action_level_new"
    elif code is None:
        code = {"secondary": "who_secondary", "goal": "who_goal"}.get(level.kind)
    return say(f"verdict.{code or 'who_other'}", programme=phrase(level.programme)).text


def level_text(level: Level) -> str:
    """Return the level's number with its unit."""
    return "" if level.value is None else text_of(level.value.normalize(), level)


def text_of(value: Decimal, level: Level) -> str:
    """Return a value in the level's unit for a reader: a unit in which the level is 1 or more."""
    unit, _ = _reader_unit(level)
    shown = say(SAID[unit]).text if unit in SAID else PRINTED.get(unit, unit)
    amount = f"{number_of(value, level)} {shown}".strip()
    return basis_words(amount, level.basis) if level.basis not in {None, "CaCO3"} else amount


def number_of(value: Decimal, level: Level) -> str:
    """Return the number of ``text_of`` alone."""
    return plain(value.scaleb(_reader_unit(level)[1]))


def plain(value: Decimal) -> str:
    """Return a number without exponent, with commas; converted ones rounded to three digits."""
    if len(value.as_tuple().digits) > MOST_DIGITS:
        value = value.quantize(Decimal(1).scaleb(value.adjusted() - 2), ROUND_HALF_UP)
        value = value.normalize()
    if value == value.to_integral_value() and value.adjusted() + 1 > len(value.as_tuple().digits):
        value = value.quantize(Decimal(1))
    return f"{value:,f}"


def reading_text(told: Compared) -> str:
    """Return one of several readings, for a list."""
    amount = told.amount
    if amount.high is None:
        return say("speech.amount_or_more", amount=amount_text(amount.low, told)).text
    number = amount_text(amount.high, told)
    return number if amount.exact else say("speech.amount_less", amount=number).text


def _exact_words(fields: dict[str, str], told: Compared) -> tuple[Message, ...]:
    value, level = told.amount.low, told.level
    amount = amount_text(value, told)
    if level.op == "range":
        code = "found_inside" if told.outcome == "under" else "found_outside"
        return (say(f"verdict.{code}", amount=amount, low=_low(level), **fields),)
    over = say("verdict.found_over", amount=amount, **fields)
    if level.op != "max" or not level.value or value <= 0:
        return (over,)
    if level.form == "class":
        return (over,)
    return over, ratio_words(value, level.value, risk=level.role in RISKY)


def _not_found_words(fields: dict[str, str], told: Compared) -> Message:
    limit = told.amount.high
    if limit is None:
        return say("verdict.not_found_no_limit", **fields)
    code = "not_found_under" if told.outcome == "under" else "not_found_maybe"
    return say(f"verdict.{code}", amount=amount_text(limit, told), **fields)


def _reader_unit(level: Level) -> tuple[str, int]:
    """Return a unit in which the level is 1 or more, and how far the point moves to it."""
    unit, shift, size = level.unit, 0, level.value or Decimal(1)
    for coarse, fine in FINER:
        if unit == coarse and size < 1:
            unit, shift, size = fine, shift + 3, size * 1000
    return unit, shift
