"""Which columns of a table with analytes across say whose water a row is."""

from __future__ import annotations

import re
from collections.abc import Mapping

from .draws import draw_of
from .head_cells import SAMPLE_ROLES
from .head_roles import SURE
from .roles import column_head
from .sheet_samples import sample_columns
from .tables import Table
from .wide import is_sheet
from .words import head_key

_BOTTLE = re.compile(r"\b(?:bottle|sample|lab|id|no|number)\b")
_NUMBERED = frozenset({"lab_id", "sample_id", "client_id"})
_CALENDAR = re.compile(r"(?:19|20)\d\d")
_YEAR = frozenset({"year", "sample year", "sampling year", "jahr"})
_OF_THE_ROW = SAMPLE_ROLES | {"report_id", "method", "fraction", "analyzed"}


def columns_of_sample(table: Table, taken: set[int]) -> dict[str, int]:
    """Return which column gives which fact of the samples; ``taken`` are those of results."""
    if is_sheet(table):
        return sample_columns(table, [table.cells(x) for x in table.lines[:200]], taken)
    roles: dict[str, int] = {}
    for index, column in enumerate(table.columns):
        head = column_head(column)
        if index in taken or not head:
            continue
        if head.role in _OF_THE_ROW:
            roles.setdefault(head.role, index)
        elif head_key(column.head) == "date":  # one date a sample is the day it was taken
            roles.setdefault("collected", index)
    clock = [
        i for i, c in enumerate(table.columns) if head_key(c.head) == "time" and i not in taken
    ]
    if "collected" in roles and clock:
        roles.setdefault("collected_time", clock[0])
    return roles


def _numbers_a_draw(head: str) -> bool:
    """Whether a head stands over the numbers of the bottles of one draw: "Flush bottle"."""
    key = head_key(head)
    return draw_of(key) is not None and _BOTTLE.search(key) is not None


def bottle_columns(table: Table, draws: Mapping[int, str]) -> dict[int, int]:
    """Return the column with the bottle's number of each column of results, by how it was drawn.

    "First draw bottle | Flush bottle | First draw lead | Flush lead".
    """
    found: dict[int, int] = {}
    for index, column in enumerate(table.columns):
        drawn = draw_of(head_key(column.head))
        if index not in draws and _numbers_a_draw(column.head):
            found |= {at: index for at, told in draws.items() if told == drawn}
    return found


def year_column(table: Table, roles: Mapping[str, int]) -> tuple[str, int] | None:
    """Return the column of years, and the role of the name that needs one to be one sample's.

    A year is no day: it goes behind the name, "Well 3, 2021", where one name has several years.
    """
    named = next((r for r in (*sorted(_NUMBERED), "point") if r in roles), None)
    if not is_sheet(table) or "collected" in roles or named is None:
        return None
    rows = [table.cells(line) for line in table.lines]
    for index, column in enumerate(table.columns):
        if head_key(column.head) not in _YEAR:
            continue
        told = [(a.text, b.text) for row in rows if (a := row[roles[named]]) and (b := row[index])]
        years = all(_CALENDAR.fullmatch(year) for _, year in told)
        if years and len(set(told)) > len({name for name, _ in told}):
            return named, index
    return None


def site_column(table: Table, roles: Mapping[str, int]) -> int | None:
    """Return the column of the building or farm where one name stands for several places.

    "Hall, fountain 1" is in each school of a list: the point alone would make them one sample.
    """
    at = roles.get("point")
    if at is None or not is_sheet(table) or roles.keys() & _NUMBERED:
        return None
    rows = [table.cells(line) for line in table.lines]
    points = [c.text if (c := row[at]) is not None else "" for row in rows]
    for index, column in enumerate(table.columns):
        head = column_head(column)
        if index in roles.values() or head is None or head.role != "point" or head.score < SURE:
            continue
        pairs = {
            (c.text, point)
            for row, point in zip(rows, points, strict=True)
            if point and (c := row[index]) is not None
        }
        if len(pairs) > len({point for _, point in pairs}):
            return index
    return None
