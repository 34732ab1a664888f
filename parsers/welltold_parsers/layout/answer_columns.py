"""A column of answers for germs where no column holds numbers: "Present?" over "Yes" and "No"."""

from __future__ import annotations

from collections.abc import Sequence

from .cells import Cell
from .tokens import analyte_in, microbial, value_of

_MAY_ANSWER = frozenset({"", "presence", "detect_flag", "qualifier", "unknown"})


def answer_column(
    rows: Sequence[Sequence[Cell | None]], roles: Sequence[str], analyte: int
) -> int | None:
    """Return the first column that answers for each germ of a table, or None."""
    germs = [row for row in rows if _is_germ(row[analyte])]
    if not germs:
        return None
    for index, role in enumerate(roles):
        if index == analyte or role not in _MAY_ANSWER:
            continue
        cells = [cell for row in germs if (cell := row[index]) is not None]
        answers = [value_of(cell.text, letters=True) for cell in cells]
        told = [a for a in answers if a is not None and a.present is not None]
        if told and len(told) + sum(a is not None and a.state == "blank" for a in answers) == len(
            germs
        ):
            return index
    return None


def _is_germ(cell: Cell | None) -> bool:
    match = analyte_in(cell.text) if cell is not None else None
    return match is not None and microbial(match.slug)
