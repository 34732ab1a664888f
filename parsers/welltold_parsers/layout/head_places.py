"""Where the heads of tables begin on a page or in a sheet, and where the rows under them begin."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from .cells import Cell, Line
from .dates import is_date, is_hour
from .facts_above import below_facts
from .head_cells import overlap
from .heads import HeadLine, find_head
from .key_heads import key_head
from .merged_heads import completes_merged
from .sheet_heads import sheet_head
from .stacked_heads import at_rest, stack_above
from .tokens import unit_of, value_of
from .unit_heads import unit_head
from .words import head_of, split_unit

_YEAR = re.compile(r"(?:19|20)\d\d")
_BLANK_ROWS = 2
"""A head of a sheet goes on in the next row, or behind one that is empty."""
_SAMPLES = 2
_REACH = 0.1
"""How far a line reaches into the head's, as a share of their height."""
_STACKED = 5
"""Lines from the first head of a stack to the last."""


def heads_of(lines: Sequence[Line]) -> list[tuple[int, HeadLine]]:
    """Return the heads in order, each with the place of the first line stacked over it."""
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


def body_below(lines: Sequence[Line], main: HeadLine, end: int) -> int:
    """Return where the body begins: behind lines that only complete the head."""
    at = main.at + 1
    while at < end and at <= main.at + 4 and _completes(lines, at, main):
        at += 1
    return at


def _completes(lines: Sequence[Line], at: int, head: HeadLine) -> bool:
    line, main, before = lines[at], lines[head.at], lines[at - 1]
    if completes_merged(line, main) or _set_lower(line, main):
        return True
    if head.kind == "across" and line.sheet is None and line.page == main.page:
        close = line.top - before.bottom < 0.6 * main.height
        told = (is_date(c.text) or value_of(c.text) is not None for c in line.cells)
        return close and not any(told)
    if head.at and at == head.at + 1 and _names_samples(line, lines[head.at - 1], main):
        return True
    return _names_more(line, before, main) or _under_each(line, before, main)


def _set_lower(line: Line, main: Line) -> bool:
    """Whether a line reaches up into a head's own and has other heads beside those of the head.

    Heads of one line stand in the middle of a box beside others of two: "Constituent" beside
    "Sample" over "Date".
    """
    if line.sheet is not None or line.page != main.page or at_rest(line):
        return False
    if main.bottom - line.top < _REACH * min(line.height, main.height):
        return False
    beside = not any(
        min(c.right, m.right) > max(c.left, m.left) for c in line.cells for m in main.cells
    )
    return beside and not any(value_of(c.text) is not None or is_date(c.text) for c in line.cells)


def _names_samples(line: Line, upper: Line, main: Line) -> bool:
    """Whether a line below a head names the samples whose numbers stand over it, one by one."""
    if line.sheet is not None or not line.page == upper.page == main.page or at_rest(line):
        return False
    if len(line.cells) < _SAMPLES or len(line.cells) != len(upper.cells):
        return False
    pairs = list(zip(line.cells, upper.cells, strict=True))
    if any(overlap(c, main.cells[0]) or not overlap(c, number) for c, number in pairs):
        return False
    numbers = all(any(x.isdigit() for x in n.text) and " " not in n.text for n in upper.cells)
    return numbers and not any(
        value_of(c.text) is not None or unit_of(c.text) is not None or is_date(c.text)
        for c in line.cells
    )


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
