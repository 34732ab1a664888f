"""Cuts a page or a sheet into tables and the free lines between them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line, of_words
from .clipped import part_at_edges, part_glued
from .column import Column
from .columns import at_heads, page_columns, sheet_columns
from .dates import is_date, is_hour
from .facts_above import below_facts
from .heads import HeadLine, Kind, find_head
from .heads_over_units import set_over_units
from .key_heads import key_cells, key_head
from .merged_heads import completes_merged, groups_in, spread
from .placed_cells import assign
from .sheet_heads import sheet_head
from .stacked_heads import at_rest, stack_above
from .tokens import is_method, unit_of, value_of
from .unit_heads import unit_head
from .words import head_of, segments, split_unit

_YEAR = re.compile(r"(?:19|20)\d\d")
_BLANK_ROWS = 2
"""A head of a sheet goes on in the next row, or behind one that is empty."""
_STACKED = 5
"""Lines from the first head of a stack to the last."""
_RUN_UNDER = 3
"""Heads that a name beside the rows of samples runs under."""
_CLIPPED = 3
"""Heads of a table whose cells may be cut off at each other's edges."""
_SAMPLE_ROWS = 200
"""Columns are found on this many rows."""


class Table:
    """A head, its columns, and the lines under it up to the next head."""

    __slots__ = ("_placed", "_places", "_whole", "columns", "heads", "kind", "lines")

    def __init__(
        self, kind: Kind, heads: list[Line], lines: list[Line], columns: list[Column]
    ) -> None:
        self.kind = kind
        self.heads = heads
        self.lines = lines
        self.columns = columns
        self._places = {c.left: i for i, c in enumerate(columns)}
        self._placed: dict[int, list[Cell | None]] = {}
        self._whole: tuple[Table, int] | None = None

    @property
    def is_part(self) -> bool:
        """Whether this is one of several tables side by side."""
        return self._whole is not None

    def part(self, start: int, end: int) -> Table:
        """Return the table made of some of the columns, where several stand side by side."""
        part = Table(self.kind, self.heads, self.lines, self.columns[start:end])
        part._whole = (self, start)
        return part

    def settle(self, line: Line, cells: list[Cell | None]) -> None:
        """Say which cells a line has, where the columns' extents do not tell."""
        self._placed[id(line)] = cells

    def cells(self, line: Line) -> list[Cell | None]:
        """Return a line's cells by column of this table."""
        if self._whole is not None:
            whole, start = self._whole
            return whole.cells(line)[start : start + len(self.columns)]
        if line.sheet is None:
            placed = self._placed.get(id(line))
            if placed is None:
                placed = self._placed[id(line)] = assign(line, self.columns)
            return list(placed)
        row: list[Cell | None] = [None] * len(self.columns)
        for cell in line.cells:
            at = self._places.get(cell.left)
            if at is not None:
                row[at] = cell
        return row


class Free:
    """Lines that belong to no table."""

    __slots__ = ("lines",)

    def __init__(self, lines: list[Line]) -> None:
        self.lines = lines


def split(lines: Sequence[Line]) -> list[Table | Free]:
    """Return the tables and free lines of one page or sheet, in order."""
    heads = _heads(lines)
    pieces: list[Table | Free] = []
    done = 0
    for number, (first, main) in enumerate(heads):
        if first > done:
            pieces.append(Free(list(lines[done:first])))
        end = heads[number + 1][0] if number + 1 < len(heads) else len(lines)
        body = _below(lines, main, end)
        pieces.append(_table(main, list(lines[first:body]), list(lines[body:end])))
        done = end
    if done < len(lines):
        pieces.append(Free(list(lines[done:])))
    return pieces


def _heads(lines: Sequence[Line]) -> list[tuple[int, HeadLine]]:
    found: list[tuple[int, HeadLine]] = []
    at = floor = 0
    while at < len(lines):
        if len(found) == 1 and at > found[0][1].at + 400 and lines[at].sheet is not None:
            at = _next_candidate(lines, at, lines[found[0][1].at])
            if at >= len(lines):
                break
        head = _head_at(lines, at)
        if head:
            top = below_facts(lines, stack_above(lines, at, floor), at)
            if found and _meets(lines, found[-1][1], top, at):
                first, upper = found.pop()
                above = found[-1][1].at + 1 if found else 0
                if lines[at].sheet is None:
                    first = stack_above(lines, at, above, first)
                found.append((first, _main(upper, head)))
            else:
                found.append((top, head))
            floor = at + 1
        at += 1
    return found


