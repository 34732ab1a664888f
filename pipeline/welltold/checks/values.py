"""Single numbers that cannot be, that no natural water has, or that look like a unit slip."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from ..analytes import Analyte, registry
from ..interpretation import Check
from ..messages import say
from ..reading import Result
from ..tables import read_table
from ..units import unit as unit_of
from ..verdicts.names import name_of
from ..verdicts.wording import PRINTED
from .rules import agrees, doubt, limit
from .sheet import Sheet, spans_of

POSSIBLE, NATURAL, SLIP = "possible_value", "natural_range", "unit_slip"
MAJOR = frozenset({"calcium", "magnesium", "sodium", "potassium"})
BELOW_ZERO = frozenset({"langelier_index", "redox_potential", "ion_balance", "temperature"})
"""What may be under 0 in an ordinary water."""
MAY_BE_NEGATIVE = frozenset({"index", "radionuclide"})
"""Groups that are told as a difference: a radioactive count is told without its background."""


@dataclass(frozen=True, slots=True)
class Possible:
    """One row of ``data/possible_values.csv``."""

    least: Decimal | None
    most: Decimal | None
    why: str


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield what is wrong with single numbers, or once that nothing is."""
    rows = [row for row in sheet.rows(*registry()) if row.state == "value"]
    wrong = {check.check: check for row in rows for check in _of(row)}
    yield from wrong.values()
    compared = sum(registry()[row.analyte or ""].natural_high is not None for row in rows)
    if compared and not wrong:
        yield agrees(NATURAL, Decimal(compared), "results", say("check.natural", n=compared))


def _of(row: Result) -> Iterator[Check]:
    own, value = registry()[row.analyte or ""], row.value
    if value is None:
        return
    spans = list(spans_of(row, own.unit, own.basis))
    number = spans[0].low if len(spans) == 1 else None
    if _cannot_be(own, value if number is None else number):
        why, name = say("check.cannot_be", name=_name(own), text=row.text), f"{POSSIBLE}:{own.slug}"
        yield doubt(name, value, row.unit, why, of=(own.slug,), settle="ask_lab")
    elif number is not None:
        yield from _natural(own, row, number)


def _cannot_be(own: Analyte, number: Decimal) -> bool:
    rule = _table().get(own.slug)
    if rule is None:
        return number < 0 and own.slug not in BELOW_ZERO and own.group not in MAY_BE_NEGATIVE
    too_low = rule.least is not None and number < rule.least
    return too_low or (rule.most is not None and number > rule.most)


def _natural(own: Analyte, row: Result, number: Decimal) -> Iterator[Check]:
    high, low = own.natural_high, own.natural_low
    times = 1 if own.slug == "ph" else limit(NATURAL, "times")
    if high is not None and number > high * times:
        yield _too_high(own, row, number, high)
    elif low is not None and number < low and own.slug == "ph":
        yield _out(own, row, "check.below_nature", low)
    elif own.group == "metal" and _too_little(own, row):
        yield _slip(own, row, "check.unit_slip_small")


def _too_high(own: Analyte, row: Result, number: Decimal, high: Decimal) -> Check:
    if own.group == "metal" and _unit(row) == "mg/L" and number / limit(SLIP, "factor") <= high:
        return _slip(own, row, "check.unit_slip")
    return _out(own, row, "check.above_nature", high)


def _too_little(own: Analyte, row: Result) -> bool:
    """Whether a number in ug/L is so small that mg/L was probably meant."""
    if _unit(row) != "ug/L" or row.value is None or row.value <= 0:
        return False
    printed = [one for one in (row.reporting_limit, row.detection_limit) if one and one > 0]
    if any(one <= row.value for one in printed):
        return False  # the lab says that it can find so little
    return row.value < limit(SLIP, "least_major" if own.slug in MAJOR else "least_found")


def _unit(row: Result) -> str | None:
    known = unit_of(row.unit) if row.unit else None
    return known.name if known else None


def _name(own: Analyte) -> str:
    return name_of(own.slug, own.name)


def _told(number: str, unit: str) -> str:
    return f"{number} {PRINTED.get(unit, unit)}".strip()


def _slip(own: Analyte, row: Result, code: str) -> Check:
    why = say(code, name=_name(own), text=f"{row.text} {row.unit}")
    check = f"{SLIP}:{own.slug}"
    return doubt(check, row.value, row.unit, why, of=(own.slug,), settle="unit")


def _out(own: Analyte, row: Result, code: str, edge: Decimal) -> Check:
    text, least = _told(row.text, _unit(row) or row.unit or ""), _told(f"{edge:f}", own.unit)
    why = say(code, name=_name(own), text=text, edge=least)
    check = f"{NATURAL}:{own.slug}"
    return doubt(check, row.value, row.unit, why, of=(own.slug,), settle="sample_again")


@cache
def _table() -> Mapping[str, Possible]:
    return {
        row.text("slug"): Possible(row.number("least"), row.number("most"), row.text("why"))
        for row in read_table("possible_values.csv")
        if row.text("source")
    }
