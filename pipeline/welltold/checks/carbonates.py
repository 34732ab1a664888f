"""Alkalinity against its parts and against pH."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import Message, say
from .rules import agrees, doubt, fits, lacking, limit, not_possible, rounded, short
from .salts import alkalinity_of_parts
from .sheet import Sheet

PARTS, AT_PH = "alkalinity_of_parts", "alkalinity_at_ph"
USUAL = 12.0
"""Celsius, when the temperature of the water is not known; common practice, no source."""


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield the checks of alkalinity, where it is on the sheet."""
    if sheet.has("alkalinity") and sheet.has("bicarbonate"):
        yield _parts(sheet)
    if sheet.has("alkalinity"):
        yield _at_ph(sheet) if sheet.has("ph") else lacking(AT_PH, "ph")


def _parts(sheet: Sheet) -> Check:
    printed = sheet.number("alkalinity", "mg/L", "CaCO3")
    sums = [span.low for span in alkalinity_of_parts(sheet) if span.exact and span.low]
    if not sums or not printed:
        return not_possible(PARTS, say("check.no_number"))
    added = min(sums, key=lambda one: abs(printed - one))
    apart = printed / added - 1
    why = say("check.alkalinity_parts", sum=short(added), printed=short(printed))
    value = rounded(apart * 100)
    if abs(apart) <= limit(PARTS, "apart"):
        return fits(PARTS, value, "%", why)
    # labs print bicarbonate as CaCO3 and say that it counts as itself
    same = sheet.number("bicarbonate", "mg/L", "HCO3")
    as_calcite = same is not None and abs(printed / same - 1) <= limit(PARTS, "apart") / 2
    hint = (say("check.slip_bicarbonate"),) if as_calcite else ()
    return doubt(PARTS, value, "%", why, *hint, of=("alkalinity", "bicarbonate"), settle="ask_lab")


def _at_ph(sheet: Sheet) -> Check:
    ph, alkalinity = sheet.number("ph", "SU"), sheet.span("alkalinity", "mg/L", "CaCO3")
    if ph is None or alkalinity is None or not 0 <= ph <= 14:
        return not_possible(AT_PH, say("check.no_number"))
    wrong = tuple(_contradictions(sheet, ph, alkalinity.low))
    if not wrong:
        return agrees(AT_PH, None, None, say("check.alkalinity_fits", ph=ph))
    return doubt(AT_PH, ph, "SU", *wrong, of=("ph", "alkalinity"), settle="ph_at_tap")


def _contradictions(sheet: Sheet, ph: Decimal, alkalinity: Decimal) -> Iterator[Message]:
    if ph < limit(AT_PH, "endpoint"):
        if alkalinity > limit(AT_PH, "little"):
            yield say("check.alkalinity_in_acid", ph=ph, alkalinity=short(alkalinity))
        return
    gas = _gas(ph, alkalinity)
    if gas > limit(AT_PH, "most_gas"):
        yield say("check.too_much_gas", ph=ph, alkalinity=short(alkalinity), gas=short(gas))
    carbonate = sheet.number("carbonate", "mg/L", "CaCO3")
    most = alkalinity * limit(AT_PH, "carbonate_share")
    if carbonate and ph < limit(AT_PH, "carbonate_from") and carbonate > most:
        yield say("check.carbonate_low_ph", ph=ph, carbonate=short(carbonate))


def _gas(ph: Decimal, alkalinity: Decimal) -> Decimal:
    """Return mg/L of carbon dioxide that pH and alkalinity ask for; 44 (HCO3) 10^(pK1 - pH)."""
    from ..chemistry import log_constant

    exponent = Decimal(-float(log_constant("co2", USUAL))) - ph
    return Decimal("44.01") * alkalinity / Decimal("50.0435") * Decimal(10) ** exponent
