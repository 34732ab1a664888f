"""The columns of a table on a page, from white gaps that persist over its rows.

A sheet's columns are known; a page's are found by sweeping over the extents of all cells. Where one
row reaches into the next column the gap still counts, if the rest of the table keeps it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from ..geometry import Word
from .cells import Cell, Line, of_words
from .clipped import part_at_edges
from .edges import SIGNS, by_edges, is_figure, is_figure_part
from .tokens import is_denial, value_of

_PROUD = 0.06
"""The share of rows that may reach across a gap."""
_TOUCHING = 2.0
"""White between two columns is wider."""
_FAR_RIGHT = 9000.0
"""The last of the columns between heads has no other end."""
_SLIVER = 6.0
"""A column is wider, unless its cells are single digits apart from their neighbours."""


class Column:
    """One column: its extent, the cells of its head, and the head's text."""

    __slots__ = ("head", "head_cells", "left", "right")

    def __init__(self, left: float, right: float) -> None:
        self.left = left
        self.right = right
        self.head_cells: list[Cell] = []
        self.head = ""

    def __repr__(self) -> str:
        return f"Column({self.left:.0f}-{self.right:.0f}, {self.head!r})"


def page_columns(
    rows: Sequence[Line], heads: Sequence[Cell], stack: Sequence[Line] = ()
) -> list[Column]:
    """Return the columns under these heads (the cells of the lowest head line)."""
    extents = [(c.left, c.right) for row in rows for c in row.cells]
    allowed = max(1, int(_PROUD * len(rows))) if len(rows) >= 8 else 0
    columns = _gaps_kept(extents, allowed)
    if any(sum(_overlap(h, c) > 1 for c in columns) > 2 for h in heads):
        return columns  # heads set so near each other that they look like one say nothing of gaps
    for head in heads:
        if not any(_overlap(head, column) > 0 for column in columns):
            columns.append(_under(head, heads, columns, rows))
    columns.sort(key=lambda c: c.left)
    stretches = by_edges([*rows, *stack], heads, len(columns))
    if stretches is None and len(heads) > 1:
        before = [row.cells for row in rows]
        if part_at_edges(rows, heads):
            stretches = by_edges([*rows, *stack], heads, len(columns))
            if stretches is None:
                for row, cells in zip(rows, before, strict=True):
                    row.cells = cells
    if stretches is not None:
        return [Column(*pair) for pair in stretches]
    columns = _split_under_heads(columns, heads, rows)
    columns = _merge_halves(columns, heads, rows)
    _reach_to_heads(columns, heads)
    return columns


def at_heads(columns: Sequence[Column]) -> bool:
    """Whether columns go from one head's left edge to the next, as in a printed spreadsheet."""
    return len(columns) > 1 and columns[-1].right > _FAR_RIGHT


def sheet_columns(rows: Sequence[Line], heads: Sequence[Line]) -> list[Column]:
    """Return one column for each column of the sheet that holds text."""
    used = {int(c.left) for line in (*heads, *rows) for c in line.cells}
    return [Column(float(n), float(n + 1)) for n in sorted(used)]


def _gaps_kept(extents: Sequence[tuple[float, float]], allowed: int) -> list[Column]:
    """Return the columns between gaps that all but a few rows keep; sparse columns too."""
    columns = [Column(*pair) for pair in _sweep(extents, allowed)]
    if allowed:
        columns = _rejoined(columns, extents, allowed)
        sparse = [
            (a, b)
            for a, b in extents
            if not any(min(b, c.right) - max(a, c.left) > 0 for c in columns)
        ]
        columns.extend(Column(*pair) for pair in _sweep(sparse, 0))
        columns.sort(key=lambda c: c.left)
    return columns


def _rejoined(
    columns: list[Column], extents: Sequence[tuple[float, float]], allowed: int
) -> list[Column]:
    """Join a sliver to the column that it touches: a few long names reached over its edge."""
    whole: list[Column] = []
    for column in columns:
        last = whole[-1] if whole else None
        if last is not None and column.left - last.right < _TOUCHING:
            narrow = min(last, column, key=lambda c: c.right - c.left)
            here = sum(a < narrow.right and b > narrow.left for a, b in extents)
            if narrow.right - narrow.left < _SLIVER and here <= allowed + 2:
                last.right = column.right
                continue
        whole.append(column)
    return whole


def _sweep(extents: Sequence[tuple[float, float]], allowed: int) -> list[tuple[float, float]]:
    """Return the stretches covered by more than ``allowed`` cells."""
    events = sorted([(a + 0.2, 1) for a, _ in extents] + [(b - 0.2, -1) for _, b in extents])
    found: list[tuple[float, float]] = []
    depth, start = 0, 0.0
    for at, step in events:
        before, depth = depth, depth + step
        if before <= allowed < depth:
            start = at
        elif depth <= allowed < before and at > start:
            found.append((start, at))
    return found


