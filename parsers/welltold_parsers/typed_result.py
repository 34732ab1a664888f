"""The result that one line of a typed table states."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import cast

from welltold.analytes import Match, analyte, identify
from welltold.correcting import normal_form
from welltold.messages import say
from welltold.reading import Alternative, Fraction, Result, Unread
from welltold.typed_value import Commas, TwoWaysError, typed_value
from welltold.units import basis_of, unit
from welltold.values import ParsedValue

from .typed_doubts import Typed, doubts
from .typed_line import Line

CONFIDENCE_TYPED = 0.99
"""About one field in a hundred is typed wrong: common practice, no source."""
CONFIDENCE_DOUBTED = 0.6
"""Common practice, no source: typed once, or in two ways."""
_AS = re.compile(r"(?i)^(?:(?:reported|expressed) )?as\s+")


def result_of(line: Line, *, commas: Commas) -> Result | Unread:
    """Return the result of a line, or the line as one that was not understood.

    ``commas`` as in `typed_value`. ReadingFileError where a cell cannot be, or contradicts another.
    """
    text, label = line.text("result"), line.text("analyte")
    match = identify(label) if label else None
    parsed = _parsed(line, "result", match, commas)
    if parsed is None or not label:
        return Unread(line.shown(), line.where()[0], say("typed.not_a_result", text=text or '""'))
    unit_text = _unit(line, parsed)
    basis = _basis(line, parsed, match)
    limit = _limit(line, unit_text, commas)
    number = parsed.value
    if number is None and parsed.state == "below":
        number = limit
    shape = None
    if match and number is not None and unit_text:
        shape = normal_form(match.slug, number, unit_text, basis)
    again = _parsed(line, "result_again", match, commas)
    review = doubts(Typed(line, parsed, again, match, unit_text, shape))
    return Result(
        analyte=match.slug if match else None,
        label=label,
        text=text,
        state=parsed.state,
        operator=parsed.operator,
        value=number,
        present=parsed.present,
        unit=unit_text,
        basis=basis,
        fraction=cast("Fraction | None", match.fraction) if match else None,
        qualifiers=parsed.qualifiers,
        method=line.text("method") or None,
        reporting_limit=limit,
        normalized=shape,
        decimals=parsed.decimals,
        alternatives=_alternatives(line.text("result_again"), parsed, again),
        confidence=CONFIDENCE_DOUBTED if review else CONFIDENCE_TYPED,
        review=review,
        where=line.where(),
    )


def _alternatives(
    text: str, parsed: ParsedValue, again: ParsedValue | None
) -> tuple[Alternative, ...]:
    """Return what was typed the second time, where it says something else.

    Both stay possible, so that the graver of the two keeps its protective step.
    """
    if again is None or (again.value, again.present) == (parsed.value, parsed.present):
        return ()
    value = again.value if again.present is None else Decimal(int(again.present))
    return (Alternative(text, value, say("typed.second_entry").text),)


def _parsed(line: Line, column: str, match: Match | None, commas: Commas) -> ParsedValue | None:
    text = line.text(column)
    letters = match is not None and analyte(match.slug).group == "microbial"
    try:
        return typed_value(text, commas=commas, letters=letters) if text else None
    except TwoWaysError as error:
        raise line.wrong(column, say("typed.two_ways", text=text).text) from error


def _unit(line: Line, parsed: ParsedValue) -> str | None:
    """Return the unit as typed, in its column or behind the result; an error where two differ."""
    column, behind = line.text("unit"), parsed.unit_text
    one, other = (unit(text) if text else None for text in (column, behind))
    if one and other and one.name != other.name:
        raise line.wrong("unit", say("typed.differs", text=column, first=behind).text)
    if one and other and other.basis and not one.basis:
        return behind
    return column or behind


def _basis(line: Line, parsed: ParsedValue, match: Match | None) -> str | None:
    """Return as what the result counts; an error where name, unit and column contradict."""
    told: list[tuple[str, str | None]] = [("analyte", match.basis if match else None)]
    for column, text in (("result", parsed.unit_text), ("unit", line.text("unit"))):
        known = unit(text) if text else None
        told.append((column, known.basis if known else None))
    told.append(("basis", _named(line, match)))
    named = [(column, basis) for column, basis in told if basis]
    for column, basis in named:
        if basis != named[0][1]:
            problem = say("typed.basis_differs", basis=basis, first=named[0][1])
            raise line.wrong(column, problem.text)
    return named[0][1] if named else None


def _named(line: Line, match: Match | None) -> str | None:
    """Return what the column of bases names, an error where this test is never counted so."""
    text = _AS.sub("", line.text("basis"))
    if not text:
        return None
    basis = basis_of(text)
    own = analyte(match.slug) if match else None
    counted = {*own.bases, own.basis, own.formula} if own and own.bases else None
    if basis is None or (counted is not None and basis not in counted):
        raise line.wrong("basis", say("typed.basis_unknown", text=text).text)
    return basis


def _limit(line: Line, unit_text: str | None, commas: Commas) -> Decimal | None:
    """Return the reporting limit, which is in the unit of the result."""
    parsed = _parsed(line, "reporting_limit", None, commas)
    text = line.text("reporting_limit")
    if not text:
        return None
    if parsed is None or parsed.value is None or parsed.state not in {"value", "below"}:
        raise line.wrong("reporting_limit", say("typed.not_a_limit", text=text).text)
    if parsed.unit_text and parsed.unit_text != unit_text:
        one, other = unit(parsed.unit_text), unit(unit_text or "")
        if one is None or one != other:
            problem = say("typed.differs", text=parsed.unit_text, first=unit_text or '""')
            raise line.wrong("reporting_limit", problem.text)
    return parsed.value
