"""The columns of one table with their heads: which words of the head lines stand over which."""

from __future__ import annotations

from collections.abc import Sequence

from .bare_keys import led_by_number
from .cells import Cell, Line, of_words
from .clipped import part_at_edges, part_glued
from .column import Column
from .columns import at_heads, page_columns, sheet_columns
from .facts import NUMBERS
from .heads import HeadLine
from .heads_over_units import set_over_units
from .instruments import group_heads
from .key_heads import key_cells
from .merged_heads import groups_in, spread
from .placed_cells import assign
from .shared_result_heads import spread_result
from .spans import over_names, spread_over_days
from .stacked_heads import at_rest
from .tables import Table
from .tokens import is_method, unit_of, value_of
from .words import head_of, segments

_RUN_UNDER = 3
"""Heads that a name beside the rows of samples runs under."""
_CLIPPED = 3
"""Heads of a table whose cells may be cut off at each other's edges."""
_SAMPLE_ROWS = 200
"""Columns are found on this many rows."""


def table_of(main: HeadLine, heads: list[Line], lines: list[Line]) -> Table:
    """Return the table of these lines, its columns found under the lines of its head."""
    keys = key_cells(heads)
    if heads[0].sheet is not None:
        columns = sheet_columns(lines[:_SAMPLE_ROWS], heads)
    else:
        set_over_units(heads)
        above = [c for c in _main_cells(heads) if c not in keys]
        if len(above) >= _CLIPPED and not any(map(_row_like, lines)):
            part_at_edges([x for x in lines if len(x.cells) > 1 and not _told_by_key(x)], above)
        rows = [line for line in lines if _row_like(line)] or lines[:3]
        columns = page_columns(_within_columns(rows, above)[:_SAMPLE_ROWS], above, heads)
        if at_heads(columns):  # a name may run into a value so that the line looks like no row
            known = set(map(id, rows))
            others = (x for x in lines if len(x.cells) > 1 and id(x) not in known)
            part_glued([x for x in others if not _told_by_key(x)], above)
    table = Table(main.kind, heads, lines, columns)
    groups = group_heads(heads) if main.kind == "across" else []
    widest = max(heads, key=lambda line: (len(line.cells), line.top))
    for line in heads:
        stub = _units_stub(line)
        spanning = _over_several(line, table, groups, widest)
        for column, cell in zip(columns, _head_cells(table, line), strict=True):
            if cell is None or cell is stub or cell in keys:
                continue
            if any(_within(cell, wide) for wide in spanning):
                continue
            column.head_cells.append(cell)
    spread(heads, columns)
    spread_over_days(heads, columns)
    spread_result(heads, columns)
    for column in columns:
        column.head = joined([c.text for c in column.head_cells])
    return table


def _told_by_key(line: Line) -> bool:
    """Whether a line begins with the key of a number of the sample, its value beside or behind."""
    head = head_of(line.cells[0].text)
    return led_by_number(line) or (head is not None and head.score >= 1 and head.role in NUMBERS)


def _within_columns(rows: list[Line], heads: Sequence[Cell]) -> list[Line]:
    """Return the rows without those whose name runs under several heads: "Average of the year"."""
    wide = [(head.left, head.right) for head in heads if head.right - head.left > 1]
    kept = [row for row in rows if not any(_runs_under(cell, wide) for cell in row.cells)]
    return kept if len(kept) >= max(2, 0.5 * len(rows)) else rows


def _runs_under(cell: Cell, heads: Sequence[tuple[float, float]]) -> bool:
    """Whether a cell reaches by more than a point under so many of the heads."""
    first, last = cell.left, cell.right
    if last - first <= 1:
        return False
    under = [1 for left, right in heads if right - first > 1 and last - left > 1]
    return len(under) >= _RUN_UNDER


def _over_several(line: Line, table: Table, groups: Sequence[Cell], widest: Line) -> list[Cell]:
    """Return the cells of a head line that say nothing of one column by itself."""
    if line.sheet is not None:
        return groups_in(line, table.heads) + [c for c in line.cells if c in groups]
    if line is widest:
        return []
    found = _spanning(line, table.columns)
    return found if table.kind == "across" else [c for c in found if over_names(c, table.heads)]


