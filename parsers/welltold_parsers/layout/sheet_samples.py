"""Which columns of a sheet say what of a sample: its number, its place, its day, its depth.

A sheet has many columns that could: codes of owners, counters of rows, two names for one place.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from .cells import Cell
from .column import Column
from .dates import is_date
from .draws import draw_of
from .empties import says_nothing
from .head_cells import SAMPLE_ROLES
from .sample_kinds import code_kind
from .sheet_names import looks_like_code
from .tables import Table
from .tokens import unit_of
from .words import Head, head_key, head_of

Rows = Sequence[Sequence[Cell | None]]

PLACED = frozenset({"sample_id", "lab_id", "client_id", "point"})
LEFT_OUT = "volume"
"""The role of a column that is accounted for and says nothing about a result."""
_GENERIC = frozenset(
    {
        "id",
        "source",
        "description",
        "place",
        "facility",
        "building",
        "bldg",
        "water name",
        "waterbody",
        "waterbody name",
        "water body",
        "lake",
        "lake name",
        "river",
        "river name",
        "stream",
        "stream name",
        "village",
        "park",
        "location",
        "location description",
    }
)
"""Heads of a place that a plainer head beats."""
_LOTS = frozenset({"lot", "lot no", "lot number", "parcel", "parcel no", "cabin", "camp", "house"})
_OF_THE_ROW = SAMPLE_ROLES | {"report_id", "method", "fraction", "analyzed"}
"""What one column says of every result of its row."""
_ONE_OF = tuple(sorted(SAMPLE_ROLES - {"sample_type"}))
_DAY = frozenset({"date", "datum"})
"""Heads that tell a day of any kind."""
_DEPTH = re.compile(
    r"(?:sample |sampling |water )?depth(?: (?:m|ft|cm|feet|meters|metres|category|code))?"
)


def sample_columns(table: Table, rows: Rows, taken: set[int]) -> dict[str, int]:
    """Return which column gives which fact of the sample, in a sheet with analytes across."""
    heads = [_head(c) for c in table.columns]
    roles = ["" if i in taken else (h.role if h else "") for i, h in enumerate(heads)]
    only_one(table, rows, heads, roles)
    when_sampled(table, rows, roles, across=True)
    found: dict[str, int] = {}
    for index, role in enumerate(roles):
        if role in _OF_THE_ROW or (role == "unit" and _units(texts_of(rows, index))):
            found.setdefault(role, index)
    if (
        not found.keys() & PLACED
        and (other := _unnamed_place(table, rows, roles, taken)) is not None
    ):
        found[other[0]] = other[1]
    return found


def _unnamed_place(
    table: Table, rows: Rows, roles: Sequence[str], taken: set[int]
) -> tuple[str, int] | None:
    """Return the first column of different names or numbers that no head explains."""
    first = min(taken, default=len(roles))
    for index in range(first):
        texts = texts_of(rows, index)
        may_be = roles[index] in {"", "unknown", "volume", "number"} or _is_place(table, index)
        if index in taken or not may_be or not texts:
            continue
        plain = [t for t in texts if not _decimal(t) and not is_date(t)]
        named = (
            roles[index] in {"", "unknown"} or any(c.isalpha() for c in plain[0])
            if plain
            else False
        )
        if named and len(plain) == len(texts) and (len(set(texts)) > 1 or len(rows) < 2):
            numbered = all(_is_code(t) for t in texts)
            if numbered and (looks_like_code(table.columns[index].head) or not texts[0].isdigit()):
                return "sample_id", index
            if not all(t.isdigit() for t in texts):
                return "point", index
    return None


def _is_place(table: Table, index: int) -> bool:
    """Whether a head names pieces of land, which stand for their wells, or only says "Name"."""
    return head_key(table.columns[index].head) in _LOTS | {"name"}


def _is_code(text: str) -> bool:
    return any(c.isdigit() for c in text) and " " not in text.strip()


def coordinates(table: Table) -> tuple[int, int] | None:
    """Return the columns of latitude and longitude."""
    keys = [set(head_key(c.head).split()) for c in table.columns]
    lat = next((i for i, k in enumerate(keys) if k & {"lat", "latitude"}), None)
    lon = next((i for i, k in enumerate(keys) if k & {"lon", "long", "lng", "longitude"}), None)
    return None if lat is None or lon is None else (lat, lon)


def _units(texts: Sequence[str]) -> bool:
    return bool(texts) and all(unit_of(t) is not None for t in texts[:40])


def kind_columns(table: Table) -> list[int]:
    """Return the columns that say what kind of sample a row is; a file may have several."""
    told = [(i, _head(c)) for i, c in enumerate(table.columns)]
    return [i for i, h in told if h is not None and h.role == "sample_type"]


def kind_told(cells: Sequence[Cell | None], columns: Sequence[int]) -> str | None:
    """Return the code that says a row is no client's water, or None."""
    texts = (c.text for i in columns if (c := cells[i]) is not None)
    return next((t for t in texts if code_kind(t) is not None), None)


