"""Heads of a sheet that only their place among known columns tells: few words, many codes.

Asked only where `heads` found none, or only a list of samples: "measurement, ref1, ref2",
"field_date, do, no3", a result file of 182 columns of which five matter.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .cells import Cell, Line
from .dates import is_date
from .families import family_word
from .head_cells import SAMPLE_ROLES, head_analyte
from .heads import HeadLine, keys_and_values
from .sheet_names import companion_of, stem_of
from .short_names import short_name
from .tokens import analyte_in, is_number, unit_of, value_of
from .words import head_key, head_of

_AHEAD = 12
_SURE = 0.9
_YEARS = 2
_CORE = frozenset({"analyte", "result"})
_FIRST = _CORE | frozenset({"sample_id", "lab_id", "client_id", "point"})
_CALENDAR = re.compile(r"(?:19|20)\d\d")
_WHEN = frozenset({"date", "time", "month", "year", "day"})


def sheet_head(lines: Sequence[Line], at: int) -> HeadLine | None:
    """Return what kind of head a line of a sheet is, by what stands below it; or None."""
    line = lines[at]
    cells = line.cells
    if line.sheet is None or len(cells) < 2 or any(c.text.endswith(":") for c in cells[:2]):
        return None
    below = lines[at + 1 : at + 1 + _AHEAD]
    if keys_and_values(cells) or not any(is_number(c.text) for b in below for c in b.cells):
        return None
    roles = {h.role for c in cells if (h := head_of(c.text)) and h.score >= _SURE}
    numbers = sum(map(_plain_number, cells))
    if {"analyte", "result"} <= roles and not numbers and len(cells) >= 3:
        return HeadLine("rows", at)
    if _crosstab(cells, below) or _years_behind(cells, below):
        return HeadLine("rows", at)
    if numbers <= 0.1 * len(cells) and _wide(cells, below, roles):
        return HeadLine("across", at)
    return None


def _plain_number(cell: Cell) -> bool:
    """Whether a cell is a number that stands for no test: "00618" does."""
    return is_number(cell.text) and short_name(cell.text) is None


def _crosstab(cells: Sequence[Cell], below: Sequence[Line]) -> bool:
    """Whether a line heads samples by codes of their own, over rows that begin with an analyte."""
    first = head_of(cells[0].text)
    if first is None or first.score < _SURE or first.role not in _FIRST:
        return False
    numbers = [c.text for c in cells[1:] if is_number(c.text)]
    if not all(_CALENDAR.fullmatch(t) for t in numbers) or len(cells) < 3:
        return False
    rows = [b for b in below if b.cells[0].left == cells[0].left]
    named = [b for b in rows if _names(b.cells[0].text)]
    good = [b for b in named if any(is_number(c.text) for c in b.cells[1:])]
    if first.role not in _CORE and (len(named) < 2 or _headed_below(below)):
        return False
    return len(good) >= 1 and len(named) >= 0.5 * len(rows)


def _years_behind(cells: Sequence[Cell], below: Sequence[Line]) -> bool:
    """Whether years stand behind the head of the tests: "Station | Parameter | 2020 | 2021"."""
    at = next((i for i, c in enumerate(cells[:3]) if _role(c) == "analyte"), None)
    years = [c for c in cells if _CALENDAR.fullmatch(c.text)]
    if at is None or len(years) < _YEARS or years[0] is not cells[-len(years)]:
        return False
    edge, starts = cells[at].left, {c.left for c in years}
    named = [b for b in below if any(c.left == edge and _names(c.text) for c in b.cells)]
    good = [b for b in named if any(c.left in starts and _valued(c) for c in b.cells)]
    return len(good) >= 1


def _role(cell: Cell) -> str | None:
    head = head_of(cell.text)
    return head.role if head is not None and head.score >= _SURE else None


def _headed_below(below: Sequence[Line]) -> bool:
    """Whether the real head of a table follows."""
    heads = (head_of(c.text) for line in below for c in line.cells)
    return any(h is not None and h.score >= _SURE and h.role in _CORE for h in heads)


def _names(text: str) -> bool:
    return analyte_in(text) is not None or short_name(text) is not None


def _valued(cell: Cell) -> bool:
    return value_of(cell.text) is not None and unit_of(cell.text) is None and not is_date(cell.text)


def _wide(cells: Sequence[Cell], below: Sequence[Line], roles: set[str]) -> bool:
    """Whether a line heads analytes, perhaps only one beside a date or a place."""
    stems = {stem_of(c.text): i for i, c in enumerate(cells)}
    sure: set[str] = set()
    found: list[Cell] = []
    family = family_word([c.text for c in cells])
    for number, cell in enumerate(cells):
        told = companion_of(cell.text, stems)
        if told is not None and told[1] != number:
            continue
        slug, plain = _analyte(cell.text.removeprefix(family))
        if slug:
            found.append(cell)
            if plain:
                sure.add(slug)
    placed = bool(roles & SAMPLE_ROLES) or any(head_key(c.text) in _WHEN for c in cells)
    if not (len(sure) >= 2 or (sure and placed) or (len(found) >= 4 and placed)):
        return False
    lefts = {c.left for c in found}
    good = 0
    for line in below:
        under = sum(is_number(c.text) for c in line.cells if c.left in lefts)
        good += under >= 1 and not any(
            analyte_in(c.text) for c in line.cells[:1] if len(c.text) > 2
        )
    return good >= 1 and not any(_valued(c) and _plain_number(c) for c in cells)


def _analyte(text: str) -> tuple[str | None, bool]:
    slug = head_analyte(text)
    if slug:
        return slug, len(text) > 2 or text == "pH"
    named = short_name(text)
    return (named.slug, named.sure and len(text) > 2) if named else (None, False)