def _spanning(line: Line, columns: Sequence[Column]) -> list[Cell]:
    """Return the cells of a page's head line that stand over several columns: "DISSOLVED"."""
    if line.sheet is not None:
        return []
    return [
        cell
        for cell in line.cells
        if sum(min(c.right, cell.right) - max(c.left, cell.left) > 1 for c in columns) > 1
        and head_of(cell.text) is None
        and unit_of(cell.text) is None
    ] + [cell for cell in line.cells if is_method(cell.text)]


def _within(part: Cell, whole: Cell) -> bool:
    return part.left >= whole.left - 0.1 and part.right <= whole.right + 0.1


def _units_stub(line: Line) -> Cell | None:
    """Return the word "Units" before a row of units: it says nothing of its own column."""
    first, others = line.cells[0], line.cells[1:]
    head = head_of(first.text.rstrip(":"))
    if len(others) < 2 or head is None or head.role != "unit" or head.score < 0.95:
        return None
    return first if all(unit_of(c.text.strip("()[]")) for c in others) else None


def _head_cells(table: Table, line: Line) -> list[Cell | None]:
    """Return the cells of a head line by column, glued heads parted."""
    if line.sheet is not None or all(not segments(c.text) for c in line.cells):
        return table.cells(line)
    parted = Line(line.index, page=line.page, plain_text=line.plain_text)
    parted.top, parted.bottom = line.top, line.bottom
    parted.cells = [part for cell in line.cells for part in _unglued(cell)]
    return assign(parted, table.columns)


def joined(texts: Sequence[str]) -> str:
    """Return the lines of a head as one text; a word cut by a hyphen is made whole."""
    whole = ""
    for text in texts:
        if whole.endswith("-") and text[:1].islower():
            whole = whole[:-1] + text
        else:
            whole = f"{whole} {text}" if whole else text
    return whole


def _main_cells(heads: Sequence[Line]) -> list[Cell]:
    """Return the heads of the columns; each line adds those that stand over none so far."""
    widest = max(heads, key=lambda x: (len(x.cells), _units_stub(x) is None, x.top))
    alone = len(heads) < 2
    found = [c for c in widest.cells if alone or c is not _units_stub(widest)]
    for line in reversed(heads):
        stub = _units_stub(line)
        if stub is not None and line is not widest and _as_many(widest, line):
            continue  # each unit is of the head before it, though it stands far under it
        for cell in (c for c in line.cells if c is not stub):
            if not any(cell.left < c.right + 2 and c.left < cell.right + 2 for c in found):
                found.append(cell)
    found.sort(key=lambda c: c.left)
    return [part for cell in found for part in _unglued(cell)]


def _as_many(widest: Line, units: Line) -> bool:
    """Whether the units of a row take turns with the last heads above, one behind each."""
    told = [c.left for c in units.cells[1:]]
    heads = [c.left for c in widest.cells][-len(told) :]
    if len(heads) < len(told):
        return False
    ends = [*heads[1:], float("inf")]
    return all(a - 2 <= at < b for a, at, b in zip(heads, told, ends, strict=True))


def _unglued(cell: Cell) -> list[Cell]:
    """Part heads that stand so near that they look like one: "Amount Unit"; no "School Tap"."""
    head = head_of(cell.text)
    if head is not None and head.score >= 0.95 and head.role != "limit_unit":
        return [cell]
    cuts = segments(cell.text)
    if not cuts or len(cell.words) != len(cell.text.split()) or {c[2] for c in cuts} == {"point"}:
        return [cell]
    return [of_words(cell.words[start:end], cell.line) for start, end, _ in cuts]


def _row_like(line: Line) -> bool:
    """Whether a line looks like a row of a table: two cells, one of them a value, no key."""
    if len(line.cells) < 2 or at_rest(line):
        return False
    return any(
        value_of(c.text) is not None or value_of(c.text, decimal_comma=True) is not None
        for c in line.cells
    )
