"""Puts what a person typed in place of one printed result."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal

from .conversion import convert, normalize, own_bases
from .errors import UnitMismatchError
from .messages import say
from .reading import Correction, Normalized, Result
from .typed_value import TwoWaysError, typed_value
from .unit_spellings import unit as unit_of
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

    The printed text stays in ``text``; state, number, unit and basis are the new ones, and the
    reasons for a look are gone: somebody has looked. The same entry given twice changes nothing.
    Raises WrongEntryError.
    """
    comma = _in_commas(result)
    parsed = _parsed(entry.text, result, comma=comma)
    stated = _in_typed_unit(result, parsed)
    number = parsed.value
    if number is None and parsed.state == "below":
        limits = (stated.reporting_limit, stated.detection_limit)
        number = next((limit for limit in limits if limit is not None), None)
    if entry.value is not None and not _same(entry.value, number):
        raise WrongEntryError(
            "value", say("correct.value_differs", value=entry.value, text=entry.text).text
        )
    if not entry.by.strip():
        raise WrongEntryError("by", say("correct.who").text)
    return replace(
        stated,
        state=parsed.state,
        operator=parsed.operator,
        value=number,
        present=parsed.present,
        qualifiers=_qualifiers(result, parsed, comma=comma),
        decimals=parsed.decimals,
        normalized=_normalized(result, stated, number, parsed),
        correction=replace(
            entry,
            value=number,
            by=entry.by.strip(),
            at=iso_day(entry.at),
            printed_unit=entry.printed_unit if stated.unit == result.unit else result.unit or "",
        ),
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
    """Return what was typed; raise WrongEntryError when it is no result, or may be two."""
    try:
        found = typed_value(
            text, commas="yes" if comma else "no", letters=result.present is not None
        )
    except TwoWaysError as error:
        raise WrongEntryError("text", say("correct.two_ways", text=text).text) from error
    if found is None:
        raise WrongEntryError("text", say("correct.not_a_result", text=text).text)
    return found


def _same(stored: Decimal, number: Decimal | None) -> bool:
    """Whether two numbers are the same, as far as JSON keeps digits."""
    return number is not None and float(stored) == float(number)


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


def _in_typed_unit(result: Result, parsed: ParsedValue) -> Result:
    """Return the result with the unit and basis that were typed, and its limits in that unit.

    A unit counts only with a number: "ND ug/L" leaves the printed limit in its printed unit.
    """
    typed = unit_of(parsed.unit_text) if parsed.unit_text else None
    if typed is None or parsed.value is None:
        return result
    printed = unit_of(result.unit) if result.unit else None
    basis = typed.basis or result.basis
    in_print = printed.basis if printed else None
    if typed.basis is None and in_print and own_bases().get(result.analyte or "") != in_print:
        told = say("correct.basis_open", unit=parsed.unit_text, basis=in_print)
        raise WrongEntryError("text", told.text)
    stated = replace(result, unit=parsed.unit_text, basis=basis)
    if (printed and printed.name, result.basis) == (typed.name, basis):
        return stated
    return replace(
        stated,
        reporting_limit=_over(result, result.reporting_limit, stated),
        detection_limit=_over(result, result.detection_limit, stated),
    )


def _over(result: Result, limit: Decimal | None, stated: Result) -> Decimal | None:
    """Return a printed limit in the typed unit, None where it cannot be told in it."""
    if limit is None or result.unit is None or stated.unit is None:
        return None
    try:
        return convert(
            limit, result.analyte or "", result.unit, result.basis, stated.unit, stated.basis
        )
    except UnitMismatchError:
        return None


def _normalized(
    result: Result, stated: Result, number: Decimal | None, parsed: ParsedValue
) -> Normalized | None:
    """Return the number in the analyte's own unit.

    Raises WrongEntryError for a typed unit in which this analyte is not measured; where the sheet
    itself leaves the unit or the basis open, a correction does not settle it.
    """
    if stated.analyte is None or number is None or stated.unit is None:
        return None
    settled = result.normalized.basis if result.normalized and not stated.basis else None
    found = normal_form(stated.analyte, number, stated.unit, stated.basis or settled)
    typed, printed = (unit_of(text) if text else None for text in (parsed.unit_text, result.unit))
    known = result.normalized is not None or (typed and (typed != printed))
    if found is None and parsed.unit_text and known:
        told = say("correct.unit_unfit", unit=parsed.unit_text, label=result.label)
        raise WrongEntryError("text", told.text)
    return found


def normal_form(slug: str, number: Decimal, unit: str, basis: str | None) -> Normalized | None:
    """Return a number in the analyte's own unit, whether or not its basis is a form on record."""
    from .analytes import analyte

    found = normalize(slug, number, unit, basis)
    if found is None and basis is not None and analyte(slug).basis is None:
        spelled = unit_of(unit)
        if spelled is None or spelled.basis in {None, basis}:
            found = normalize(slug, number, unit, None)
    return found
