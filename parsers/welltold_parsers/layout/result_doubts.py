"""What the name, the number, its limit and its unit leave open about one result."""

from __future__ import annotations

import re
from decimal import Decimal

from welltold.analytes import Analyte, Match
from welltold.reading import Normalized
from welltold.values import ParsedValue

from .printed import Printed
from .tokens import Label, analytes_within, value_of
from .unit_choice import BACTERIA, Chosen, limit_agrees

_SHORTENED = re.compile(r"[a-z]{3}\.$")
"""The end of a long name that the lab cut itself: "Bromodichlorometh."."""
_BELOW_LIMIT = frozenset({"BRL", "BDL", "BQL", "BLQ", "BMDL", "<RL", "<MRL", "<MDL", "<LIMIT"})
FAR = Decimal(100)
"""A number so many times the most that groundwater holds is doubted."""


def state_doubts(printed: Printed, value: ParsedValue, known: Analyte | None) -> None:
    """Doubt an amount that is only said to be there, and a cell that is blank."""
    if value.present and known is not None and known.group not in BACTERIA:
        printed.doubt("condition_no_value")  # or "Detected" without the "None" before it
    if value.state == "blank":
        printed.doubt("blank_result")


def cut_short(label: str) -> bool:
    """Whether a label ends in an open bracket or is a long name that the lab shortened."""
    return label.count("(") > label.count(")") or _SHORTENED.search(label) is not None


def label_doubts(printed: Printed, label: Label, known: Analyte | None) -> None:
    """Doubt a name that is cut off, that is not known, or that only looks like a known one."""
    if printed.label.count("(") > printed.label.count(")"):
        printed.doubt("label_cut")
    if known is None:
        printed.doubt("label_holds" if analytes_within(printed.label) else "label_unknown")
    elif label.match and (label.match.how == "fuzzy" or _all_phosphate(printed.label, label.match)):
        printed.doubt("label_fuzzy", label=printed.label, analyte=known.name)


def _all_phosphate(label: str, match: Match) -> bool:
    """Whether "PO4 total" may be all phosphorus counted as PO4, and no orthophosphate alone."""
    whole = match.slug == "orthophosphate" and match.fraction == "total"
    return whole and "ortho" not in label.lower()


def is_limit_open(
    printed: Printed, known: Analyte | None, chosen: Chosen, basis: str | None
) -> bool:
    """Whether "BRL" may mean the limit beside it: it is no level that is known of this test."""
    limit = printed.text_of("printed_limit")
    if limit is None or known is None or printed.text.upper() not in _BELOW_LIMIT:
        return False
    parsed = value_of(limit)
    if parsed is None or parsed.value is None:
        return False
    return limit_agrees(known.slug, limit, chosen.text or "", basis) is not True


def range_doubt(
    printed: Printed, value: ParsedValue, known: Analyte, shape: Normalized | None
) -> None:
    """Doubt a number far beyond what groundwater holds: the unit or the point may be wrong."""
    high = known.natural_high
    if shape is not None and high and value.state == "value" and shape.value > high * FAR:
        printed.doubt("value_far")


def limit_doubt(printed: Printed, known: Analyte, unit: str, basis: str | None) -> None:
    """Doubt a unit in which the printed limit is a thousand times off the known level."""
    limit = printed.text_of("printed_limit")
    if limit and limit_agrees(known.slug, limit, unit, basis) is False:
        printed.doubt("limit_suggests_other_unit", limit=limit, unit=unit)