def _head_at(lines: Sequence[Line], at: int) -> HeadLine | None:
    head = find_head(lines, at)
    if lines[at].sheet is None:
        return head or key_head(lines, at) or unit_head(lines, at)
    if head is not None and head.kind != "samples":
        return head
    return sheet_head(lines, at) or head


def _meets(lines: Sequence[Line], upper: HeadLine, top: int, at: int) -> bool:
    """Whether a head goes on with the one above: right under it, or under dates in a sheet."""
    if lines[at].sheet is None and _no_row_between(lines, upper.at, at):
        return True
    if at != upper.at + 1 and top != upper.at + 1:
        return False
    if at != upper.at + 1 and lines[at].sheet is None:
        return stack_above(lines, at, upper.at) == upper.at  # the samples' names above the head
    return _one_stack(lines, upper, HeadLine(upper.kind, at))


def _no_row_between(lines: Sequence[Line], upper: int, lower: int) -> bool:
    """Whether the lines of a page from one head to the next are set close and hold no value.

    Heads of different heights, each in the middle of its own box, make such a stack.
    """
    if not upper + 1 < lower <= upper + _STACKED:
        return False
    if "across" not in {h.kind for n in (upper, lower) if (h := find_head(lines, n))}:
        return False
    stack = lines[upper : lower + 1]
    near = all(
        a.page == b.page and b.top - a.bottom < 0.5 * min(a.height, b.height)
        for a, b in pairwise(stack)
    )
    return near and not any(
        at_rest(line) or any(value_of(c.text) is not None or is_date(c.text) for c in line.cells)
        for line in stack[1:]
    )


def _one_stack(lines: Sequence[Line], upper: HeadLine, lower: HeadLine) -> bool:
    """Whether two head lines, one right under the other, are one stacked head."""
    a, b = lines[upper.at], lines[lower.at]
    if a.sheet is not None and b.index - a.index > _BLANK_ROWS:
        return False
    close = a.sheet is not None or b.top - a.bottom < 0.75 * max(a.height, b.height)
    return close and a.page == b.page and a.sheet == b.sheet and a.text != b.text


def _main(upper: HeadLine, lower: HeadLine) -> HeadLine:
    kind = "across" if "across" in {upper.kind, lower.kind} else upper.kind
    return HeadLine(kind, lower.at)


def _next_candidate(lines: Sequence[Line], at: int, head: Line) -> int:
    """In a long sheet, return the next line that repeats the head's first cell."""
    first = head.cells[0].text
    while at < len(lines) and lines[at].cells[0].text != first:
        at += 1
    return at


def _below(lines: Sequence[Line], main: HeadLine, end: int) -> int:
    """Return where the body begins: behind lines that only complete the head."""
    at = main.at + 1
    while at < end and at <= main.at + 4 and _completes(lines, at, main):
        at += 1
    return at


def _completes(lines: Sequence[Line], at: int, head: HeadLine) -> bool:
    line, main, before = lines[at], lines[head.at], lines[at - 1]
    if completes_merged(line, main):
        return True
    if head.kind == "across" and line.sheet is None and line.page == main.page:
        close = line.top - before.bottom < 0.6 * main.height
        told = (is_date(c.text) or value_of(c.text) is not None for c in line.cells)
        return close and not any(told)
    return _names_more(line, before, main) or _under_each(line, before, main)


def _under_each(line: Line, before: Line, main: Line) -> bool:
    """Whether a line goes on with heads but the first: "June" over "2023"."""
    if line.sheet is not None or line.page != main.page or at_rest(line):
        return False
    if line.top - before.bottom > 0.9 * main.height or len(line.cells) < 2:
        return False
    over = [
        [
            i
            for i, head in enumerate(main.cells)
            if min(c.right, head.right) > max(c.left, head.left)
        ]
        for c in line.cells
    ]
    if any(len(found) != 1 or found[0] == 0 for found in over):
        return False
    if all(is_hour(c.text) for c in line.cells):
        return all(is_date(main.cells[found[0]].text) for found in over)
    plain = [c.text for c in line.cells if not _YEAR.fullmatch(c.text)]
    return len(plain) < len(line.cells) and not any(value_of(t) is not None for t in plain)


