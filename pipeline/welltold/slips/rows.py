"""What one row says against itself: its reporting limit, and the lab's word beside it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal, InvalidOperation

from ..reading import Result
from .rules import status_words

STATUS, REPORTING = "status_column", "reporting_limit"
ESTIMATED = frozenset({"J", "I", "E", "EST", "~", "J+", "J-"})
"""Marks with which a lab prints a number under its reporting limit on purpose."""
LIMIT = re.compile(r"\d+(?:[.,]\d+)?(?:\s*(?:-|–|to)\s*(\d+(?:[.,]\d+)?))?")


def contradictions(result: Result) -> tuple[str, ...]:
    """Return the names of what a row's own limits, in its own unit, say against it."""
    return tuple(_against(result)) if result.analyte else ()


def _against(result: Result) -> Iterator[str]:
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
