"""How near a number lies to its level, in view of what the test can tell apart. Words only."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from ..errors import UnitMismatchError
from ..messages import Message, say
from ..reading import Result
from ..units import convert
from ..values import ParsedValue, parse_value
from .amounts import Amount, converted, possible
from .compare import Compared
from .doubt_tables import precision
from .judging import Answer
from .wording import text_of


def near_words(result: Result, answer: Answer) -> Iterator[Message]:
    """Yield a sentence where the level lies inside what the test can tell apart."""
    told = answer.judged.told
    if told is None or len(answer.ways) != 1 or answer.notes or not _one_number(told):
        return
    spread = _lab_spread(result, told)
    if spread is not None:
        if _across(told, spread):
            yield say("doubt.lab_range", range=text_of(spread.normalize(), told.level))
        return
    percent = _test_percent(result, told)
    if percent is not None and _across(told, told.amount.low * percent / 100):
        yield say("doubt.test_range", percent=percent)


def _one_number(told: Compared) -> bool:
    return told.amount.exact and told.level.op == "max" and bool(told.level.value)


def _across(told: Compared, spread: Decimal) -> bool:
    """Whether the level lies within the spread around the number, and not on it."""
    level = told.level.value or Decimal(0)
    return abs(told.amount.low - level) < spread


def _lab_spread(result: Result, told: Compared) -> Decimal | None:
    """Return what the lab prints behind "±", in the level's unit."""
    parsed = _parsed(result)
    if parsed is None or parsed.uncertainty is None:
        return None
    beside = replace(result, value=parsed.uncertainty, state="value", alternatives=())
    amounts = possible(beside, "").amounts
    if len(amounts) != 1 or amounts[0].unit is None:
        return None
    try:
        own: Amount = converted(amounts[0], result.analyte or "", told.level.unit, told.level.basis)
    except UnitMismatchError:
        return None
    return own.low


def _parsed(result: Result) -> ParsedValue | None:
    """Return the printed text read again; None where it is not the number that was used."""
    for comma in (False, True):
        parsed = parse_value(result.text, decimal_comma=comma)
        if parsed is not None and parsed.value == result.value:
            return parsed
    return None


def _test_percent(result: Result, told: Compared) -> Decimal | None:
    known = precision().get(result.analyte or "")
    if known is None:
        return None
    percent, least, unit = known
    level = told.level
    try:
        amount = convert(
            told.amount.low, result.analyte or "", level.unit, level.basis, unit, level.basis
        )
    except UnitMismatchError:
        return None
    return percent if amount >= least else None
