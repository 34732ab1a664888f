"""What a sample gives the indices to work with."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace

from ..checks.salts import salts_of
from ..checks.sheet import Sheet, Span, on_site
from .water import MOLAR, Water

USUAL_CELSIUS = 12.0
"""Well water of the middle latitudes; common practice, no source."""
IN_THE_LAB = re.compile(r"receipt|receiv|cooler|arriv|\blab", re.IGNORECASE)
"""Words of a temperature that is not the well's."""
SOLIDS_PER_CONDUCTANCE = 0.64
"""Ionic strength for 1 uS/cm over that for 1 mg/L: Russell 1976 over Langelier 1936."""
NAN = float("nan")


@dataclass(frozen=True, slots=True)
class Facts:
    """Numbers of one sample in mg/L; NaN where it has none."""

    ph: float
    ph_at_tap: bool
    alkalinity: float
    """As CaCO3."""
    calcium: float
    """As Ca."""
    solids: float
    """Measured, or from the conductance."""
    celsius: float
    warmth_known: bool
    chloride: Span | None
    sulfate: Span | None
    water: Water
    every_ion: bool
    """Whether the sheet has all ions; without them the figures are rougher."""
    has: frozenset[str]
    """The inputs that are there, by slug."""

    @property
    def calcium_hardness(self) -> float:
        """Calcium as CaCO3, mg/L."""
        return self.calcium * 100.087 / MOLAR["calcium"]


def facts_of(sheet: Sheet) -> Facts:
    """Return what a sample says to the indices; a pH read at the well comes before the lab's."""
    celsius = _celsius(sheet)
    warmth = USUAL_CELSIUS if celsius is None else celsius
    ph, alkalinity, calcium = _ph(sheet), _number(sheet, "alkalinity", "CaCO3"), _calcium(sheet)
    solids = _solids(sheet)
    known = {
        "ph": ph,
        "alkalinity": alkalinity,
        "calcium": calcium,
        "total_dissolved_solids": solids,
    }
    stand_in = 0.0 if math.isnan(calcium) else calcium
    spans = {slug: sheet.span(slug, "mg/L") for slug in ("chloride", "sulfate")}
    return Facts(
        ph,
        any(on_site(row) for row in sheet.rows("ph")),
        alkalinity,
        calcium,
        solids,
        warmth,
        celsius is not None,
        spans["chloride"],
        spans["sulfate"],
        *_water(sheet, Water(ph, alkalinity, stand_in, temperature=warmth, solids=solids)),
        frozenset(
            [slug for slug, value in known.items() if not math.isnan(value)]
            + [slug for slug, span in spans.items() if span is not None]
        ),
    )


def _water(sheet: Sheet, base: Water) -> tuple[Water, bool]:
    """Return the water with every ion, or with the solids where an ion is missing; and which."""
    salts = salts_of(sheet)
    given = {ion: salts.high.get(ion, 0.0) for ion in MOLAR if ion != "calcium"}
    whole = not salts.missing and not salts.from_hardness
    solids = NAN if whole else base.solids
    return replace(base, **given, solids=solids), whole


def _number(sheet: Sheet, slug: str, basis: str | None = None, unit: str = "mg/L") -> float:
    number = sheet.number(slug, unit, basis)
    return NAN if number is None else float(number)


def _ph(sheet: Sheet) -> float:
    rows = [row for row in sheet.rows("ph") if row.state == "value" and row.value is not None]
    rows.sort(key=on_site, reverse=True)
    return float(rows[0].value) if rows and rows[0].value is not None else NAN


def _calcium(sheet: Sheet) -> float:
    calcium = _number(sheet, "calcium")
    if math.isnan(calcium):
        calcium = _number(sheet, "calcium_hardness", "CaCO3") * MOLAR["calcium"] / 100.087
    return calcium


def _solids(sheet: Sheet) -> float:
    solids = _number(sheet, "total_dissolved_solids")
    if math.isnan(solids):
        solids = _number(sheet, "specific_conductance", unit="uS/cm") * SOLIDS_PER_CONDUCTANCE
    return solids


def _celsius(sheet: Sheet) -> float | None:
    """Return the temperature of the well's water; never that of a bottle in the lab."""
    rows = [row for row in sheet.rows("temperature") if not IN_THE_LAB.search(row.label)]
    number = (
        sheet.number("temperature", "degC") if len(rows) == len(sheet.rows("temperature")) else None
    )
    if number is None:
        number = sheet.site.well.water_temperature_c
    return None if number is None else float(number)
