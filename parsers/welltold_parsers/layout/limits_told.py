"""Whose limits a column holds: a rule's, or the laboratory's own.

Both may be headed "Limit". A rule's numbers are levels that are known; a laboratory's own equal the
numbers behind "<" in the results, and are known levels only by chance.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from welltold.levels import printed_limits

from .cells import Cell
from .tokens import analyte_in, value_of

_DETECTION = re.compile(r"(?i)\bdet")
_SCALES = (Decimal(1), Decimal(1000), Decimal("0.001"), Decimal(1000000))


def known_share(rows: Sequence[Sequence[Cell | None]], analyte: int, index: int) -> tuple[int, int]:
    """Return how many numbers of a column are known levels, and out of how many."""
    agree = told = 0
    for row in rows[:60]:
        label, cell = row[analyte], row[index]
        if label is None or cell is None:
            continue
        match = analyte_in(label.text)
        value = value_of(cell.text) or value_of(cell.text, decimal_comma=True)
        if match is None or value is None or not value.value:
            continue  # 0 is the level of a germ, and its usual result
        known = printed_limits(match.slug)
        if known:
            told += 1
            agree += any(value.value * scale in known for scale in _SCALES)
    return agree, told


def settle_limits(roles: list[str], heads: Sequence[str]) -> None:
    """Of two limits of the laboratory's take the one headed "Det. Limit" for the detection limit.

    Alone it may be the number that results are reported down to; beside such a number it is not.
    """
    limits = [i for i, role in enumerate(roles) if role == "reporting_limit"]
    lower = [i for i in limits if _DETECTION.search(heads[i])]
    if len(limits) == 2 and len(lower) == 1 and "detection_limit" not in roles:
        roles[lower[0]] = "detection_limit"


def is_lab_limit(
    rows: Sequence[Sequence[Cell | None]], analyte: int, index: int, results: Sequence[int]
) -> bool:
    """Whether a column of limits is the laboratory's own reporting limit."""
    agree, told = known_share(rows, analyte, index)
    same = _same_as_censored(rows, index, results)
    if same >= 2 and agree < 0.5 * told:
        return True
    return told >= 3 and agree <= 0.2 * told


def _same_as_censored(
    rows: Sequence[Sequence[Cell | None]], index: int, results: Sequence[int]
) -> int:
    """Count the rows whose result is "<" this very number."""
    same = 0
    for row in rows[:60]:
        limit = value_of(cell.text) if (cell := row[index]) is not None else None
        if limit is None or limit.value is None:
            continue
        for at in results:
            result = value_of(cell.text) if (cell := row[at]) is not None else None
            same += result is not None and result.operator == "<" and result.value == limit.value
    return same