def _overlap(cell: Cell, column: Column) -> float:
    return min(cell.right, column.right) - max(cell.left, column.left)


def _under(
    head: Cell, heads: Sequence[Cell], columns: list[Column], rows: Sequence[Line]
) -> Column:
    """Return a column for a head that stands over none.

    Its numbers may touch the next column: right-aligned figures before left-aligned units look like
    one cell, "9.8 ug/L". Then that column is cut behind the figures.
    """
    behind = min((c for c in columns if c.left >= head.left), key=lambda c: c.left, default=None)
    before = max((c for c in columns if c.right <= head.right), key=lambda c: c.right, default=None)
    if behind is not None and any(_overlap(h, behind) > 0 for h in heads):
        cut = _behind_figures(behind, head, rows)
        if cut is not None:
            left = Column(min(head.left, cut[0]), cut[1])
            behind.left = cut[2]
            return left
    near = [c for c in (behind, before) if c is not None and not _headed(c, head, heads)]
    if near:
        closest = min(near, key=lambda c: max(c.left - head.right, head.left - c.right))
        columns.remove(closest)
        return Column(min(closest.left, head.left), max(closest.right, head.right))
    return Column(head.left, head.right)


def _headed(column: Column, head: Cell, heads: Sequence[Cell]) -> bool:
    """Whether a column has a head already, or another head stands between it and this one."""
    low, high = min(head.right, column.right), max(head.left, column.left)
    others = [h for h in heads if h is not head]
    return any(_overlap(h, column) > 0 or (low <= h.left and h.right <= high) for h in others)


def _behind_figures(
    column: Column, head: Cell, rows: Sequence[Line]
) -> tuple[float, float, float] | None:
    """Return where the figures begin and end and where the rest begins, if most rows have both."""
    left, right, rest, filled = [], [], [], 0
    for row in rows:
        for cell in row.cells:
            if _overlap(cell, column) <= 0:
                continue
            filled += 1
            words = cell.words
            if len(words) > 1 and is_figure(words[0].text) and not is_figure_part(words[1].text):
                at = 2 if words[0].text in "<>" and len(words) > 2 else 1
                left.append(words[0].left)
                right.append(words[at - 1].right)
                rest.append(words[at].left)
    if filled == 0 or len(left) < 0.6 * filled or max(right) > min(rest) + 0.5:
        return None
    return (min(left), max(right), min(rest)) if min(rest) > head.left else None


def _split_under_heads(
    columns: list[Column], heads: Sequence[Cell], rows: Sequence[Line]
) -> list[Column]:
    """Split a column that several heads stand over, where its words leave a gap."""
    done = []
    for column in columns:
        over = [h for h in heads if _overlap(h, column) > 0 and _home(h, columns) is column]
        over.sort(key=lambda h: h.left)
        rest = column
        for a, b in pairwise(over):
            at = _thinnest(rest, a, b, rows)
            if at is not None:
                left = Column(rest.left, at)
                done.append(left)
                rest = Column(at, rest.right)
        done.append(rest)
    return done


def _home(head: Cell, columns: Sequence[Column]) -> Column:
    """Return the column that a head covers most."""
    return max(columns, key=lambda c: _overlap(head, c))


def _merge_halves(
    columns: list[Column], heads: Sequence[Cell], rows: Sequence[Line]
) -> list[Column]:
    """Join a column without a head to its neighbour where their cells take turns.

    Words on the left and numbers on the right of one column look like two.
    """
    if len(columns) < 3 or not heads:
        return columns
    filled = [frozenset(i for i, row in enumerate(rows) if _fills(row, c)) for c in columns]
    headed = [any(_overlap(h, c) > 0 for h in heads) for c in columns]
    at = 0
    while at < len(columns):
        options = [
            n
            for n in (at - 1, at + 1)
            if not headed[at]
            and filled[at]
            and 0 <= n < len(columns)
            and not filled[n] & filled[at]
            and not _between(columns[at], columns[n], heads)
        ]
        if options:
            best = max(options, key=lambda n: (headed[n], len(filled[n])))
            low, high = min(at, best), max(at, best)
            merged = Column(columns[low].left, columns[high].right)
            columns[low : high + 1] = [merged]
            filled[low : high + 1] = [filled[low] | filled[high]]
            headed[low : high + 1] = [headed[low] or headed[high]]
            at = max(low - 1, 0)
        else:
            at += 1
    return columns


def _between(a: Column, b: Column, heads: Sequence[Cell]) -> bool:
    """Whether some head stands between two columns."""
    left, right = (a, b) if a.left < b.left else (b, a)
    return any(left.right <= h.left and h.right <= right.left for h in heads)


def _fills(row: Line, column: Column) -> bool:
    return any(_overlap(c, column) > 0.8 for c in row.cells)


