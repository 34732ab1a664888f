"""Puts what a form holds where it stands: the tests among its keys, and the keys of several forms.

    SAMPLING POINT    DATE COLLECTED    FREE CHLORINE, mg/L
    Unit 4 kitchen    06/09/2026        0.6

Free chlorine is a result of the sample that the keys describe. Where a page holds several slips,
the keys of each are taken up in their place, or all results would belong to the last slip.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from .cells import Cell, Line
from .forms import bare_key, facts_in
from .headings import cell_of
from .tokens import analyte_in, microbial, value_of

_ALIGNED = 10.0
_TELLING = frozenset({"lab_id", "sample_id", "client_id", "point", "collected"})

_Pairs = Sequence[tuple[Line, Line]]


def several_forms(pairs: _Pairs) -> bool:
    """Whether a row of keys that tell of a sample comes again on the page."""
    told = [
        tuple(c.text for c in keys.cells)
        for keys, values in pairs
        if any(f.role in _TELLING for f in facts_in(keys, values))
    ]
    return len(told) > len(set(told))


def in_place(lines: Sequence[Line], pairs: _Pairs, *, facts: bool) -> list[Line]:
    """Return the lines without the rows of the pairs; tests, and ``facts``, put in their place."""
    made = {id(keys): list(_lines_of(keys, values, facts=facts)) for keys, values in pairs}
    gone = {id(values) for _, values in pairs}
    return [one for line in lines if id(line) not in gone for one in made.get(id(line), [line])]


def _lines_of(keys: Line, values: Line, *, facts: bool) -> Iterator[Line]:
    """Yield a line for each test among the keys, behind one for each fact."""
    if facts:
        facts_told = facts_in(keys, values)
        clock = next((f.text for f in facts_told if f.role == "collected_time"), None)
        for fact in (f for f in facts_told if f.role != "collected_time"):
            text = f"{fact.text} {clock}" if clock and fact.role == "collected" else fact.text
            yield _line(values, [cell_of(fact.cell, f"{bare_key(fact.key)}: {text}")])
    for key in keys.cells:
        match = analyte_in(key.text)
        under = [v for v in values.cells if abs(v.left - key.left) < _ALIGNED]
        if match is None or not under:
            continue
        if value_of(under[0].text, letters=microbial(match.slug)) is not None:
            made = _line(values, [key, under[0]])
            made.answer = (key, under[0])
            yield made


def _line(at: Line, cells: list[Cell]) -> Line:
    made = Line(at.index, page=at.page, plain_text=at.plain_text)
    made.top, made.bottom = at.top, at.bottom
    made.cells = cells
    return made
