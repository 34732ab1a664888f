"""The dissolved salts of a sheet, as far as an ion balance needs them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from ..analytes import analyte
from .sheet import Sheet, Span, hull, spans_of

NEEDED = ("calcium", "magnesium", "sodium", "alkalinity", "chloride", "sulfate")
"""No balance without these; alkalinity may come from bicarbonate and carbonate."""
MINOR = ("potassium", "nitrate", "fluoride", "ammonia")
"""Counted as 0 where they were not tested."""
METALS = ("iron", "manganese")
"""Counted only as far as they are dissolved: rust flakes carry no charge."""
HARDNESS_PER_MEQ, CALCIUM_PER_MEQ = Decimal("50.0435"), Decimal("20.039")
PER_BICARBONATE, PER_CARBONATE = Decimal("0.8202"), Decimal("1.6680")
"""mg of alkalinity as CaCO3 for 1 mg of the ion."""
ACID = Decimal("4.5")
"""Below this pH hydrogen ions are counted."""


@dataclass(frozen=True, slots=True)
class Salts:
    """The ions in mg/L, at the low and at the high end of what the sheet leaves possible."""

    low: Mapping[str, float]
    high: Mapping[str, float]
    missing: tuple[str, ...]
    """Needed and not on the sheet, or not as a number with an upper end."""
    untested: tuple[str, ...]
    """Minor ions taken as 0."""
    from_hardness: bool
    """Calcium stands for calcium and magnesium together."""


def salts_of(sheet: Sheet) -> Salts:
    """Return the ions of a sheet."""
    spans = dict(_spans(sheet))
    hardness = sheet.span("hardness", "mg/L", "CaCO3")
    from_hardness = not {"calcium", "magnesium"} <= set(spans) and hardness is not None
    if from_hardness and hardness is not None:
        scale = CALCIUM_PER_MEQ / HARDNESS_PER_MEQ
        spans["calcium"] = _times(hardness, scale)
        spans["magnesium"] = Span(Decimal(0), Decimal(0))
    known = {slug: span for slug, span in spans.items() if span.high is not None}
    return Salts(
        {slug: float(span.low) for slug, span in known.items()},
        {slug: float(span.high) for slug, span in known.items() if span.high is not None},
        tuple(slug for slug in NEEDED if slug not in known),
        tuple(slug for slug in ("potassium", "nitrate") if slug not in known),
        from_hardness,
    )


def _spans(sheet: Sheet) -> Iterator[tuple[str, Span]]:
    for slug in (*NEEDED, *MINOR):
        own = analyte(slug)
        span = sheet.span(slug, own.unit, own.basis)
        if span is None and slug == "alkalinity":
            span = hull(alkalinity_of_parts(sheet))
        if span is None and slug == "nitrate":
            span = sheet.span("nitrate_nitrite", own.unit, own.basis)
        if span is not None:
            yield slug, span
    for slug in METALS:
        dissolved = sheet.dissolved(slug, analyte(slug).unit)
        if dissolved is not None:
            yield slug, dissolved
    acid = sheet.number("ph", "SU")
    if acid is not None and 0 <= acid < ACID:
        protons = Decimal(10) ** (3 - acid)
        yield "hydrogen", Span(protons, protons)


def alkalinity_of_parts(sheet: Sheet) -> tuple[Span, ...]:
    """Return alkalinity as CaCO3 from bicarbonate and carbonate; nothing without bicarbonate.

    Hem 1985, USGS WSP 2254: bicarbonate is alkalinity / 0.8202. Two readings where the sheet does
    not say if bicarbonate counts as itself or as CaCO3. Carbonate counts as 0 where it was not
    tested.
    """
    none = Span(Decimal(0), Decimal(0))
    carbonate = _times(sheet.span("carbonate", "mg/L", "CO3") or none, PER_CARBONATE)
    rows = sheet.rows("bicarbonate")
    if len(rows) != 1:
        return ()
    bases = (rows[0].basis,) if rows[0].basis or rows[0].normalized else ("HCO3", "CaCO3")
    read = [replace(rows[0], basis=basis) for basis in bases]
    spans = [span for one in read for span in spans_of(one, "mg/L", "HCO3")]
    return tuple(_sum(_times(span, PER_BICARBONATE), carbonate) for span in spans)


def _sum(first: Span, second: Span) -> Span:
    if first.high is None or second.high is None:
        return Span(first.low + second.low, None)
    return Span(first.low + second.low, first.high + second.high)


def _times(span: Span, factor: Decimal) -> Span:
    return Span(span.low * factor, None if span.high is None else span.high * factor)
