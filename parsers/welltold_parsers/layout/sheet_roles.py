"""What the columns of a sheet with one analyte a row are, where heads alone say too little.

A sheet's columns are known and often many: codes, counters, owners, two columns with the same
numbers, a column that holds only signs. None of it is asked of a page.
"""

from __future__ import annotations

from collections.abc import Container, Sequence

from .cells import Cell
from .columns import Column
from .content import Content
from .dates import is_date
from .empties import says_nothing
from .heads import SAMPLE_ROLES
from .sheet_names import looks_like_code, same_column, statistic
from .tables import Table
from .words import Head, head_key, head_of

Rows = Sequence[Sequence[Cell | None]]

_SIGNS = frozenset({"<", ">", "≤", "≥", "=", "~", "E", "e", "ND", "nd", "U", "J", "K", "A", "M"})
_YES_NO = frozenset({"y", "n", "yes", "no", "true", "false", "t", "f", "0", "1"})
_MAY_BE_SIGN = frozenset(
    {"", "remark", "qualifier", "status", "unknown", "code", "sign", "condition", "volume", "unit"}
)
_GENERIC = frozenset(
    {
        "id",
        "source",
        "description",
        "place",
        "facility",
        "building",
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
_ONE_OF = tuple(sorted(SAMPLE_ROLES))
_PLACED = frozenset({"sample_id", "lab_id", "client_id", "point"})
_LEFT_OUT = "volume"
"""The role of a column that is accounted for and says nothing about a result."""


def settle_roles(
    table: Table,
    rows: Rows,
    heads: Sequence[Head | None],
    content: Sequence[Content],
    roles: list[str],
) -> None:
    """Correct the roles of a sheet's columns in place; a page's are left alone."""
    if not table.lines or table.lines[0].sheet is None:
        return
    for index, column in enumerate(table.columns):
        roles[index] = _own_role(
            column.head, roles[index], heads[index], content[index], _texts(rows, index)
        )
    _one_value(rows, heads, content, roles)
    only_one(table, rows, heads, roles)
    when_sampled(table, roles)


def _texts(rows: Rows, index: int) -> list[str]:
    return [c.text for row in rows if (c := row[index]) is not None and not says_nothing(c.text)]


def _own_role(
    text: str, role: str, head: Head | None, content: Content, texts: Sequence[str]
) -> str:
    if role in _MAY_BE_SIGN and _all_signs(texts):
        return "sign"
    told = set(texts)
    if role == "sign" and told and {t.lower() for t in told} <= _YES_NO:
        return "detect_flag"
    names = content.analyte > 0.5 * content.filled and not content.number
    if role == "result" and names:
        return "analyte"
    stat = statistic(text)
    if stat and role in {"", "uncertainty", "previous", "result"}:
        return stat
    weak = head is None or head.score < 0.6
    if role == "uncertainty" and weak and content.numeric_results():
        return ""
    if role == "" and content.results() and looks_like_code(text):
        return "code"
    return role


def _all_signs(texts: Sequence[str]) -> bool:
    told = set(texts)
    return bool(told) and told <= _SIGNS and bool(told & {"<", ">", "≤", "≥"})


def sign_columns(table: Table, results: Container[int]) -> dict[int, int]:
    """Return the columns that hold only signs, each with the result column beside it.

    Where the first of them stands before the first result, each serves the result behind it.
    """
    rows = [table.cells(line) for line in table.lines]
    found = [
        i
        for i in range(len(table.columns))
        if i not in results and _all_signs([c.text for row in rows if (c := row[i]) is not None])
    ]
    width = range(len(table.columns))
    first = next((i for i in width if i in results), None)
    behind = bool(found) and first is not None and found[0] < first
    served = {}
    for index in found:
        near = index + 1 if behind else index - 1
        if near in results:
            served[index] = near
    return served


def _one_value(
    rows: Rows, heads: Sequence[Head | None], content: Sequence[Content], roles: list[str]
) -> None:
    """Of several columns of results that hold the same numbers keep one: the one with signs in it."""
    results = [i for i, r in enumerate(roles) if r == "result" and content[i].filled]
    for index in list(results):
        for other in results:
            if other == index or roles[other] != "result" or roles[index] != "result":
                continue
            pairs = [(a.text, b.text) for row in rows if (a := row[index]) and (b := row[other])]
            if same_column(pairs):
                roles[max(index, other, key=lambda i: (-content[i].censored, i))] = "second_value"
    if len([i for i in results if roles[i] == "result"]) != 1 or "unit" not in roles:
        return
    for index, facts in enumerate(content):
        if roles[index] == "" and facts.results() and heads[index] is None:
            roles[index] = "unknown"


def sample_columns(table: Table, rows: Rows, taken: set[int]) -> dict[str, int]:
    """Return which column gives which fact of the sample, in a sheet with analytes across."""
    heads = [_head(c) for c in table.columns]
    roles = ["" if i in taken else (h.role if h else "") for i, h in enumerate(heads)]
    only_one(table, rows, heads, roles)
    when_sampled(table, roles, across=True)
    found: dict[str, int] = {}
    for index, role in enumerate(roles):
        if role in SAMPLE_ROLES | {"report_id", "method", "fraction", "analyzed"}:
            found.setdefault(role, index)
    if not found.keys() & _PLACED and (other := _unnamed_place(table, rows, roles, taken)) is not None:
        found[other[0]] = other[1]
    return found


def _unnamed_place(
    table: Table, rows: Rows, roles: Sequence[str], taken: set[int]
) -> tuple[str, int] | None:
    """Return the first column of different names or numbers that no head explains."""
    first = min(taken, default=len(roles))
    for index in range(first):
        texts = _texts(rows, index)
        if index in taken or roles[index] not in {"", "unknown", "volume", "number"} or not texts:
            continue
        plain = [t for t in texts if not _decimal(t) and not is_date(t)]
        named = roles[index] in {"", "unknown"} or any(c.isalpha() for c in plain[0]) if plain else False
        if named and len(plain) == len(texts) and (len(set(texts)) > 1 or len(rows) < 2):
            numbered = all(_is_code(t) for t in texts)
            if numbered and (looks_like_code(table.columns[index].head) or not texts[0].isdigit()):
                return "sample_id", index
            if not all(t.isdigit() for t in texts):
                return "point", index
    return None


def _is_code(text: str) -> bool:
    return any(c.isdigit() for c in text) and " " not in text.strip()


def coordinates(table: Table) -> tuple[int, int] | None:
    """Return the columns of latitude and longitude."""
    keys = [set(head_key(c.head).split()) for c in table.columns]
    lat = next((i for i, k in enumerate(keys) if k & {"lat", "latitude"}), None)
    lon = next((i for i, k in enumerate(keys) if k & {"lon", "long", "lng", "longitude"}), None)
    return None if lat is None or lon is None else (lat, lon)


def only_one(table: Table, rows: Rows, heads: Sequence[Head | None], roles: list[str]) -> None:
    """Keep one column for each fact of the sample: the plainest head, then the one that tells most."""
    for role in _ONE_OF:
        found = [i for i, r in enumerate(roles) if r == role]
        filled = [i for i in found if _texts(rows, i)]
        for index in found:
            if index not in filled:
                roles[index] = _LEFT_OUT
        if role == "sample_id":
            filled = _true_ids(table, rows, heads, roles, filled)
        if len(filled) < 2:
            continue
        best = max(filled, key=lambda i: _rank(table, rows, heads, i))
        for index in filled:
            if index != best:
                roles[index] = _LEFT_OUT


def _true_ids(
    table: Table, rows: Rows, heads: Sequence[Head | None], roles: list[str], found: list[int]
) -> list[int]:
    """Leave out counters of rows and numbers with decimals, which are nobody's sample."""
    others = [r for r in ("lab_id", "client_id", "point") if r in roles]
    kept = []
    for index in found:
        texts = _texts(rows, index)
        head = heads[index]
        bare = head_key(table.columns[index].head) in {"id", "no", "number", "index", "row id"}
        weak = head is not None and head.score < 0.9
        counter = bare and (others or len(found) > 1 or _counts_up(texts))
        if counter or (weak and others) or any(_decimal(t) for t in texts):
            roles[index] = _LEFT_OUT
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
) -> tuple[bool, float, bool, int]:
    head = heads[index]
    texts = _texts(rows, index)
    several = len(set(texts)) > 1
    plain = head_key(table.columns[index].head) not in _GENERIC
    return plain, head.score if head else 0.0, several, -index


def when_sampled(table: Table, roles: list[str], *, across: bool = False) -> None:
    """Take a column headed only "Date" as the day of sampling, where no other column is it."""
    keys = [head_key(c.head) for c in table.columns]
    placed = across or set(roles) & _PLACED or coordinates(table) is not None
    if "collected" not in roles and placed:
        at = next((i for i, k in enumerate(keys) if k == "date"), None)
        analyst = at is not None and "analyst" in keys[max(at - 1, 0) : at + 2]
        if at is not None and not analyst:
            roles[at] = "collected"
    if "collected" in roles and "collected_time" not in roles:
        at = next((i for i, k in enumerate(keys) if k == "time"), None)
        if at is not None:
            roles[at] = "collected_time"


def _head(column: Column) -> Head | None:
    return head_of(column.head) if column.head else None