def _reach_to_heads(columns: list[Column], heads: Sequence[Cell]) -> None:
    """Widen columns to their heads, so that further lines of the head find them."""
    for head in heads:
        home = _home(head, columns)
        at = columns.index(home)
        low = columns[at - 1].right if at else 0.0
        high = columns[at + 1].left if at + 1 < len(columns) else 1e9
        home.left = min(home.left, max(head.left, low))
        home.right = max(home.right, min(head.right, high))


def _thinnest(column: Column, a: Cell, b: Cell, rows: Sequence[Line]) -> float | None:
    """Return where between two heads fewest words stand; None where more than a quarter do."""
    words = [
        (w.left, w.right)
        for row in rows
        for c in row.cells
        if c.right > column.left and c.left < column.right
        for w in c.words
    ]
    low, high = (a.left + a.right) / 2, (b.left + b.right) / 2
    spots = sorted({x for pair in words for x in (pair[0] - 0.5, pair[1] + 0.5) if low < x < high})
    spots = spots or [(a.right + b.left) / 2]
    crossed = [
        (sum(left < x < right for left, right in words), abs(x - (a.right + b.left) / 2), x)
        for x in spots
    ]
    fewest, _, at = min(crossed)
    return at if fewest <= max(0.25 * len(rows), 0) else None


def assign(line: Line, columns: Sequence[Column]) -> list[Cell | None]:
    """Return the line's cells by column; a cell that spans empty columns is parted at the gaps."""
    placed: list[list[Cell]] = [[] for _ in columns]
    crossing: list[tuple[Cell, list[int]]] = []
    extents = [(c.left, c.right) for c in columns]
    for cell in line.cells:
        left, right = cell.left + 0.8, cell.right - 0.8
        over = [
            i
            for i, (start, end) in enumerate(extents)
            if start < right and end > left and _overlap(cell, columns[i]) > 0.8
        ]
        if len(over) == 1:
            placed[over[0]].append(cell)
        elif not over:
            placed[_nearest(cell, columns)].append(cell)
        else:
            crossing.append((cell, over))
    for cell, over in crossing:
        _part(cell, over, columns, placed)
    return [_glue(cells) for cells in placed]


def _glue(cells: list[Cell]) -> Cell | None:
    if len(cells) <= 1:
        return cells[0] if cells else None
    cells.sort(key=lambda c: c.left)
    words = tuple(w for c in cells for w in c.words)
    if words:
        whole = of_words(words, cells[0].line)
        whole.guessed = any(c.guessed for c in cells)
        return whole
    first = cells[0]
    box = (first.left, first.top, cells[-1].right, first.bottom)
    return Cell(" ".join(c.text for c in cells), box, first.line, (), first.source)


def _nearest(cell: Cell, columns: Sequence[Column]) -> int:
    gaps = [max(c.left - cell.right, cell.left - c.right) for c in columns]
    return gaps.index(min(gaps))


def _part(cell: Cell, over: list[int], columns: Sequence[Column], placed: list[list[Cell]]) -> None:
    """Share the words of a crossing cell among the columns that have nothing of their own."""
    free = [over[0], *(i for i in over[1:] if not placed[i])]
    if is_denial(cell.text):  # never "Detected" without its "None"
        best = max(over, key=lambda i: (not placed[i], _overlap(cell, columns[i])))
        placed[best].append(cell)
        return
    if placed[over[0]] and len(free) == 2 and value_of(cell.text) is not None:
        placed[free[1]].append(cell)  # a wide answer that begins under a wide head
        return
    if len(cell.words) < 2 or len(free) == 1:
        best = max(over, key=lambda i: _overlap(cell, columns[i]))
        placed[best if not placed[best] else over[0]].append(cell)
        return
    groups = _widest_gaps(cell, len(free))
    if groups is not None:
        for index, words in zip(free, groups, strict=True):
            placed[index].append(of_words(words, cell.line))
        return
    shares: dict[int, list[int]] = {}
    for at, word in enumerate(cell.words):
        middle = (word.left + word.right) / 2
        if word.text in SIGNS and at + 1 < len(cell.words):
            middle = (cell.words[at + 1].left + cell.words[at + 1].right) / 2
        near = min(free, key=lambda i: max(columns[i].left - middle, middle - columns[i].right))
        shares.setdefault(near, []).append(at)
    for index, positions in shares.items():
        part = of_words(tuple(cell.words[p] for p in positions), cell.line)
        part.guessed = len(shares) > 1
        placed[index].append(part)


def _widest_gaps(cell: Cell, count: int) -> list[tuple[Word, ...]] | None:
    """Part words into so many groups at gaps that are clearly wider than the rest; else None."""
    words = cell.words
    gaps = sorted(
        ((b.left - a.right, at) for at, (a, b) in enumerate(pairwise(words), 1)), reverse=True
    )
    wide, narrow = gaps[: count - 1], gaps[count - 1 :]
    if len(wide) < count - 1 or (narrow and wide[-1][0] < 1.3 * narrow[0][0]):
        return None
    cuts = [0, *sorted(at for _, at in wide), len(words)]
    return [words[a:b] for a, b in pairwise(cuts)]
