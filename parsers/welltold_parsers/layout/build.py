"""From the printed pieces of one result to the result of the reading."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from typing import cast

from welltold.analytes import Analyte, analyte
from welltold.reading import Fraction, Normalized, Result, State, Where
from welltold.units import normalize, unit
from welltold.values import ParsedValue

from .asides import least_counted, limit_beside
from .asked import COUNTED, asked, is_minus, is_yes_or_no
from .basis import find_basis
from .cells import Cell, where
from .dates import stamp
from .doubt import judge
from .headings import cell_of
from .nondetect import below_limit, flags_of, limit_for, settle
from .odd_values import odd_value
from .printed import Printed
from .result_doubts import (
    cut_short,
    is_limit_open,
    label_doubts,
    limit_doubt,
    range_doubt,
    state_doubts,
)
from .spelled import as_given
from .tokens import Label, begun, is_cas, label_of, value_of
from .unit_choice import BACTERIA, Chosen, choose, kind_of, never_negative

_DISSOLVED = re.compile(r"(?i)\b(?:dissolved|dissolv|diss|filtered|filterable|filtrado|disuelto)\b")
_TOTAL = re.compile(r"(?i)\b(?:total|unfiltered|recoverable|tot|t)\b")
_FILTERED = re.compile(r"(?i)\b(?:dissolved|field filtered|lab filtered|filtered)\b")
"""A method that tells how a metal was measured: "Metals by EPA 200.8, Dissolved"."""
_WHEN_FILTERED = {"total_organic_carbon": "dissolved_organic_carbon"}
"""What a test is called when the water was filtered first."""


@dataclass(frozen=True, slots=True)
class _Found:
    """What was made of the pieces of one result."""

    label: Label
    cas: str | None
    known: Analyte | None
    value: ParsedValue
    number: Decimal | None
    """The value, or the limit that it is below."""
    reporting_limit: Decimal | None
    detection_limit: Decimal | None
    flags: tuple[str, ...]
    chosen: Chosen
    basis: str | None


def build(printed: Printed, *, decimal_comma: bool) -> Result | None:
    """Return the result that these pieces make, or None when the value is not understood."""
    cas = _cas(printed)
    label = _label(printed, cas)
    known = analyte(label.match.slug) if label.match else None
    flags = _flags(printed)
    value = settle(printed, _parsed(printed, known, decimal_comma), flags)
    if value is None:
        return None
    beside = limit_beside(printed.text) if "printed_limit" not in printed.cells else None
    if beside is not None:
        printed.cells["printed_limit"] = cell_of(printed.value_cell, beside)
    if value.uncertainty is not None and "detection_limit" not in printed.cells:
        least = least_counted(printed.text, printed.head.text if printed.head else "")
        if least is not None:
            printed.cells["detection_limit"] = cell_of(printed.value_cell, least)
    label_doubts(printed, label, known)
    chosen = choose(printed, label, value)
    basis = find_basis(printed, label, chosen.text)
    reporting = _limit(printed, "reporting_limit", decimal_comma)
    detection = _limit(printed, "detection_limit", decimal_comma)
    number = below_limit(printed, value, flags, reporting, detection)
    if value.state == "below" and number is None:
        number = limit_for(reporting, detection, printed)
        if number is None:
            number = _defined(printed, chosen)
    if value.state == "below" and number is None and known and known.group in BACTERIA:
        # "None found" without any limit says of a germ that it is not there
        value = replace(value, state="absent", operator="=", present=False)
    found = _Found(label, cas, known, value, number, reporting, detection, flags, chosen, basis)
    shape = _normalized(known, number, chosen, basis)
    _doubt(printed, found, shape)
    return _result(printed, found, shape)


def _label(printed: Printed, cas: str | None) -> Label:
    """Return what the name means; one that was cut off by how it begins."""
    label = label_of(printed.name or printed.label, cas)
    slug = _WHEN_FILTERED.get(label.match.slug) if label.match else None
    whole = "total" in label.name.lower()
    if label.match and slug and not whole and _fraction(printed, label) == "dissolved":
        return label._replace(match=replace(label.match, slug=slug))
    if label.match is None and ("label_cut" in printed.signals or cut_short(printed.label)):
        return label._replace(match=begun(label.name))
    return label


def _doubt(printed: Printed, found: _Found, shape: Normalized | None) -> None:
    """Note what the number, its limit and its unit leave open."""
    known, value, number, unit = found.known, found.value, found.number, found.chosen.text
    open_ = "unknown" in printed.cells or is_limit_open(printed, known, found.chosen, found.basis)
    if value.state == "below" and number is None and open_:
        printed.doubt("limit_not_found")
    state_doubts(printed, value, known)
    if number is not None and number < 0 and never_negative(known, unit):
        printed.doubt("value_negative")
    if known is not None and unit is not None:
        range_doubt(printed, value, known, shape)
        limit_doubt(printed, known, unit, found.basis)


def _result(printed: Printed, found: _Found, shape: Normalized | None) -> Result:
    """Return the result with its places, and with how sure its doubts leave it."""
    known, value = found.known, found.value
    confidence, review = judge(printed.signals)
    return Result(
        analyte=known.slug if known else None,
        label=printed.label,
        text=printed.text or printed.text_of("condition") or printed.text_of("qualifier") or "",
        state=value.state,
        operator=value.operator,
        value=found.number,
        present=value.present,
        unit=as_given(found.chosen.text),
        basis=found.basis,
        fraction=None if known and known.group in BACTERIA else _fraction(printed, found.label),
        qualifiers=_once(value.qualifiers, found.flags),
        method=printed.text_of("method") or printed.section.method,
        analyzed=_analyzed(printed),
        cas=found.cas,
        reporting_limit=found.reporting_limit,
        detection_limit=found.detection_limit,
        printed_limit=printed.text_of("printed_limit"),
        normalized=shape,
        decimals=value.decimals,
        stored=printed.value_cell.source.stored if printed.value_cell.source else None,
        shown=_shown(printed.value_cell),
        confidence=confidence,
        review=review,
        where=_places(printed, found.chosen),
    )


def _flags(printed: Printed) -> tuple[str, ...]:
    """Return the flags of all columns of flags, else the letter in the column of signs."""
    texts = [cell.text for role, cell in printed.cells.items() if role.startswith("qualifier")]
    found = [flag for text in texts for flag in flags_of(text)]
    return tuple(dict.fromkeys(found)) or flags_of(_letter(printed.text_of("sign")))


def _letter(sign: str | None) -> str:
    """Return a flag that stands in the column of signs: "E" for estimated; "Y" is an answer."""
    flag = sign is not None and sign.isalpha() and len(sign) == 1 and sign.upper() not in {"Y", "N"}
    return sign if sign is not None and flag else ""


def _once(one: tuple[str, ...], other: tuple[str, ...]) -> tuple[str, ...]:
    """Return the flags of both, each once, in order."""
    return tuple(dict.fromkeys((*one, *other))) if one or other else ()


def _parsed(printed: Printed, known: Analyte | None, decimal_comma: bool) -> ParsedValue | None:  # noqa: FBT001 - one fact of the sheet
    text = printed.text
    if not text:
        return None
    letters = known is not None and known.group in BACTERIA
    if letters and (is_yes_or_no(text) or is_minus(text)):
        return _answered(printed, known, text)
    found = value_of(text, decimal_comma=decimal_comma, letters=letters)
    if found is not None or known is None or kind_of(known.slug) == "temperature":
        return found
    return odd_value(printed, known, text, decimal_comma=decimal_comma)


def _answered(printed: Printed, known: Analyte | None, text: str) -> ParsedValue | None:
    """Return what "Yes", "No" or a minus says of a germ, by the question; None: it only judges."""
    if is_minus(text):
        signs = printed.minus and known is not None and known.slug not in COUNTED
        return ParsedValue("absent", present=False, text=text) if signs else value_of(text)
    question = asked(f"{printed.head.text if printed.head else ''} {printed.label}")
    found = value_of(text, letters=True)
    if question == "judged" or found is None:
        return None
    if question == "not_found":
        state: State = "absent" if found.present else "present"
        return replace(found, state=state, present=not found.present)
    return found


def _shown(cell: Cell) -> str | None:
    source = cell.source
    return source.text if source is not None and source.stored is not None else None


def _cas(printed: Printed) -> str | None:
    text = printed.text_of("cas")
    return text if text and is_cas(text) else None


def _defined(printed: Printed, chosen: Chosen) -> Decimal | None:
    """Return the limit that a footnote gives to "ND", where it is in this result's unit."""
    cell = printed.cells.get("nd_defined")
    parsed = value_of(cell.text) if cell is not None else None
    if parsed is None or parsed.unit_text is None or chosen.text is None:
        return None
    one, other = unit(parsed.unit_text), unit(chosen.text)
    return parsed.value if one and other and one.name == other.name else None


