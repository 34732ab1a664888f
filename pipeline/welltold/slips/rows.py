"""What one row says against itself: its range, its reporting limit, the lab's word beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from ..analytes import registry
from ..checks import values
from ..checks.sheet import Sheet
from ..reading import Result, Sample
from ..site import Site
from .rules import status_words

STATUS, REPORTING = "status_column", "reporting_limit"
ESTIMATED = frozenset({"J", "I", "E", "EST", "~", "J+", "J-"})
"""Marks with which a lab prints a number under its reporting limit on purpose."""
LIMIT = re.compile(r"\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?")


def contradictions(result: Result) -> tuple[str, ...]:
    """Return the names of what speaks against one row as it stands."""
    if result.analyte not in registry():
        return ()
    return (*_nature(result), *own_limits(result))


def consents(result: Result) -> tuple[str, ...]:
    """Return the names of what a row's own limit and word can say, when they do not contradict."""
    possible = []
    if _says(result) is not None and _limit(result) is not None:
        possible.append(f"{STATUS}:{result.analyte}")
    if result.reporting_limit is not None:
        possible.append(f"{REPORTING}:{result.analyte}")
    return tuple(name for name in possible if name not in tuple(own_limits(result)))


def _nature(result: Result) -> Iterator[str]:
    if result.state == "value":
        sheet = Sheet(Sample(results=(result,)), (), Site())
        yield from (one.check for one in values.checks(sheet) if one.outcome == "doubt")


def own_limits(result: Result) -> Iterator[str]:
    """Yield what a row's own limits say against it; they are in the unit of the row."""
    number = result.value if result.state == "value" else None
    limit, says = _limit(result), _says(result)
    low = number if number is not None else Decimal(0) if result.state == "below" else None
    if low is not None and limit is not None and says == ("within" if low > limit else "over"):
        yield f"{STATUS}:{result.analyte}"
    least = result.reporting_limit
    estimated = ESTIMATED & set(result.qualifiers)
    if number is not None and least is not None and number < least and not estimated:
        yield f"{REPORTING}:{result.analyte}"


def _says(result: Result) -> str | None:
    """Return what the lab's word beside a result says of its printed limit."""
    said = {status_words().get(mark.upper()) for mark in result.qualifiers} - {None}
    return said.pop() if len(said) == 1 else None


def _limit(result: Result) -> Decimal | None:
    """Return the printed limit as a number; None for words and for ranges."""
    found = LIMIT.fullmatch((result.printed_limit or "").strip())
    if found is None or found[1]:
        return None
    try:
        return Decimal(found[0].replace(",", "."))
    except InvalidOperation:
        return None
