"""On which basis a result counts: as N or as NO3, as CaCO3.

Said by a column, by the name, by the unit or by the section; else given away by the printed limit;
else by convention for hardness and alkalinity; else open.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import cache

from welltold.analytes import Analyte, analyte
from welltold.tables import read_table
from welltold.units import Unit, basis_of, unit

from .printed import Printed
from .tokens import Label, value_of

_COLUMN = re.compile(r"(?i)^(?:reported\s+|expressed\s+)?(?:as\s+)?(.+)$")
_AS = re.compile(r"\b(?:as|AS) ([A-Z][A-Za-z0-9]{0,6})\b")


@cache
def _given_away() -> Mapping[tuple[str, Decimal], str]:
    found = {}
    for row in read_table("basis_limits.csv"):
        limit = row.number("limit")
        if limit is not None:
            found[row.text("slug"), limit] = row.text("basis")
    return found


def find_basis(printed: Printed, label: Label, spelled: str | None) -> str | None:
    """Return the basis of a result, or None where the sheet leaves it open."""
    column = printed.text_of("basis")
    if column:
        match = _COLUMN.match(column.strip())
        found = basis_of(match[1]) if match else None
        if found and _may_count(label, found):
            return found
    if label.match is None:
        return _of_unit(spelled)
    named = _AS.search(printed.label)
    found = (
        label.match.basis
        or (basis_of(named[1]) if named else None)
        or _of_unit(spelled)
        or printed.section.basis
        or _by_limit(printed, label.match.slug, spelled)
        or by_convention(analyte(label.match.slug), unit(spelled) if spelled else None)
    )
    if found is None:
        _ask_for_formula(printed, analyte(label.match.slug))
    return found


def _ask_for_formula(printed: Printed, known: Analyte) -> None:
    """Doubt a basis where the name gives the whole ion's formula: "Nitrate, NO3"."""
    whole = known.formula if known.basis not in {None, known.formula} else None
    if whole and re.search(rf"\b{re.escape(whole)}\b", printed.label):
        printed.doubt("basis_open", formula=whole)


def _may_count(label: Label, basis: str) -> bool:
    """Whether an analyte is ever counted so; a word that looks like a basis decides nothing."""
    if label.match is None:
        return True
    known = analyte(label.match.slug)
    return not known.bases or basis in {*known.bases, known.basis, known.formula}


def _of_unit(spelled: str | None) -> str | None:
    meaning = unit(spelled) if spelled else None
    return meaning.basis if meaning else None


def _by_limit(printed: Printed, slug: str, spelled: str | None) -> str | None:
    """Return the basis that the printed limit gives away, for limits in mg/L."""
    text = printed.text_of("printed_limit")
    limit = value_of(text) if text else None
    if limit is None and text:
        limit = value_of(text, decimal_comma=True)
    meaning = unit((limit.unit_text if limit else None) or spelled or "")
    if limit is None or limit.value is None or meaning is None or meaning.name != "mg/L":
        return None
    found = _given_away().get((slug, limit.value))
    if found:
        printed.doubt("basis_from_limit", basis=found, limit=text or "")
    return found


def by_convention(known: Analyte, meaning: Unit | None) -> str | None:
    """Hardness and alkalinity in a mass unit are as CaCO3 unless the sheet says otherwise."""
    mass = meaning is not None and meaning.kind == "mass"
    return "CaCO3" if mass and known.basis == "CaCO3" else None
