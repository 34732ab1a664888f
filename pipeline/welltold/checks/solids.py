"""Dissolved solids and conductance, against each other and against the ions."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from ..interpretation import Check
from ..messages import Message, say
from .rules import doubt, fits, lacking, limit, not_possible, rounded, short
from .salts import Salts, salts_of
from .sheet import Sheet

SOLIDS, CONDUCTANCE = "total_dissolved_solids", "specific_conductance"


def checks(sheet: Sheet) -> Iterator[Check]:
    """Yield the checks of dissolved solids and of conductance, where either is on the sheet."""
    if not sheet.has(SOLIDS, CONDUCTANCE):
        return
    salts = salts_of(sheet)
    if sheet.has(SOLIDS):
        yield _solids_of_ions(sheet, salts)
    if sheet.has(CONDUCTANCE):
        yield _conductance_of_ions(sheet, salts)
    yield _solids_of_conductance(sheet)


def _solids_of_ions(sheet: Sheet, salts: Salts) -> Check:
    from ..chemistry import calculated_solids

    name, solids = "solids_of_ions", sheet.number(SOLIDS, "mg/L")
    missing = _missing(salts)
    if missing or not solids:
        return lacking(name, *missing) if missing else _no_number(name)
    silica = float(sheet.number("silica", "mg/L") or 0)
    low = Decimal(float(calculated_solids(salts.low, silica)))
    high = Decimal(float(calculated_solids(salts.high, silica)))
    why = say("check.solids_of_ions", printed=short(solids), sum=short(high))
    return _judged(name, solids / high, solids / low, why, (SOLIDS,), "repeat_solids")


def _conductance_of_ions(sheet: Sheet, salts: Salts) -> Check:
    from ..chemistry import conductance

    name, measured = "conductance_of_ions", sheet.number(CONDUCTANCE, "uS/cm")
    missing = _missing(salts)
    if missing or not measured:
        return lacking(name, *missing) if missing else _no_number(name)
    if measured > limit(name, "most"):
        return not_possible(name, say("check.too_salty", most=limit(name, "most")))
    low, high = (Decimal(float(conductance(one))) for one in (salts.low, salts.high))
    why = say("check.conductance_of_ions", printed=short(measured), sum=short(high))
    return _judged(name, measured / high, measured / low, why, (CONDUCTANCE,), "meter")


def _solids_of_conductance(sheet: Sheet) -> Check:
    name = "solids_of_conductance"
    missing = [slug for slug in (SOLIDS, CONDUCTANCE) if not sheet.has(slug)]
    if missing:
        return lacking(name, *missing)
    solids, measured = sheet.number(SOLIDS, "mg/L"), sheet.number(CONDUCTANCE, "uS/cm")
    if not solids or not measured:
        return _no_number(name)
    ratio = solids / measured
    high = limit(name, "high_sulfate" if _gypsum(sheet, solids) else "high")
    why = say("check.solids_of_conductance", solids=short(solids), conductance=short(measured))
    return _judged(
        name, ratio, ratio, why, (SOLIDS, CONDUCTANCE), "meter", (limit(name, "low"), high)
    )


def _judged(  # noqa: PLR0913, PLR0917 - two ends, and what to say of them
    name: str,
    low: Decimal,
    high: Decimal,
    why: Message,
    of: tuple[str, ...],
    settle: str,
    edges: tuple[Decimal, Decimal] | None = None,
) -> Check:
    least, most = edges or (limit(name, "low"), limit(name, "high"))
    value = rounded(low, "0.01")
    if high < least or low > most:
        return doubt(name, value, "ratio", why, of=of, settle=settle)
    return fits(name, value, "ratio", why)


def _gypsum(sheet: Sheet, solids: Decimal) -> bool:
    """Whether sulfate makes up so much of the solids that they weigh more for their conductance."""
    sulfate = sheet.number("sulfate", "mg/L")
    return sulfate is not None and sulfate > solids * Decimal("0.4")


def _missing(salts: Salts) -> tuple[str, ...]:
    """Return what a sum of single ions lacks; hardness alone is not enough for it."""
    parts = ("calcium", "magnesium") if salts.from_hardness else ()
    return (*parts, *salts.missing)


def _no_number(name: str) -> Check:
    return not_possible(name, say("check.no_number"))
