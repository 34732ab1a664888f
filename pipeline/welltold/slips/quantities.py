"""The numbers of a sheet that bear on each other, each with the row it stands in."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..analytes import analyte
from ..checks.salts import METALS, MINOR, NEEDED, salts_of
from ..checks.sheet import FILTERED, Sheet, Span, spans_of
from ..reading import Result
from .rules import rule

IONS = (*NEEDED, *MINOR)
BESIDE = (
    "bicarbonate",
    "carbonate",
    "hardness",
    "calcium_hardness",
    "total_dissolved_solids",
    "specific_conductance",
    "silica",
    "nitrite",
    "nitrate_nitrite",
)
TOLD = (*IONS, *BESIDE)


@dataclass(frozen=True, slots=True)
class Quantity:
    """One number in the analyte's own unit and basis."""

    middle: float
    """The number; half of the limit where it is below one."""
    spread: float
    """One standard deviation as a share of it."""


@dataclass(frozen=True, slots=True)
class Quantities:
    """The numbers of one sheet by slug."""

    of: Mapping[str, Quantity]
    positions: Mapping[str, int]
    """Position in ``Sample.results`` of the one row that a slug stands in."""


def quantities(sheet: Sheet) -> Quantities:
    """Return the numbers of a sheet; what has several different rows is left out."""
    found: dict[str, Quantity] = {}
    positions: dict[str, int] = {}
    for slug in TOLD:
        own = analyte(slug)
        span = sheet.span(slug, own.unit, own.basis)
        known = None if span is None else quantity(span)
        if known is not None:
            found[slug] = known
            rows = _rows(sheet, slug)
            if len(rows) == 1:
                positions[slug] = rows[0]
    salts = salts_of(sheet)
    for slug in (*METALS, "hydrogen"):
        if slug in salts.high:
            found[slug] = Quantity(salts.high[slug], rule("lab_spread"))
    return Quantities(found, positions)


def _rows(sheet: Sheet, slug: str) -> list[int]:
    """Return the positions of the rows that count for an analyte, as the checks take them."""
    rows = [
        (at, one)
        for at, one in enumerate(sheet.sample.results)
        if one.analyte == slug and one.state not in {"blank", "unreadable"}
    ]
    whole = [at for at, one in rows if one.fraction != FILTERED]
    return whole or [at for at, _ in rows]


def quantity(span: Span) -> Quantity | None:
    """Return the middle of an amount; None without an upper end, and for nothing at all."""
    if span.high is None or span.high <= 0:
        return None
    if span.exact:
        return Quantity(float(span.high), rule("lab_spread"))
    return Quantity(float(span.low + span.high) / 2, rule("below_spread"))


def read_as(result: Result) -> Quantity | None:
    """Return the quantity that a row would stand for; None where it gives not one."""
    own = analyte(result.analyte or "")
    spans = set(spans_of(result, own.unit, own.basis))
    return quantity(spans.pop()) if len(spans) == 1 else None
