"""Which part of a sheet the heads of a table announce: quality control, prices, a summary."""

from __future__ import annotations

import re

from .cells import Line
from .column import Column
from .head_cells import SAMPLE_ROLES
from .roles import column_head
from .tables import Table
from .tokens import analyte_in, microbial, value_of
from .words import region_of, split_unit

PLANNED_ON = 200
"""Lines of a table, or of a page, that tell what the rest is like."""
_BESIDE = frozenset({"invoice", "custody", "accreditation", "qc"})
"""Regions that a head announces only where no column is plainly headed as results."""
_SURROGATE = re.compile(r"(?i)\bsurrogates?\b|\bisotope dilution\b|\binternal standards?\b")
_YEARLY = re.compile(
    r"(?i)^(?:mclg\b.*|.+\bsources?\b.*|sources? (?:of|in)\b.*|range\b.*"
    r"|(?:sample )?year(?: sampled)?"
    r"|.*\bviolations?\b.*)$"
)
_YEARLY_HEADS = 3
"""A supply's yearly table has so many of a goal, a source, a range, a year, a violation."""
_TESTS = 2
_ON_SITE = frozenset(
    {"ph", "temperature", "free_chlorine", "total_chlorine", "specific_conductance"}
)
"""What whoever fills the bottles writes on their form."""
_CONTROL = frozenset({"recovery", "rpd", "spike", "source_result"})


def has_value(line: Line) -> bool:
    """Whether a line has a result among several cells: a number, or for a germ an answer."""
    if len(line.cells) < 2:
        return False
    texts = [cell.text for cell in line.cells]
    if any(value_of(t) or value_of(t, decimal_comma=True) for t in texts):
        return True
    germ = any((m := analyte_in(t)) is not None and microbial(m.slug) for t in texts[:2])
    return germ and any(value_of(t, letters=True) for t in texts[1:])


def told_by_heads(table: Table) -> str | None:
    """Return the region that the heads of a table announce: quality control, prices, a summary."""
    named = any(
        h.role == "result" and h.score > 0.9 for c in table.columns if (h := column_head(c))
    )
    if sum(_YEARLY.search(c.head) is not None for c in table.columns) >= _YEARLY_HEADS:
        return "summary"
    for column in table.columns:
        head = column_head(column)
        if head and head.role in _CONTROL and head.score > 0.6 and not _seldom(table, column):
            return "qc"
        if _SURROGATE.search(column.head):
            return "qc"
        for text in (column.head, *(c.text for c in column.head_cells)):
            found = region_of(split_unit(text)[0], "head")
            if found and not (found in _BESIDE and named):
                return found
    return None


def plainly_results(table: Table) -> bool:
    """Whether the heads of a table name the tests, their results and their units outright."""
    roles = {h.role for c in table.columns if (h := column_head(c)) and h.score > 0.9}
    return {"analyte", "result", "unit"} <= roles and any(map(has_value, table.lines))


def plainly_answers(table: Table) -> bool:
    """Whether a table with samples down and tests across is filled in by the lab.

    A form of custody has field readings of its own; no lab's answers stand on it.
    """
    named = any(h.role in SAMPLE_ROLES for c in table.columns if (h := column_head(c)))
    tests = {
        at: match.slug
        for at, c in enumerate(table.columns)
        if (match := analyte_in(c.head)) is not None
    }
    if not named or len(tests) < _TESTS:
        return False
    rows = [
        cells for line in table.lines if len(line.cells) > _TESTS and (cells := table.cells(line))
    ]
    answered = [
        {slug for at, slug in tests.items() if (c := cells[at]) and _answer(c.text, slug)}
        for cells in rows
    ]
    told = {slug for found in answered if len(found) >= _TESTS for slug in found}
    return bool(told - _ON_SITE)


def _answer(text: str, slug: str) -> bool:
    return value_of(text, letters=microbial(slug)) is not None


def _seldom(table: Table, column: Column) -> bool:
    """Whether a column of a data file says nothing in most rows: it is for the others."""
    lines = table.lines[:PLANNED_ON]
    if not lines or lines[0].sheet is None:
        return False
    filled = sum(any(c.left == column.left for c in line.cells) for line in lines)
    return filled <= 0.5 * len(lines)
