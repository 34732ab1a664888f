"""Hardness against calcium and magnesium."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import Message, say
from .rules import doubt, fits, lacking, limit, not_possible, rounded, short
from .sheet import Sheet, Span

NAME, PART = "hardness_of_parts", "calcium_over_hardness"
PARTS = ("calcium", "magnesium")
NOT_KNOWN = Span(Decimal(0), None)
SLIPS = {"grains": Decimal("17.118"), "thousand": Decimal(1000)}
"""How much too small hardness is when its unit was mistaken."""


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield what hardness says of its parts, where it is on the sheet."""
    if not sheet.has("hardness"):
        return
    yield _sum(sheet)
    yield from _part(sheet)


def _sum(sheet: Sheet) -> Check:
    """Compare hardness with both parts; with one of them, which it cannot be less than."""
    missing = [slug for slug in PARTS if not sheet.has(slug)]
    hardness = sheet.span("hardness", "mg/L", "CaCO3")
    known = [sheet.span(slug, "mg/L") for slug in PARTS]
    calcium, magnesium = (span or NOT_KNOWN for span in known)
    low, high = _added(calcium.low, magnesium.low), None
    if calcium.high is not None and magnesium.high is not None:
        high = _added(calcium.high, magnesium.high)
    if hardness is None or hardness.high is None:
        return not_possible(NAME, say("check.no_number"))
    apart = _apart(hardness, low, high)
    if high is None and abs(apart) <= limit(NAME, "apart"):
        return lacking(NAME, *missing) if missing else not_possible(NAME, say("check.no_number"))
    whole = low if high is None else high
    fields = {"sum": f"{short(whole)} mg/L", "printed": f"{short(hardness.high)} mg/L"}
    why = say("check.hardness" if high is not None else "check.hardness_part", **fields)
    if abs(apart) <= limit(NAME, "apart"):
        return fits(NAME, rounded(apart * 100), "%", why)
    of = [slug for slug in ("hardness", *PARTS) if sheet.has(slug)]
    slip = _slip(whole, hardness.high)
    return doubt(NAME, rounded(apart * 100), "%", why, *slip, of=of, settle="hardness_strip")


def _apart(hardness: Span, low: Decimal, high: Decimal | None) -> Decimal:
    """Return how far hardness lies outside of what its parts allow, as a share of them."""
    if high is not None and hardness.low > high:
        return (hardness.low - high) / high if high else Decimal(1)
    if hardness.high is not None and hardness.high < low:
        return (hardness.high - low) / low if low else Decimal(-1)
    return Decimal(0)


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
