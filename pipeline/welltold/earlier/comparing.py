"""Whether one earlier result can stand beside the present one, and in which unit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from ..conversion import convert
from ..errors import UnitMismatchError
from ..interpretation import Finding, SampleView
from ..messages import Message, say
from ..past import EarlierResult
from ..reading import Reading, Result
from ..verdicts.pairs import FROM_PIPES


@dataclass(frozen=True, slots=True)
class Then:
    """One finding of an earlier sheet."""

    sheet: int
    reading: Reading
    sample: SampleView
    finding: Finding


def compared(now: Finding, sample: SampleView, then: Then) -> EarlierResult:
    """Return an earlier result in the unit and basis of the present one, or why it is not."""
    found = then.finding
    value, problem = _value(now, found)
    why = (*_doubts(then), *_taken(now, sample, then), *_fraction(now, found))
    why += (problem,) if problem else ()
    return EarlierResult(
        sheet=then.sheet,
        collected=then.sample.collected,
        text=found.text,
        printed_unit=printed_unit_of(then),
        operator=found.operator,
        value=value,
        present=found.present,
        comparable=not why,
        why=why,
    )


def _value(now: Finding, then: Finding) -> tuple[Decimal | None, Message | None]:
    """Return the earlier number in the present unit, or what is in the way."""
    if then.present is not None:
        return None, None if now.present is not None else say("earlier.no_number")
    if then.value is None or then.unit is None:
        return None, say("earlier.no_number")
    if now.unit is None:
        return None, say("earlier.unit")
    try:
        value = convert(then.value, now.analyte or "", then.unit, then.basis, now.unit, now.basis)
    except UnitMismatchError:
        return None, say("earlier.unit")
    return value, None


def printed_unit_of(then: Then) -> str | None:
    """Return the unit that the lab printed for an earlier finding."""
    return next((one.unit for one in _lines(then) if one.unit), None)


def _lines(then: Then) -> list[Result]:
    """Return the lines of the sheet that the earlier finding rests on."""
    found = then.finding
    return [
        one
        for one in then.reading.results
        if found.where and (one.where, one.label) == (found.where, found.label)
    ]


def _doubts(then: Then) -> Iterator[Message]:
    """Yield what makes the earlier line doubtful in itself."""
    if any(one.use == "look" for one in _lines(then)):
        yield say("earlier.look")
    if then.sample.collected is None:
        yield say("earlier.no_day")


def _taken(now: Finding, sample: SampleView, then: Then) -> Iterator[Message]:
    """Yield that the water was drawn in another way, where that changes the result.

    Treatment changes everything; water that stood in the pipes only what comes from them.
    """
    ways = {sample.taken, then.sample.taken}
    pipes = now.analyte in FROM_PIPES and "first_draw" in ways
    if None not in ways and len(ways) > 1 and ("treated" in ways or pipes):
        was = say(f"earlier.taken_{then.sample.taken}").text
        yield say("earlier.taken", then=was, now=say(f"earlier.taken_{sample.taken}").text)


def _fraction(now: Finding, then: Finding) -> Iterator[Message]:
    kinds = {now.fraction, then.fraction}
    if None not in kinds and len(kinds) > 1:
        yield say("earlier.fraction")
