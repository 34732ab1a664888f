"""Rows among samples that are none: statistics of the others, and results of an earlier time."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from welltold.analytes import Match

from .cells import Cell
from .dates import is_date
from .empties import says_nothing
from .sample_kinds import control_kind
from .sheet_names import summarises
from .tokens import analyte_in, is_number, unit_of, value_of
from .words import split_unit

_STATISTIC = re.compile(
    r"(?i)^(?:(?:over-?all|monthly|annual|yearly|quarterly|geometric|arithmetic|locational"
    r"|running)\s+)*"
    r"(?:averages?|avg|means?|medians?|min(?:imum)?|max(?:imum)?|lowest|highest|ranges?"
    r"|(?:standard|std\.?) dev\w*|totals?|sum|counts?"
    r"|(?:total )?(?:number|no\.|count|percent(?:age)?|share|samples?|sites?|wells?|taps?|outlets?)"
    r" (?:of|above|over|below|under|with|exceeding|tested|taken)"
    r"|n|\d{1,2}(?:st|nd|rd|th)? percentile|percentile)(?![\w-])"
)
"""How the name of a row begins that is made of other rows."""
_EARLIER = re.compile(
    r"(?i)^(?:previous|prior|last|past|earlier)\s+(?:\w+\s+)?"
    r"(?:quarter|month|year|week|period|round|event|sampling|samples?|results?|tests?|values?)\b"
)
_EARLIER_TEST = re.compile(r"(?i)^(?:last|prev(?:ious)?|prior|past|earlier)\b[ .:]+(?P<test>.+)$")
_IN = r"(?:(?:Jan|Feb|Mar|Apr|May|June?|July?|Aug|Sept?|Oct|Nov|Dec)[a-z]*\.? )?(?:19|20)\d\d"
_OF_A_YEAR = re.compile(rf"^(?:{_IN}[ :,-]+(?P<test>[A-Za-z].*)|(?P<name>.+?)[ ,:(-]+{_IN}\)?)$")
"""A test and the year, or the month of a year: "Nitrate-N 2025", "Lead (May 2024)"."""
_CONTROL = re.compile(r"(?i)blank|^(?:lab(?:oratory)? )?control\b")
_FEW = 2
_UNITS = 3
"""So many units, and most of a row, make it a row of units, whatever else stands there."""
_NAMED = ("lab_id", "sample_id", "client_id", "collected")


def sums_up(label: Cell, cells: Sequence[Cell | None], roles: Mapping[str, int]) -> bool:
    """Whether a row below samples is made of them: "Average", "90th percentile (first draw)".

    A name that says more than a statistic counts only where the row has nothing of what tells
    one sample from another: no number and no day. There may be a spring named "Max".
    """
    if summarises(label.text):
        return True
    return _STATISTIC.match(label.text) is not None and _nameless(label, cells, roles)


def is_earlier(label: Cell, cells: Sequence[Cell | None], roles: Mapping[str, int]) -> bool:
    """Whether a row repeats what was found before: "Previous quarter, well 2 (June)"."""
    return _EARLIER.match(label.text) is not None and _nameless(label, cells, roles)


def earlier_test(head: str) -> bool:
    """Whether a column repeats what a test gave before: "Last nitrate (mg/L)"."""
    found = _EARLIER_TEST.match(head)
    return found is not None and analyte_in(split_unit(found["test"])[0]) is not None


def tests_of_past_years(heads: Sequence[str]) -> frozenset[int]:
    """Return which heads name a test and a year, where another names the same test without one.

    "Nitrate-N" beside "Nitrate-N 2025": the number with the year stands there for comparison.
    """
    tests = {i: of for i, head in enumerate(heads) if (of := _of_a_year(head)) is not None}
    plain = {m.slug for i, h in enumerate(heads) if i not in tests and (m := _test(h)) is not None}
    return frozenset(i for i, slug in tests.items() if slug in plain)


def _test(head: str) -> Match | None:
    return analyte_in(split_unit(head)[0])


def _of_a_year(head: str) -> str | None:
    """Return the test that a head with a year names."""
    found = _OF_A_YEAR.match(split_unit(head)[0])
    match = _test(found["test"] or found["name"]) if found is not None else None
    return match.slug if match is not None else None


def _nameless(label: Cell, cells: Sequence[Cell | None], roles: Mapping[str, int]) -> bool:
    """Whether the columns that tell samples apart say nothing in this row."""
    told = [(role, cells[at]) for role in _NAMED if (at := roles.get(role)) is not None]
    others = [(role, c) for role, c in told if c is None or c.text != label.text]
    if not told:
        return False
    return not any(c is not None and (role != "collected" or is_date(c.text)) for role, c in others)


def not_sampled(cells: Sequence[Cell]) -> bool:
    """Whether a row says only that nothing was taken: "not sampled - dry"."""
    if not cells or any(x.isdigit() for c in cells for x in c.text):
        return False
    values = [value_of(c.text) for c in cells]
    blank = [v is not None and v.state == "blank" for v in values]
    return any(blank) and all(v is None or b for v, b in zip(values, blank, strict=True))


def are_units(filled: Sequence[Cell], *, sheet: bool) -> bool:
    """Whether the cells of a row are units; "na" and "-" may stand beside them, never alone."""
    named = {id(c): u.name for c in filled if not is_number(c.text) and (u := unit_of(c.text))}
    units = [n for n in named.values() if n != "ratio"]
    others = [c for c in filled if id(c) not in named and not says_nothing(c.text)]
    told = len(filled) - sum(says_nothing(c.text) for c in filled)
    most = sheet and len(units) >= max(_UNITS, 0.6 * told)
    return bool(units) and (not others or (most and not any(value_of(c.text) for c in others)))


def named_blank(cells: Sequence[Cell | None]) -> str | None:
    """Return the kind of a row of which some column says that it is a blank or a control."""
    for cell in cells:
        if cell is not None and _CONTROL.search(cell.text):
            kind = control_kind(cell.text)
            if kind is not None:
                return kind
    return None


def undated_end(rows: Sequence[Sequence[Cell | None]], at: int | None) -> range:
    """Return which rows at the end of a table have no day, though every row before them has.

    They may be a sum or a limit that nothing names as such.
    """
    dated = [at is not None and (c := row[at]) is not None and is_date(c.text) for row in rows]
    start = len(rows)
    while start and not dated[start - 1]:
        start -= 1
    few = 0 < len(rows) - start <= _FEW
    return range(start, len(rows)) if few and start >= _FEW and all(dated[:start]) else range(0)
