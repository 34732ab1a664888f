"""Ticks in tables of several samples, put into words before anything else is read.

B-1 | Barn | ☐ Absent ☒ Present | ☒ Absent ☐ Present        both answers in the cell of a sample
Total coliform present | ☒ | ☐ | ☐                          a row for each answer of a test
Total coliform absent  | ☐ | ☒ | ☒
Sample | Total coliform present | Total coliform absent     a column for each answer of a test
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from ..answers import OPPOSITE, kind_of
from .boxes import BOX, FULL, pieces_of, ticks_of
from .cells import Cell, Line, join
from .context import Context
from .distinct import texts_in
from .head_cells import head_analyte, overlap
from .headings import cell_of
from .tokens import analyte_in, microbial

_MARK = re.compile(rf"{FULL}|[xX✗✘]")
_ANSWERS = frozenset({"absent", "present"})
_SEVERAL = 2


def with_tick_tables(lines: Sequence[Line], context: Context) -> Sequence[Line]:
    """Put words for the ticks of tables with several samples; tell the rows that stay open."""
    texts = texts_in(lines)
    if not any(BOX.search(t) or _MARK.fullmatch(t) for t in texts):
        return lines
    _put_in_cells(lines)
    _put_in_columns(lines)
    emptied = {id(line) for line in [*_put_in_rows(lines), *_open_rows(lines, context)]}
    return [line for line in lines if id(line) not in emptied] if emptied else lines


def _germ(text: str) -> str | None:
    slug = head_analyte(text)
    return slug if slug is not None and microbial(slug) else None


def _put_in_cells(lines: Sequence[Line]) -> None:
    """Put the ticked word in the place of both answers, in cells under the name of a germ."""
    heads: list[Cell] = []
    for line in lines:
        germs = [c for c in line.cells if _germ(c.text) and not BOX.search(c.text)]
        if len(germs) > 1 or (
            germs and len(line.cells) > _SEVERAL and germs[0] is not line.cells[0]
        ):
            heads = germs
            continue
        if not heads or analyte_in(line.cells[0].text if line.cells else "") is not None:
            continue
        for at, cell in enumerate(line.cells):
            word = _ticked(cell) if any(overlap(cell, h) for h in heads) else None
            if word is not None:
                line.cells[at] = cell_of(cell, word)


def _ticked(cell: Cell) -> str | None:
    """Return the one ticked answer of a cell that holds an answer, its opposite and their boxes."""
    pieces = [p for p in pieces_of(cell.line) if p.cell is cell]
    answers = [p for p in pieces if p.what == "answer"]
    ticks = ticks_of(pieces) if {p.told for p in answers} == _ANSWERS else None
    told = [answer.text for answer, state in ticks or () if state == "full"]
    plain = all(p.what != "text" for p in pieces)
    return told[0] if plain and ticks and len(ticks) == len(told) + 1 == _SEVERAL else None


def _named(text: str) -> tuple[str, str, str] | None:
    """Return germ, name and answer of "Total coliform present"."""
    name, _, last = text.strip(" :?").rpartition(" ")
    kind = kind_of(last)
    name = name.strip(" :,-–(")
    slug = _germ(name) if kind in _ANSWERS else None
    return (slug, name, last.strip(")")) if slug is not None else None


def _put_in_columns(lines: Sequence[Line]) -> None:
    """Make one column of two that are headed with the answers of one test."""
    pairs: list[tuple[Cell, Cell, str, str]] = []
    for line in lines:
        found = list(_pairs(line))
        if found:
            pairs = found
            _name_columns(line, pairs)
            continue
        for one, other, first, second in pairs:
            marks = [c for c in line.cells if overlap(c, one) or overlap(c, other)]
            told = [c for c in marks if _MARK.fullmatch(c.text)]
            if len(told) != 1 or any(not BOX.fullmatch(c.text) for c in marks if c not in told):
                continue
            word = first if overlap(told[0], one) else second
            put = Cell(word, (one.left, told[0].top, one.right, told[0].bottom), line, (),
                       told[0].source)  # fmt: skip
            rest = [c for c in line.cells if c not in marks]
            line.cells = sorted([*rest, put], key=lambda c: c.left)


def _pairs(line: Line) -> Iterator[tuple[Cell, Cell, str, str]]:
    for one, other in pairwise(line.cells):
        a, b = _named(one.text), _named(other.text)
        if a and b and a[0] == b[0] and kind_of(a[2]) == OPPOSITE[kind_of(b[2]) or "absent"]:
            yield one, other, a[2], b[2]


def _name_columns(head: Line, pairs: Sequence[tuple[Cell, Cell, str, str]]) -> None:
    taken = {id(other) for _, other, _, _ in pairs}
    for one, _, _, _ in pairs:
        named = _named(one.text)
        if named is not None:
            head.cells[head.cells.index(one)] = cell_of(one, named[1])
    head.cells = [c for c in head.cells if id(c) not in taken]


def _put_in_rows(lines: Sequence[Line]) -> Iterator[Line]:
    """Make one row of two that are named for the answers of one test; yield the emptied ones."""
    for line, below in pairwise(lines):
        a, b = (_named(x.cells[0].text) if len(x.cells) > _SEVERAL else None for x in (line, below))
        if a is None or b is None or a[0] != b[0]:
            continue
        boxes = [line.cells[1:], below.cells[1:]]
        plain = all(BOX.fullmatch(c.text) for row in boxes for c in row)
        if not plain or len(boxes[0]) != len(boxes[1]) or kind_of(a[2]) == kind_of(b[2]):
            continue
        answers = [_of_two(x, y, a[2], b[2]) for x, y in zip(*boxes, strict=True)]
        if None in answers:
            continue
        cells = zip(boxes[0], boxes[1], answers, strict=True)
        line.cells = [
            cell_of(line.cells[0], a[1]),
            *(cell_of(x if w == a[2] else _at(y, x), w or "") for x, y, w in cells),
        ]
        yield below


def _open_rows(lines: Sequence[Line], context: Context) -> Iterator[Line]:
    """Tell the rows with boxes for several samples of which no answers were made."""
    for line in lines:
        boxes = line.cells[1:]
        if len(boxes) < _SEVERAL or not all(BOX.fullmatch(c.text) for c in boxes):
            continue
        if _named(line.cells[0].text) is not None:
            context.lost(join(line.cells), "ticks_unclear")
            yield line


def _at(mark: Cell, column: Cell) -> Cell:
    """Return a mark of the row below in its column."""
    return Cell(mark.text, (column.left, mark.top, column.right, mark.bottom), column.line, (),
                mark.source)  # fmt: skip


def _of_two(one: Cell, other: Cell, first: str, second: str) -> str | None:
    """Return the answer that is ticked of two; None: neither is, or both are."""
    full = [bool(_MARK.fullmatch(c.text)) for c in (one, other)]
    return None if full[0] == full[1] else first if full[0] else second
