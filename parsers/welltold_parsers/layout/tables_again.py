"""One table printed again under another title: the titles name the samples.

"Tap water" over a list of tests, "Filtered tap water" over the same list: no key says whose it is.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from welltold.tables import read_table

from .cells import Line
from .drafts import IDENTITY, Draft
from .draws import how_taken
from .head_cells import SAMPLE_ROLES
from .roles import Plan
from .samples import Samples
from .tables import Table
from .tokens import analytes_within
from .words import heading_region

_SHARE = 0.6
"""So large a share of the tests stands in both tables."""
_FEWEST = 3
_LONGEST = 7
_FAR = 3.5
"""Line heights between a title and its table."""
_ROWS = 3
_FRACTION = re.compile(r"(?i)\b(?:total|dissolved|recoverable|suspended|results? of|tests?)\b")
_WORD = re.compile(r"[a-z]+")


class Titled(NamedTuple):
    """A table that was read: its heads, its tests, the title over it, and whose it is."""

    heads: tuple[str, ...]
    tests: frozenset[str]
    title: str | None
    draft: Draft


def note_title(
    table: Table, plan: Plan, heading: Line | None, before: Sequence[Titled], samples: Samples
) -> None:
    """Take the title over a table for its sample where the same table stood under another one."""
    told = _heads(table), _tests(table, plan)
    title = _title(heading, table)
    if title is None or len(told[1]) < _FEWEST or _names_samples(plan):
        return
    again = [t for t in before if t.heads == told[0] and _shared(t.tests, told[1])]
    if not again or any(t.title in {None, title} for t in again):
        return
    for one in again:
        if one.title and not one.draft.facts.keys() & set(IDENTITY):
            one.draft.facts["point"] = one.title
    if samples.place() in {None, *(t.title for t in again)}:
        samples.note("point", title)


def titled(table: Table, plan: Plan, heading: Line | None, draft: Draft) -> Titled:
    """Return what is kept of a table that was read."""
    return Titled(_heads(table), _tests(table, plan), _title(heading, table), draft)


def _names_samples(plan: Plan) -> bool:
    return len(plan.results) != 1 or not SAMPLE_ROLES.isdisjoint(plan.roles)


def _heads(table: Table) -> tuple[str, ...]:
    return tuple(line.text for line in table.heads)


def _tests(table: Table, plan: Plan) -> frozenset[str]:
    if plan.analyte is None:
        return frozenset()
    cells = (table.cells(line)[plan.analyte] for line in table.lines)
    return frozenset(cell.text for cell in cells if cell is not None)


def _shared(one: frozenset[str], other: frozenset[str]) -> bool:
    return len(one & other) >= _SHARE * max(len(one), len(other), 1)


def _title(heading: Line | None, table: Table) -> str | None:
    """Return the title right over a table where it names a place or says how water was drawn."""
    if heading is None or not table.heads or len(heading.cells) != 1:
        return None
    head, text = table.heads[0], heading.text.strip(" :")
    near = (
        head.index - heading.index <= _ROWS
        if head.sheet is not None
        else 0 <= head.top - heading.bottom <= _FAR * heading.height
    )
    if not near or (head.sheet, head.page) != (heading.sheet, heading.page):
        return None
    if len(text.split()) > _LONGEST or _FRACTION.search(text) or analytes_within(text):
        return None
    words = set(_WORD.findall(text.lower()))
    named = not words.isdisjoint(_places()) or how_taken({"heading": text}) is not None
    return text if named and heading_region(text) is None else None


@cache
def _places() -> frozenset[str]:
    return frozenset(row.text("word") for row in read_table("place_words.csv"))
