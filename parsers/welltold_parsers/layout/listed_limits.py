"""Limits that a sheet lists after its results: below which number each test is "not detected".

"Reporting limits: lead 1, arsenic 2 µg/L; nitrate (as N) 0.1 mg/L." in a note, or a table of tests
and limits without results. They are filled in last, where a result says "ND" and no limit itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import NamedTuple

from welltold.errors import UnitMismatchError
from welltold.reading import Result, Sample
from welltold.units import convert, normalize

from .cells import Cell, Line, join, where
from .headings import cell_of
from .roles import Plan
from .tables import Table
from .tokens import analyte_in, label_of, unit_of, value_of

_TITLE = re.compile(
    r"(?i)\b(?:(?:reporting|reportable|detection|quantitation|quantification) (?:limit|level)s?"
    r"|limits? of (?:detection|quantitation|quantification|reporting)"
    r"|(?:smallest|lowest|least) (?:reportable|detectable|reported) (?:amount|level|value)s?"
    r"|(?:MRL|RL|MDL|PQL|LOQ|LOD|RDL)s?)\b"
    r"(?: ?[(\[](?P<unit>[^()\[\]]{1,12})[)\]]| in (?P<in>\S{1,8}?))?"
    r"(?: (?:of|for|at|by|from|in) (?:the |our |this |these |each )?(?:testing |contract )?"
    r"(?:lab(?:oratory)?(?:'s)?|methods?|tests?|analys[ei]s|report|instruments?|batch)\b)?"
    r"(?: used)? ?(?:are as follows|are|were|is|was)? ?[:=–—(\[-] ?"
)
_ITEM = re.compile(
    r"[ ,;]*(?:and )?(?P<names>[A-Za-z][^\d;<>=:.]*?)[ =:<–]*(?P<number>\d*\.?\d+) ?"
)
_LEAST = re.compile(
    r"(?i)(?:the )?(?:smallest|lowest|least|minimum) (?:amount|level|value|concentration)s?"
    r" (?:that )?(?:(?:we|the lab(?:oratory)?|our lab(?:oratory)?) )?(?:can |could )?"
    r"(?:report|detect|measure|see|find)(?:ed|s)?"
    r"(?: (?:for|of) (?:\w+ ){0,4}not (?:detected|found))?:?"
)
_ROW = re.compile(r"(?P<names>[A-Za-z].*?) (?P<number>\d*\.?\d+) (?P<unit>\S+)")
_APART = re.compile(r",|&|\band\b")
_WORDS = 3
"""A unit has no more words."""
_CELLS = 3
"""A line of a sheet with more cells is a row, not a note."""
_FIRST_WORDS = 40
"""A line that says more before its list is read all the same."""
_ON = 6
"""Lines over which a list may go on."""


class Listed(NamedTuple):
    """A limit with the unit that stands beside it, if any does, and its place."""

    number: Decimal
    unit: str | None
    cell: Cell


class ListedLimits:
    """The limits of tests that the notes and tables of a sheet list."""

    __slots__ = ("_by_slug", "_cells")

    def __init__(self) -> None:
        self._by_slug: dict[str, set[tuple[Decimal, str | None]]] = {}
        self._cells: dict[str, Cell] = {}

    def look(self, lines: Sequence[Line]) -> list[Line]:
        """Keep what the notes of a page list; return the lines that hold nothing else."""
        taken: list[Line] = []
        for at, line in enumerate(lines):
            if _LEAST.fullmatch(_plain(line)):
                taken.extend((line, *self._rows(lines[at + 1 :])))
                continue
            row = line.sheet is not None and len(line.cells) > _CELLS
            found = None if row else _TITLE.search(_plain(line))
            if found is None:
                continue
            following = [_plain(x) for x in lines[at + 1 : at + _ON]]
            rest = " ".join([_plain(line)[found.end() :], *following])
            end = 0
            for slug, number, unit, upto in listed_in(rest, found["unit"] or found["in"]):
                self._keep(slug, number, unit, join(line.cells))
                end = upto
            within = list(_within(lines[at : at + _ON], _plain(line)[: found.end()], end))
            taken.extend(within if found.start() < _FIRST_WORDS else within[1:])
        return taken

    def _rows(self, lines: Sequence[Line]) -> Iterator[Line]:
        """Keep a name, a number and a unit on each line below a title; yield those lines."""
        for line in lines:
            row = _ROW.fullmatch(_plain(line))
            match = analyte_in(row["names"]) if row is not None else None
            if row is None or match is None or unit_of(row["unit"]) is None:
                return
            self._keep(match.slug, Decimal(row["number"]), row["unit"], join(line.cells))
            yield line

    def take(self, table: Table, plan: Plan) -> None:
        """Keep the limits of a table that has no results."""
        limit = next((i for i, r in enumerate(plan.roles) if r in _ROLES), None)
        if limit is None or plan.analyte is None:
            return
        at = plan.shared.get("unit", plan.roles.index("unit") if "unit" in plan.roles else None)
        for line in table.lines:
            cells = table.cells(line)
            label, cell = cells[plan.analyte], cells[limit]
            match = label_of(label.text).match if label is not None else None
            value = value_of(cell.text.lstrip("< ")) if cell is not None else None
            if match is None or cell is None or value is None or value.value is None:
                continue
            beside = cells[at] if at is not None else None
            unit = value.unit_text or (beside.text if beside is not None else None)
            if unit is not None and unit_of(unit) is not None:
                self._keep(match.slug, value.value, unit, cell)

    def _keep(self, slug: str, number: Decimal, unit: str | None, cell: Cell) -> None:
        self._by_slug.setdefault(slug, set()).add((number, unit))
        self._cells[slug] = cell_of(cell, f"{number} {unit or ''}".strip())

    def filled(self, sample: Sample) -> Sample:
        """Return a sample with the limits of what was "not detected" filled in."""
        if not self._by_slug:
            return sample
        return replace(sample, results=tuple(map(self._with_limit, sample.results)))

    def _with_limit(self, result: Result) -> Result:
        told = self._by_slug.get(result.analyte or "")
        open_ = result.state == "below" and result.value is None
        if not open_ or not told or len(told) > 1 or result.analyte is None:
            return result
        if result.reporting_limit is not None or result.detection_limit is not None:
            return result
        number = _in_unit(result, *next(iter(told)))
        if number is None:
            return result
        return replace(
            result,
            value=number,
            reporting_limit=number,
            normalized=normalize(result.analyte, number, result.unit, result.basis)
            if result.unit
            else None,
            where=(*result.where, where("limit", self._cells[result.analyte])),
        )


_ROLES = ("reporting_limit", "detection_limit")


def _in_unit(result: Result, number: Decimal, unit: str | None) -> Decimal | None:
    """Return a listed limit in the unit of a result; None: the two do not fit."""
    if result.unit is None or result.analyte is None:
        return None
    one, other = unit_of(unit) if unit else None, unit_of(result.unit)
    if unit is None or (one is not None and other is not None and one.name == other.name):
        return number
    try:
        return convert(number, result.analyte, unit, result.basis, result.unit, result.basis)
    except UnitMismatchError:
        return None


def listed_in(
    text: str, default: str | None = None
) -> Iterator[tuple[str, Decimal, str | None, int]]:
    """Yield analyte, number, unit and where each item of a list ends, from its start.

    An item without a unit has that of the next one up to a semicolon, else ``default``.
    """
    found: list[tuple[list[str], Decimal, str | None, int, bool]] = []
    at = 0
    while (item := _ITEM.match(text, at)) is not None:
        slugs = _slugs(item["names"])
        unit, end = _unit_at(text, item.end())
        if not slugs or (end < len(text) and text[end] not in " ,;.)]"):
            break
        found.append((slugs, Decimal(item["number"]), unit, end, text[end : end + 1] == ";"))
        at = end
        if text[end : end + 1] in {".", ")", "]"}:
            break
    units = [unit or default for _, _, unit, _, _ in found]
    for n in range(len(found) - 2, -1, -1):
        if found[n][2] is None and not found[n][4]:
            units[n] = units[n + 1]
    if len(found) == 1 and units[0] is None:
        return
    for (slugs, number, _, end, _), spelled in zip(found, units, strict=True):
        yield from ((slug, number, spelled, end) for slug in slugs)


def _slugs(names: str) -> list[str]:
    """Return the analytes that a text names, one by one; none: a word of it is no name."""
    whole = analyte_in(names.strip(" ,"))
    if whole is not None:
        return [whole.slug]
    parts = [p for p in (part.strip(" ,") for part in _APART.split(names)) if p]
    matches = [analyte_in(part) for part in parts]
    return [m.slug for m in matches if m is not None] if all(matches) else []


def _unit_at(text: str, at: int) -> tuple[str | None, int]:
    words = text[at : at + 40].split(" ")
    last = next((n for n, word in enumerate(words, 1) if word.endswith((",", ";", "."))), _WORDS)
    for size in range(min(_WORDS, last, len(words)), 0, -1):
        spelled = " ".join(words[:size]).rstrip(",;.)]")
        if spelled and unit_of(spelled) is not None:
            return spelled, at + len(spelled)
    return None, at - (text[at - 1 : at] == " ")


def _plain(line: Line) -> str:
    return " ".join(line.text.split())


def _within(lines: Sequence[Line], before: str, end: int) -> Iterator[Line]:
    """Yield the lines over which a list goes that ends so many letters behind its title."""
    left = end + len(before)
    for line in lines:
        if left <= 0 or not end:
            return
        yield line
        left -= len(_plain(line)) + 1