def _names_more(line: Line, before: Line, main: Line) -> bool:
    if at_rest(line) or line.page != main.page:
        return False
    if line.sheet is None and line.top - before.bottom > 1.2 * main.height:
        return False
    first = line.cells[0]
    if len(line.cells) == 1 and _is_section(first):
        return False
    if len(line.cells) == 1 and first.left <= main.cells[0].left + 2 and first.text[:1] not in "([":
        return False
    for cell in line.cells:
        head = head_of(cell.text)
        fits = (
            unit_of(cell.text.strip("()[]")) is not None
            or (head is not None and head.score >= 0.95)
            or cell.text.startswith("(")
        )
        if not fits or (value_of(cell.text) is not None and any(c.isdigit() for c in cell.text)):
            return False
    return len(line.cells) >= 1


def _is_section(cell: Cell) -> bool:
    """Whether a line under a head names the tests that follow and their unit: "Analytes (mg/L)"."""
    name, spelled = split_unit(cell.text)
    head = head_of(name) if name and spelled else None
    return head is not None and head.role == "analyte" and head.score >= 0.95


def _table(main: HeadLine, heads: list[Line], lines: list[Line]) -> Table:
    keys = key_cells(heads)
    if heads[0].sheet is not None:
        columns = sheet_columns(lines[:_SAMPLE_ROWS], heads)
    else:
        set_over_units(heads)
        above = [c for c in _main_cells(heads) if c not in keys]
        if len(above) >= _CLIPPED and not any(map(_row_like, lines)):
            part_at_edges([line for line in lines if len(line.cells) > 1], above)
        rows = [line for line in lines if _row_like(line)] or lines[:3]
        columns = page_columns(_within_columns(rows, above)[:_SAMPLE_ROWS], above, heads)
        if at_heads(columns):  # a name may run into a value so that the line looks like no row
            known = set(map(id, rows))
            part_glued([x for x in lines if len(x.cells) > 1 and id(x) not in known], above)
    table = Table(main.kind, heads, lines, columns)
    widest = max(heads, key=lambda line: (len(line.cells), line.top))
    for line in heads:
        stub = _units_stub(line)
        spanning = _spanning(line, columns) if main.kind == "across" and line is not widest else []
        if line.sheet is not None:
            spanning = groups_in(line, heads)
        for column, cell in zip(columns, _head_cells(table, line), strict=True):
            if cell is None or cell is stub or cell in keys:
                continue
            if any(_within(cell, wide) for wide in spanning):
                continue
            column.head_cells.append(cell)
    spread(heads, columns)
    for column in columns:
        column.head = joined([c.text for c in column.head_cells])
    return table


def _within_columns(rows: list[Line], heads: Sequence[Cell]) -> list[Line]:
    """Return the rows without those whose name runs under several heads: "Average of the year"."""
    kept = [
        row
        for row in rows
        if not any(
            sum(min(h.right, c.right) - max(h.left, c.left) > 1 for h in heads) >= _RUN_UNDER
            for c in row.cells
        )
    ]
    return kept if len(kept) >= max(2, 0.5 * len(rows)) else rows


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
    widest = max(heads, key=lambda line: (len(line.cells), line.top))
    alone = len(heads) < 2
    found = [c for c in widest.cells if alone or c is not _units_stub(widest)]
    for line in reversed(heads):
        stub = _units_stub(line)
        for cell in (c for c in line.cells if c is not stub):
            if not any(cell.left < c.right + 2 and c.left < cell.right + 2 for c in found):
                found.append(cell)
    found.sort(key=lambda c: c.left)
    return [part for cell in found for part in _unglued(cell)]


def _unglued(cell: Cell) -> list[Cell]:
    """Part heads that stand so near that they look like one: "Amount Unit"."""
    head = head_of(cell.text)
    if head is not None and head.score >= 0.95 and head.role != "limit_unit":
        return [cell]
    cuts = segments(cell.text)
    if not cuts or len(cell.words) != len(cell.text.split()):
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
