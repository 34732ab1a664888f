"""Rows that hold two tests with a stroke between them: "Total cations / anions   8.48 / 8.69".

Each becomes a row of its own. A row that gives its result in the second unit of the table, as its
own unit says, has it in the place of the result.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from welltold.units import unit

from .cells import Cell
from .headings import cell_of
from .roles import Plan
from .tables import Table
from .tokens import analyte_in, unit_of

Cells = list[Cell | None]
_STROKE = re.compile(r"\s+/\s+|\s+&\s+|\s+and\s+")
_PAIR = re.compile(r"(?P<one>[<>]?\s?[\d.,]+|ND|nd)\s*/\s*(?P<other>[<>]?\s?[\d.,]+|ND|nd)")


def in_second_unit(cells: Cells, table: Table, plan: Plan) -> Cells:
    """Return a row; a result in the column of the second unit that the row's own unit names."""
    for result in plan.results:
        at = plan.column("unit", result)
        own = cells[at] if at is not None else None
        second = result.index + 1
        if own is None or cells[result.index] is not None or second >= len(cells):
            continue
        found, heads = cells[second], table.columns[second].head_cells
        if found is None or plan.roles[second] != "second_value" or not heads:
            continue
        one, other = unit(own.text), unit(heads[-1].text.strip("()[] "))
        if one is not None and other is not None and one.name == other.name:
            cells[result.index], cells[second] = found, None
    return cells


def rows_of_two(cells: Cells, plan: Plan) -> Iterator[Cells]:
    """Yield the rows that a row of a table is: two where it names two tests, and two numbers."""
    label = cells[plan.analyte] if plan.analyte is not None else None
    names = two_names(label.text) if label is not None else None
    results = {r.index for r in plan.results}
    filled = [i for i in results if cells[i] is not None]
    pairs = {i: p for i in filled if (c := cells[i]) and (p := _PAIR.fullmatch(c.text))}
    if label is None or names is None or not filled or len(pairs) < len(filled):
        yield cells
        return
    for name, side in zip(names, ("one", "other"), strict=True):
        row = [cell_of(c, pairs[i][side]) if c and i in pairs else c for i, c in enumerate(cells)]
        row[plan.analyte or 0] = cell_of(label, name)
        yield row


def is_pair(text: str) -> bool:
    """Whether a text is two results with a stroke between them: "3.1 / 0.2"."""
    return _PAIR.fullmatch(text) is not None


def two_names(text: str) -> tuple[str, str] | None:
    """Return the two tests that a label names, the words before both given to each."""
    parts = _STROKE.split(text.strip(" :"))
    if len(parts) != 2 or not all(parts):
        return None
    first, second = parts
    before, _, _ = first.rpartition(" ")
    for other in (f"{before} {second}".strip(), second):
        one, two = analyte_in(first), analyte_in(other)
        if one is not None and two is not None and one.slug != two.slug:
            return (first, other) if unit_of(other) is None else None
    return None
