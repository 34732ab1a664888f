"""Lists that go on beside themselves: two or three columns of rows under one head or none.

    Benzene    ND    Toluene    0.5            Tag   Fountain   Pb     F09  Inlet Park   4.02
    Bromoform  1.1   Styrene    ND             F01   Ash Park   7.33   F10  Lark Park    1.90

What stands on the right is set below what stands on the left, in its columns, and read as one list.
Tables with a head of their own on each side are left alone: they may have other columns.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from statistics import median

from ..geometry import Word
from .cells import Cell, Line
from .dates import is_date
from .head_cells import roles_in
from .headings import title_with_unit
from .tokens import analyte_in, is_method, is_qualifier, unit_of, value_of

_FEWEST = 4
"""So many rows with both sides make a folded list."""
_MOST = 3
"""Lists beside each other."""
_ABOVE = 3
"""Lines above a list that may be its head."""
_SHARE = 0.7
_WORDS = 0.3
"""So large a share of the words on the right that also stand on the left shows one kind of text."""
_GAP = 4.0


def unfolded(lines: Sequence[Line]) -> Sequence[Line]:
    """Return the lines of a page with what stands beside a list set below it."""
    if not lines or lines[0].sheet is not None or lines[0].plain_text:
        return lines
    for _ in range(_MOST - 1):
        found = _fold(lines)
        if found is None:
            return lines
        first, last, edge = found
        lines = [*lines[:first], *_below(lines[first:last], edge), *lines[last:]]
    return lines


def _fold(lines: Sequence[Line]) -> tuple[int, int, float] | None:
    """Return the first row of a folded list, behind its last, and where its right side begins."""
    kinds = [_kinds(line) for line in lines]
    both = [at for at, kind in enumerate(kinds) if _half(kind)]
    if len(both) < _FEWEST:
        return None
    shape, count = Counter(kinds[at] for at in both).most_common(1)[0]
    rows = [at for at in both if kinds[at] == shape]
    if count < max(_FEWEST, _SHARE * len(both)):
        return None
    half = _half(shape)
    left = max(lines[at].cells[half - 1].right for at in rows)
    right = min(lines[at].cells[half].left for at in rows)
    if right - left < _GAP or not _alike(lines, rows, half):
        return None
    first, last = rows[0], rows[-1] + 1
    edge = (left + right) / 2
    while last < len(lines) and _only_left(lines[last], lines[last - 1], kinds[last], shape, edge):
        last += 1
    if first and _begins_right(lines[first - 1], lines[first], shape[half:], edge):
        first -= 1
    if first and _titles(lines[first - 1], lines[first], edge):
        first -= 1
    crossed = any(c.left < edge < c.right for line in lines[first:last] for c in line.cells)
    return None if crossed or _headed(lines, first, edge) else (first, last, edge)


def _kinds(line: Line) -> str:
    """Return one letter a cell: value, unit, other thing of a row, or text."""
    return "".join(map(_kind, line.cells)) if 4 <= len(line.cells) <= 12 else ""


def _kind(cell: Cell) -> str:
    text = cell.text
    if value_of(text) is not None and unit_of(text) is None:
        return "v"
    if unit_of(text) is not None and analyte_in(text) is None:
        return "u"
    other = is_date(text) or is_method(text) or (is_qualifier(text) and not analyte_in(text))
    return "o" if other else "t"


def _half(kinds: str) -> int:
    """Return how many cells one list has, where a row holds two or three alike; else 0."""
    for times in range(_MOST, 1, -1):
        size, rest = divmod(len(kinds), times)
        piece = kinds[:size]
        if not rest and kinds == piece * times and piece[:1] == "t" and "v" in piece:
            return size
    return 0


def _alike(lines: Sequence[Line], rows: Sequence[int], half: int) -> bool:
    """Whether the texts on both sides are of one kind: names of tests, or places and numbers."""
    ours = [lines[at].cells[0].text for at in rows]
    theirs = [lines[at].cells[half].text for at in rows]
    named = [sum(analyte_in(t) is not None for t in side) for side in (ours, theirs)]
    if max(named) > 0:
        return min(named) >= _SHARE * 0.7 * len(rows)
    if Counter(map(_shape, ours)).most_common(1)[0][0] == _common_number(theirs):
        return True
    left = {w.lower() for at in rows for c in lines[at].cells[:half] for w in c.text.split()}
    right = [w.lower() for at in rows for c in lines[at].cells[half:] for w in c.text.split()]
    plain = [w for w in right if w.isalpha()]
    return bool(plain) and sum(w in left for w in plain) >= _WORDS * len(plain)


def _shape(text: str) -> str:
    return re.sub(r"[a-z]+", "a", re.sub(r"\d+", "0", text))


def _common_number(texts: Sequence[str]) -> str | None:
    """Return the shape that most numbers of a side have; None where they are no numbers."""
    shape, count = Counter(map(_shape, texts)).most_common(1)[0]
    return shape if "0" in shape and count >= 0.6 * len(texts) else None


def _only_left(line: Line, above: Line, kinds: str, shape: str, edge: float) -> bool:
    """Whether a line right below goes on with the left list, which is the longer one."""
    cells = line.cells
    if line.top - above.bottom > 1.2 * above.height or len(cells) < 2:
        return False
    inside = all(c.right < edge for c in cells) or kinds == shape
    return inside and any(_kind(c) == "v" for c in cells) and _kind(cells[0]) == "t"


def _begins_right(line: Line, below: Line, shape: str, edge: float) -> bool:
    """Whether the right list begins beside the head of the left one."""
    right = "".join(_kind(c) for c in line.cells if c.left > edge)
    return right == shape and below.top - line.bottom < 1.2 * line.height


def _titles(line: Line, below: Line, edge: float) -> bool:
    """Whether a line holds one title with its unit for each list: "METALS  results in ug/L"."""
    if line.page != below.page or below.top - line.bottom > 2 * below.height:
        return False
    sides = [[c for c in line.cells if c.right < edge], [c for c in line.cells if c.left > edge]]
    texts = [" ".join(c.text for c in side) for side in sides]
    whole = sum(map(len, sides)) == len(line.cells)
    return whole and all(title_with_unit(text) is not None for text in texts)


def _headed(lines: Sequence[Line], first: int, edge: float) -> bool:
    """Whether the right side has a head of its own."""
    above = lines[max(0, first - _ABOVE) : first]
    return any(roles_in(c) for line in above for c in line.cells if c.left > edge)


def _below(lines: Sequence[Line], edge: float) -> list[Line]:
    """Return the left parts of the rows, then the right ones, moved to the columns of the left."""
    pairs = [
        ([c for c in line.cells if c.right < edge], [c for c in line.cells if c.left > edge])
        for line in lines
    ]
    moved = median(b[0].left - a[0].left for a, b in pairs if a and b)
    ours = [_part(line, a, 0.0) for line, (a, _) in zip(lines, pairs, strict=True) if a]
    theirs = [_part(line, b, moved) for line, (_, b) in zip(lines, pairs, strict=True) if b]
    return [*ours, *theirs]


def _part(line: Line, cells: Sequence[Cell], moved: float) -> Line:
    if len(cells) == len(line.cells):
        return line
    part = Line(line.index, page=line.page)
    part.top, part.bottom, part.moved = line.top, line.bottom, line.moved + moved
    part.cells = [_moved(cell, part, moved) for cell in cells]
    return part


def _moved(cell: Cell, line: Line, by: float) -> Cell:
    box = (cell.left - by, cell.top, cell.right - by, cell.bottom)
    words = tuple(
        Word(w.text, w.left - by, w.top, w.right - by, w.bottom, w.confidence) for w in cell.words
    )
    return Cell(cell.text, box, line, words, cell.source)
