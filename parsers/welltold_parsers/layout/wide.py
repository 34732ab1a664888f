"""The columns of a wide data file: which are analytes, which serve one, which are neither.

A head like "TPFlag" belongs to "TP_ugL"; "do" is dissolved oxygen beside other analytes; a column
of numbers that nothing explains is told, never passed over.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from .cells import Cell, join
from .content import Content, contents
from .head_cells import head_analyte
from .isotopes import is_isotope
from .sheet_names import (
    column_words,
    companion_of,
    is_metadata,
    looks_like_code,
    statistic,
    stem_of,
    without_value,
)
from .short_names import Named, short_name
from .tables import Table
from .tokens import is_number, value_of
from .words import head_of, split_unit

_KNOWN_AT_LEAST = 2


class Extra(NamedTuple):
    """One more column of results."""

    at: int
    label: str
    name: str
    cell: Cell
    unit: str | None
    sure: bool


def is_sheet(table: Table) -> bool:
    """Whether a table stands in a workbook or a data file."""
    return any(line.sheet is not None for line in (*table.heads[:1], *table.lines[:1]))


def seen(table: Table) -> list[Content]:
    """Return what the columns hold, by rows from the whole table: many are empty for long."""
    lines = table.lines
    step = max(len(lines) // 40, 1)
    some = lines if len(lines) <= 80 else [*lines[:40], *lines[40::step][:40]]
    return contents([table.cells(line) for line in some], len(table.columns))


def companions(table: Table) -> dict[int, tuple[str, int]]:
    """Return the columns whose heads name another: column to (role, the one it serves)."""
    stems: dict[str, int] = {}
    for index, column in enumerate(table.columns):
        if column.head:
            stems.setdefault(stem_of(column.head), index)
            stems.setdefault(stem_of(without_value(column.head)), index)
    found = {}
    for index, column in enumerate(table.columns):
        told = companion_of(column.head, stems) if column.head else None
        if told is not None and told[1] != index:
            found[index] = told
    return found


def more_columns(
    table: Table, content: Sequence[Content], known: Mapping[int, str], left: set[int]
) -> list[Extra]:
    """Return further columns of results, among ``left``, by names that mean something only here.

    ``known`` gives the heads of the columns that are results already.
    """
    short = {i: n for i in left if (n := _short(table, content[i], i)) is not None}
    sure = sum(n.sure for n in short.values())
    found = [
        Extra(i, table.columns[i].head, n.name, join(table.columns[i].head_cells), n.unit, n.sure)
        for i, n in short.items()
        if len(known) + sure - n.sure >= _KNOWN_AT_LEAST or (len(known) and len(n.name) > 1)
    ]
    found.extend(_variants(table, content, left - {e.at for e in found}))
    return found


def _short(table: Table, content: Content, index: int) -> Named | None:
    text = table.columns[index].head
    if text.upper() == "EC" and _answers(table, index):
        return Named("e_coli", "E. coli", None, sure=False)
    if not text or not content.numeric_results():
        return None
    named = short_name(text)
    return named if named and named.slug else None


def _answers(table: Table, index: int) -> bool:
    """Whether a column holds answers of presence tests."""
    cells = [c for line in table.lines[:80] if (c := table.cells(line)[index]) is not None]
    values = [value_of(c.text, letters=True) for c in cells]
    told = [v is not None and v.present is not None for v in values]
    return bool(told) and sum(told) >= 0.6 * len(told)


def _variants(table: Table, content: Sequence[Content], left: set[int]) -> Iterator[Extra]:
    """Yield columns whose heads are a known one with more behind: "Nitrate2", "doc_r5"."""
    heads = {i: table.columns[i].head for i in left if table.columns[i].head}
    parts = {i: p for i, h in heads.items() if (p := _named_part(h)) is not None}
    for index, (named, tail) in parts.items():
        twin = any(p[0].slug == named.slug for i, p in parts.items() if i != index)
        numbered = any(c.isdigit() for c in tail)
        if not content[index].numeric_results() or not (twin or numbered):
            continue
        cell = join(table.columns[index].head_cells)
        yield Extra(index, heads[index], named.name, cell, named.unit, sure=False)


def _named_part(head: str) -> tuple[Named, str] | None:
    """Return what the first words of a head name, and the rest."""
    if is_isotope(head):
        return None
    bare = head.rstrip("0123456789")
    if bare != head and len(bare) > 2 and (named := _name(bare.rstrip("_. "))):
        return named, head[len(bare) :]
    words = head.split("_")
    for size in range(len(words) - 1, 0, -1):
        tail = [w.lower() for w in words[size:]]
        if column_words("derived") & set(tail) or len(tail) > 2:
            return None
        named = _name("_".join(words[:size]))
        if named is not None:
            return named, "_".join(tail)
    return None


def _name(text: str) -> Named | None:
    named = short_name(text)
    if named is not None:
        return named if named.slug else None
    slug = head_analyte(text) if len(text) > 1 else None
    return Named(slug, text, None, sure=True) if slug else None


def unit_above(table: Table, index: int) -> str | None:
    """Return the unit in a head that stands over several columns: "Metals (ug/L)"."""
    left = table.columns[index].left
    for line in reversed(table.heads[:-1]):
        before = [c for c in line.cells if c.left <= left]
        if before and (unit := split_unit(before[-1].text)[1]):
            return unit
    return None


def untold(
    table: Table, content: Sequence[Content], accounted: set[int]
) -> Iterator[tuple[Cell, str]]:
    """Yield the head of each column of numbers that nothing explains, and what to say of it."""
    for index, (column, facts) in enumerate(zip(table.columns, content, strict=True)):
        if index in accounted or not column.head_cells:
            continue
        if facts.value and not facts.number and _answers(table, index):
            first = next(c for x in table.lines if (c := table.cells(x)[index]) is not None)
            yield join(column.head_cells), f"{column.head}: {first.text}"
            continue
        if not facts.numeric_results():
            continue
        if not _may_be_test(column.head):
            continue
        values = list(_numbers(table, index))
        if len({*values}) <= 2 and {*values} <= {"0", "1", "0.0", "1.0"}:
            continue
        if values:
            yield join(column.head_cells), f"{column.head}: {values[0]}"


def _numbers(table: Table, index: int) -> Iterator[str]:
    for line in table.lines[:500]:
        cell = table.cells(line)[index]
        if cell is not None and (is_number(cell.text) or _is_limit(cell.text)):
            yield cell.text


def _is_limit(text: str) -> bool:
    """Whether a cell says "less than" a number: "<0.05"."""
    value = value_of(text)
    return value is not None and value.state in {"below", "above"} and value.value is not None


def _may_be_test(head: str) -> bool:
    if not any(c.isalpha() for c in head) or is_metadata(head) or looks_like_code(head):
        return False
    told = head_of(head)
    limit = told is not None and told.role == "printed_limit" and told.unit is not None
    return (told is None or told.score < 0.6 or limit) and statistic(split_unit(head)[0]) is None