def _limit(printed: Printed, role: str, decimal_comma: bool) -> Decimal | None:  # noqa: FBT001 - one fact of the sheet
    text = printed.text_of(role)
    parsed = value_of(text, decimal_comma=decimal_comma) if text else None
    return parsed.value if parsed else None


@lru_cache(maxsize=4096)
def _is_own(slug: str, spelled: str, basis: str | None) -> bool:
    """Whether a unit and basis are the analyte's own, so that the number stays as it is."""
    return all(
        (one := normalize(slug, number, spelled, basis)) is not None and one.value == number
        for number in (Decimal(1), Decimal(7))
    )


def _normalized(
    known: Analyte | None, number: Decimal | None, chosen: Chosen, basis: str | None
) -> Normalized | None:
    if known is None or number is None or chosen.text is None:
        return None
    if _is_own(known.slug, chosen.text, basis):
        return Normalized(number, known.unit, known.basis)
    found = normalize(known.slug, number, chosen.text, basis)
    if found is None and known.basis is None and basis is not None:
        found = normalize(known.slug, number, chosen.text, None)
    return found


def _fraction(printed: Printed, label: Label) -> Fraction | None:
    text = printed.text_of("fraction")
    if text:
        if re.search(r"(?i)\bunfiltered", text) or text.upper() in {"T", "N"}:
            return "total"
        if _DISSOLVED.search(text) or text.upper() in {"D", "Y"}:
            return "dissolved"
        if _TOTAL.search(text):
            return "total"
    if label.match and label.match.fraction:
        return cast("Fraction", label.match.fraction)
    method = printed.text_of("method")
    metal = label.match is not None and analyte(label.match.slug).fraction == "total"
    if metal and method and _FILTERED.search(method):
        return "dissolved"
    return cast("Fraction | None", printed.section.fraction)


def _analyzed(printed: Printed) -> str | None:
    text = printed.text_of("analyzed")
    found = stamp(text) if text else None
    return found.iso if found else None


def _places(printed: Printed, chosen: Chosen) -> tuple[Where, ...]:
    places = [where("value", printed.value_cell), where("label", printed.label_cell)]
    if chosen.cell is not None and chosen.cell is not printed.value_cell:
        places.append(where("unit", chosen.cell))
    limit = printed.cells.get("printed_limit")
    if limit is not None:
        places.append(where("limit", limit))
    if printed.head is not None:
        places.append(printed.head.as_header())
    return tuple(places)
