"""Results that are plain but for a sign or a letter that says two things; each is doubted.

"L0.05" may be less than 0.05, "0.86F" and "18 F1" have a flag that nobody but the lab knows, and
the dash of "– 2.1" is a minus or a dash.
"""

from __future__ import annotations

import re
from dataclasses import replace

from welltold.analytes import Analyte
from welltold.values import ParsedValue

from .printed import Printed
from .tokens import unit_of, value_of
from .unit_choice import never_negative

_LETTERED = re.compile(r"(?P<letter>[LK])\s?(?P<number>[\d.,]+)")
"""A letter that stands for "less than" in some data systems: "L0.05", "K0.05"."""
_FLAGGED = re.compile(
    r"(?P<number>[<>]?\s?[\d.,]+)(?:\s?(?P<letter>[A-Z]{1,2}|[a-z])"
    r"|\s(?P<code>[A-Z*^]{1,2}\d?(?:[,; ]{1,2}[A-Z*^]{1,2}\d?)*))"
)
"""A number with a letter that is no flag in common use: "0.86F", "18 F1", "0.45 J,F1"."""
_AMOUNTS = frozenset({"mass", "amount", "charge", "organisms", "count"})
"""Kinds of units of what can be found or not."""
_DASHED = re.compile(r"[-–—‒−]\s+(?P<number>[\d.,]+)")
"""A dash apart from its number: a minus, or a dash in the place of something else."""


def odd_value(
    printed: Printed, known: Analyte, text: str, *, decimal_comma: bool
) -> ParsedValue | None:
    """Return what a text most likely says, doubted; None: it is no result."""
    for read in (_none, _lettered, _dashed, _flagged):
        found = read(printed, known, text, decimal_comma)
        if found is not None:
            return replace(found, text=text)
    return None


def _none(printed: Printed, known: Analyte, text: str, _comma: bool) -> ParsedValue | None:  # noqa: FBT001 - one fact of the sheet
    """Read "none" where an amount with a unit is asked for: nothing was found."""
    asked = printed.text_of("unit") or printed.head_unit
    found = unit_of(asked) if asked else None
    amount = found is not None and found.kind in _AMOUNTS and known.group != "physical"
    return value_of("none detected") if amount and text.lower().strip(".") == "none" else None


def _lettered(printed: Printed, _known: Analyte, text: str, comma: bool) -> ParsedValue | None:  # noqa: FBT001 - one fact of the sheet
    lettered = _LETTERED.fullmatch(text)
    limit = value_of(lettered["number"], decimal_comma=comma) if lettered else None
    if lettered is None or limit is None or not limit.value or limit.state != "value":
        return None
    printed.doubt("sign_letter", letter=lettered["letter"])
    return replace(limit, state="below", operator="<")


def _dashed(printed: Printed, known: Analyte, text: str, comma: bool) -> ParsedValue | None:  # noqa: FBT001 - one fact of the sheet
    dashed = _DASHED.fullmatch(text)
    plain = value_of(dashed["number"], decimal_comma=comma) if dashed else None
    if plain is None or plain.value is None or plain.state != "value":
        return None
    printed.doubt("dash_open")
    return plain if never_negative(known, None) else replace(plain, value=-plain.value)


def _flagged(printed: Printed, _known: Analyte, text: str, comma: bool) -> ParsedValue | None:  # noqa: FBT001 - one fact of the sheet
    flagged = _FLAGGED.fullmatch(text)
    plain = value_of(flagged["number"], decimal_comma=comma) if flagged else None
    if flagged is None or plain is None:
        return None
    flags = re.split(r"[,; ]+", flagged["letter"] or flagged["code"])
    printed.doubt("flag_unknown", flag=", ".join(flags))
    return replace(plain, qualifiers=(*plain.qualifiers, *flags))
