"""Hardness against calcium and magnesium."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import Message, say
from .rules import doubt, fits, lacking, limit, not_possible, rounded, short
from .sheet import Sheet

NAME, PART = "hardness_of_parts", "calcium_over_hardness"
SLIPS = {"grains": Decimal("17.118"), "thousand": Decimal(1000)}
"""How much too small hardness is when its unit was mistaken."""


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield what hardness says of its parts, where it is on the sheet."""
    if not sheet.has("hardness"):
        return
    yield _sum(sheet)
    yield from _part(sheet)


def _sum(sheet: Sheet) -> Check:
    missing = [slug for slug in ("calcium", "magnesium") if not sheet.has(slug)]
    if missing:
        return lacking(NAME, *missing)
    hardness = sheet.span("hardness", "mg/L", "CaCO3")
    parts = [
        sheet.span(slug, "mg/L", basis) for slug, basis in (("calcium", "Ca"), ("magnesium", "Mg"))
    ]
    calcium, magnesium = parts
    if hardness is None or calcium is None or magnesium is None:
        return not_possible(NAME, say("check.no_number"))
    ends = [hardness.high, calcium.high, magnesium.high]
    if None in ends:
        return not_possible(NAME, say("check.no_number"))
    printed_high, calcium_high, magnesium_high = (end or Decimal(0) for end in ends)
    low = _added(calcium.low, magnesium.low)
    high = _added(calcium_high, magnesium_high)
    apart = Decimal(0)
    if hardness.low > high:
        apart = (hardness.low - high) / high if high else Decimal(1)
    elif printed_high < low:
        apart = (printed_high - low) / low
    why = say("check.hardness", sum=f"{short(high)} mg/L", printed=f"{short(printed_high)} mg/L")
    value = rounded(apart * 100)
    if abs(apart) <= limit(NAME, "apart"):
        return fits(NAME, value, "%", why)
    slip = _slip(high, printed_high)
    of = ("hardness", "calcium", "magnesium")
    return doubt(NAME, value, "%", why, *slip, of=of, settle="hardness_strip")


def _added(calcium: Decimal, magnesium: Decimal) -> Decimal:
    return calcium * limit(NAME, "calcium") + magnesium * limit(NAME, "magnesium")


def _slip(added: Decimal, printed: Decimal) -> tuple[Message, ...]:
    """Return the unit in which the printed hardness would fit its parts."""
    for name, factor in SLIPS.items():
        if printed and abs(added / printed / factor - 1) <= limit(NAME, "apart"):
            return (say(f"check.slip_{name}"),)
    return ()


def _part(sheet: Sheet) -> Iterator[Check]:
    hardness = sheet.span("hardness", "mg/L", "CaCO3")
    calcium = sheet.span("calcium_hardness", "mg/L", "CaCO3")
    if hardness is None or calcium is None or not hardness.high:
        return
    over = max((calcium.low - hardness.high) / hardness.high, Decimal(0))
    why = say("check.calcium_over_hardness", part=short(calcium.low), whole=short(hardness.high))
    value = rounded(over * 100)
    if over <= limit(PART, "apart"):
        yield fits(PART, value, "%", why)
    else:
        of = ("hardness", "calcium_hardness")
        yield doubt(PART, value, "%", why, of=of, settle="hardness_strip")
