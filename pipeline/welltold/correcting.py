"""Puts what a person typed in place of one printed result."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

from .messages import say
from .reading import Correction, Normalized, Result
from .units import normalize
from .values import ParsedValue, parse_value

CONFIDENCE_CORRECTED = 0.99
"""About one field in a hundred is typed wrong: common practice, no source."""
_SLASHED = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4})(?: .*)?")


class WrongEntryError(Exception):
    """What a person typed cannot be used. Fields: the column, and why, in words."""

    def __init__(self, column: str, why: str) -> None:
        super().__init__(column, why)
        self.column, self.why = column, why


def corrected(result: Result, entry: Correction) -> Result:
    """Return the result with what the entry says in place of the printed result.

    The printed text stays in ``text``; state, number and normalized value are the new ones, and the
    reasons for a look are gone: somebody has looked. The same entry given twice changes nothing.
    Raises WrongEntryError.
    """
    comma = _in_commas(result)
    parsed = _parsed(entry.text, result, comma=comma)
    number = parsed.value
    if number is None and parsed.state == "below":
        limits = (result.reporting_limit, result.detection_limit)
        number = next((limit for limit in limits if limit is not None), None)
    if entry.value is not None and entry.value != number:
        raise WrongEntryError(
            "value", say("correct.value_differs", value=entry.value, text=entry.text).text
        )
    if not entry.by.strip():
        raise WrongEntryError("by", say("correct.who").text)
    made = Correction(entry.text, number, entry.by.strip(), iso_day(entry.at))
    unit = parsed.unit_text or result.unit
    return replace(
        result,
        state=parsed.state,
        operator=parsed.operator,
        value=number,
        present=parsed.present,
        unit=unit,
        qualifiers=_qualifiers(result, parsed, comma=comma),
        decimals=parsed.decimals,
        normalized=_normalized(result, number, unit),
        correction=made,
        confidence=CONFIDENCE_CORRECTED,
        review=(),
    )


def iso_day(text: str) -> str:
    """Return the date, or date and time, in ISO 8601; slashes as spreadsheets in the US save them.

    Raises WrongEntryError.
    """
    wanted = text.strip()
    slashed = _SLASHED.fullmatch(wanted)
    try:
        if slashed:
            month, day, year = map(int, slashed.groups())
            month, day = (day, month) if month > 12 else (month, day)
            return date(year, month, day).isoformat()
        datetime.fromisoformat(wanted)
    except ValueError:
        why = say("correct.when", text=wanted or '""').text
        raise WrongEntryError("at", why) from None
    return wanted


def _parsed(text: str, result: Result, *, comma: bool) -> ParsedValue:
    """Return what was typed; with a comma as the sheet writes it, else only if it is plain."""
    letters = result.present is not None
    one, other = (
        parse_value(text.strip(), decimal_comma=way, presence_letters=letters)
        for way in (comma, not comma)
    )
    found = one or other
    if found is None:
        raise WrongEntryError("text", say("correct.not_a_result", text=text).text)
    if not comma and one and other and one.value != other.value:
        raise WrongEntryError("text", say("correct.two_ways", text=text).text)
    return found


def _in_commas(result: Result) -> bool:
    """Whether the number was read with a decimal comma, as far as the result itself shows it."""
    done = result.correction
    if done and done.value is not None:
        return not says(done.text, done.value) and says(done.text, done.value, comma=True)
    return not says(result.text, result.value) and says(result.text, result.value, comma=True)


def says(text: str, value: Decimal | None, *, comma: bool = False) -> bool:
    """Whether the text says this number, with a decimal point or with a decimal comma."""
    parsed = parse_value(text, decimal_comma=comma)
    return parsed is not None and parsed.value == value


def _qualifiers(result: Result, parsed: ParsedValue, *, comma: bool) -> tuple[str, ...]:
    """Return the lab's marks beside the result, without those inside the text put aside."""
    printed = parse_value(result.text, decimal_comma=comma)
    inside = printed.qualifiers if printed else ()
    beside = [mark for mark in result.qualifiers if mark not in inside]
    return tuple(dict.fromkeys((*beside, *parsed.qualifiers)))


def _normalized(result: Result, number: Decimal | None, unit: str | None) -> Normalized | None:
    if result.analyte is None or number is None or unit is None:
        return None
    bases = dict.fromkeys((result.basis, result.normalized.basis if result.normalized else None))
    found = (normalize(result.analyte, number, unit, basis) for basis in bases)
    return next((shape for shape in found if shape is not None), None)
