"""Columns of numbers that belong to the tests and not to the samples: "Contam ID"."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell
from .head_roles import SURE
from .words import Head

_NUMBERS = frozenset({"sample_id", "lab_id", "client_id"})
_FEWEST = 4


def codes_of_tests(
    roles: list[str],
    heads: Sequence[Head | None],
    rows: Sequence[Sequence[Cell | None]],
    analyte: int,
) -> None:
    """Take a vaguely headed column for codes where each test has a number of its own.

    One sample's number would stand beside many tests; a list with another sample and another test
    in every row is no sheet of a laboratory.
    """
    for index, (role, head) in enumerate(zip(roles, heads, strict=True)):
        if role not in _NUMBERS or head is None or head.score >= SURE:
            continue
        pairs = [
            (one.text, other.text)
            for row in rows
            if (one := row[index]) is not None and (other := row[analyte]) is not None
        ]
        distinct = all(len(set(side)) == len(pairs) for side in zip(*pairs, strict=True))
        if len(pairs) >= _FEWEST and distinct:
            roles[index] = "code"
