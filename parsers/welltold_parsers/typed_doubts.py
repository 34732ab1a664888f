"""Why a person should look again at a line that was typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from welltold.analytes import Analyte, Match, analyte
from welltold.checks.rules import limit
from welltold.checks.values import BELOW_ZERO, NATURAL
from welltold.messages import Message, say
from welltold.reading import Normalized
from welltold.speech import plain_name
from welltold.tables import read_table
from welltold.units import normalize, unit
from welltold.values import ParsedValue

from .typed_line import Line


@dataclass(frozen=True, slots=True)
class Typed:
    """What was understood of a line."""

    line: Line
    parsed: ParsedValue
    again: ParsedValue | None
    """The result as typed the second time."""
    match: Match | None
    unit: str | None
    shape: Normalized | None
    """The number in the analyte's own unit."""


def doubts(typed: Typed) -> tuple[Message, ...]:
    """Return every doubt of a line."""
    return (*_of_name(typed), *_of_twice(typed), *_of_unit(typed), *_of_size(typed))


def _of_name(typed: Typed) -> Iterator[Message]:
    label, match = typed.line.text("analyte"), typed.match
    if match is None:
        yield say("typed.name_unknown", label=label)
    elif match.how == "fuzzy":
        yield say("typed.name_near", label=label, analyte=plain_name(match.slug))


def _of_twice(typed: Typed) -> Iterator[Message]:
    first, second = typed.line.text("result"), typed.line.text("result_again")
    again = typed.again
    if second and first != second and (again is None or _states(typed.parsed) != _states(again)):
        yield say("typed.twice_differs", first=first, second=second)
    elif not second and typed.match and analyte(typed.match.slug).health:
        yield say("typed.twice_missing")


def _states(parsed: ParsedValue) -> tuple[object, ...]:
    return parsed.state, parsed.value, parsed.present, parsed.qualifiers, parsed.unit_text


def _of_unit(typed: Typed) -> Iterator[Message]:
    known = unit(typed.unit) if typed.unit else None
    match, number = typed.match, typed.parsed.value
    if typed.unit and known is None:
        yield say("typed.unit_unknown", unit=typed.unit)
    elif known is None:
        if number is not None and (match is None or match.slug != "ph"):
            yield say("typed.unit_missing")
    elif match and number is not None and typed.shape is None:
        own = analyte(match.slug)
        by_activity = own.slug == "uranium" and known.kind == "activity"
        if not by_activity and normalize(own.slug, number, known.name, own.basis) is None:
            yield say("typed.unit_unfit", unit=typed.unit, analyte=plain_name(own.slug))


def _of_size(typed: Typed) -> Iterator[Message]:
    """Doubt a number that no water can have, or that lies far beyond what groundwater holds."""
    number = typed.shape.value if typed.shape else typed.parsed.value
    if typed.match is None or number is None or typed.parsed.state != "value":
        return
    own = analyte(typed.match.slug)
    if typed.shape is None and own.slug != "ph":
        return
    if not _can_be(own, number):
        yield say("typed.cannot_be", text=typed.parsed.text, analyte=plain_name(own.slug))
    elif _is_far(own, number):
        yield say("typed.far", text=typed.parsed.text, analyte=plain_name(own.slug))


def _can_be(own: Analyte, number: Decimal) -> bool:
    least, most = _possible().get(own.slug, (None, None))
    if least is None and own.slug not in BELOW_ZERO and own.group != "index":
        least = Decimal(0)
    return (least is None or number >= least) and (most is None or number <= most)


def _is_far(own: Analyte, number: Decimal) -> bool:
    if own.slug == "ph":
        times, low = Decimal(1), own.natural_low
    else:
        times, low = limit(NATURAL, "times"), None
    high = own.natural_high
    return (high is not None and number > high * times) or (low is not None and number < low)


@cache
def _possible() -> Mapping[str, tuple[Decimal | None, Decimal | None]]:
    return {
        row.text("slug"): (row.number("least"), row.number("most"))
        for row in read_table("possible_values.csv")
    }