def draws(table: Table, results: Sequence[int]) -> dict[int, str]:
    """Return how the water of each column was drawn, where the heads of a row tell several ways."""
    told = {i: f for i in results if (f := draw_of(head_key(table.columns[i].head))) is not None}
    return told if len(set(told.values())) > 1 else {}


def depth_column(table: Table) -> int | None:
    """Return the column that says how deep a sample was taken: two depths are two samples."""
    keys = [head_key(c.head) for c in table.columns]
    return next((i for i, k in enumerate(keys) if _DEPTH.fullmatch(k)), None)


def only_one(table: Table, rows: Rows, heads: Sequence[Head | None], roles: list[str]) -> None:
    """Keep one column for each fact: the plainest head, then the one that tells most."""
    for role in _ONE_OF:
        found = [i for i, r in enumerate(roles) if r == role]
        filled = [i for i in found if texts_of(rows, i)]
        for index in found:
            if index not in filled:
                roles[index] = LEFT_OUT
        if role == "sample_id":
            filled = _true_ids(table, rows, heads, roles, filled)
        if len(filled) < 2:
            continue
        best = max(filled, key=lambda i: _rank(table, rows, heads, i))
        for index in filled:
            if index != best:
                roles[index] = LEFT_OUT


def _true_ids(
    table: Table, rows: Rows, heads: Sequence[Head | None], roles: list[str], found: list[int]
) -> list[int]:
    """Leave out counters of rows and numbers with decimals, which are nobody's sample."""
    others = [r for r in ("lab_id", "client_id", "point") if r in roles]
    kept = []
    for index in found:
        texts = texts_of(rows, index)
        head = heads[index]
        bare = head_key(table.columns[index].head) in {"id", "no", "number", "index", "row id"}
        weak = head is not None and head.score < 0.9
        counter = bare and (others or len(found) > 1 or _counts_up(texts))
        if counter or (weak and others) or any(_decimal(t) for t in texts):
            roles[index] = LEFT_OUT
        else:
            kept.append(index)
    return kept


def _counts_up(texts: Sequence[str]) -> bool:
    return len(texts) > 1 and all(
        t == str(n) for n, t in enumerate(texts, start=int(texts[0]) if texts[0].isdigit() else -1)
    )


def _decimal(text: str) -> bool:
    whole, point, rest = text.strip().partition(".")
    return bool(point) and whole.lstrip("-").isdigit() and rest.isdigit()


def _rank(
    table: Table, rows: Rows, heads: Sequence[Head | None], index: int
) -> tuple[bool, float, bool, bool, int]:
    head = heads[index]
    texts = texts_of(rows, index)
    several = len(set(texts)) > 1
    key = head_key(table.columns[index].head)
    named = key.split()[-1:] != ["number"] and not key.endswith(" no")
    return key not in _GENERIC, head.score if head else 0.0, several, named, -index


def when_sampled(table: Table, rows: Rows, roles: list[str], *, across: bool = False) -> None:
    """Take a column headed only "Date" as the day of sampling, where no other column is it."""
    keys = [head_key(c.head) for c in table.columns]
    placed = across or set(roles) & PLACED or coordinates(table) is not None
    if "collected" not in roles:
        at = next((i for i, k in enumerate(keys) if k in _DAY), None)
        if at is not None and not placed and not _parts_tests(rows, roles, at):
            at = None
        analyst = at is not None and "analyst" in keys[max(at - 1, 0) : at + 2]
        if at is not None and not analyst:
            roles[at] = "collected"
    if "collected" in roles and "collected_time" not in roles:
        at = next((i for i, k in enumerate(keys) if k == "time"), None)
        if at is not None:
            roles[at] = "collected_time"


def _parts_tests(rows: Rows, roles: Sequence[str], at: int) -> bool:
    """Whether a column of days tells apart the rows of one test: the days of several samples."""
    name = next((i for i, role in enumerate(roles) if role == "analyte"), None)
    if name is None:
        return False
    days: dict[str, set[str]] = {}
    for row in rows:
        test, day = row[name], row[at]
        if test is not None and day is not None and is_date(day.text):
            days.setdefault(test.text, set()).add(day.text)
    return any(len(found) > 1 for found in days.values())


def _head(column: Column) -> Head | None:
    return head_of(column.head) if column.head else None


def texts_of(rows: Rows, index: int) -> list[str]:
    """Return what the cells of a column say, blanks in words left out."""
    return [c.text for row in rows if (c := row[index]) is not None and not says_nothing(c.text)]
